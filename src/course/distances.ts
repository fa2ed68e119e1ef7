import { distance, type Point } from '../geometry.js';
import type { LonLat, MapFeature } from './course-map.js';
import type { GroundModel } from './ground.js';
import { crossingsOnShot, finePoints, nearestAndFarthest } from './hazard-figures.js';
import { type HoleFigures, holePlane } from './hole-figures.js';
import { fairwayAcross } from './landing.js';
import { type HeightAlong, lineHeights } from './line-heights.js';
import {
  onMap,
  onPlane,
  type PlayLine,
  placeAlong,
  ringOnPlane,
  ringsOf,
  stationOf,
  trueDistance,
} from './play-line.js';

/** A straight distance, with what the ground does to it. */
export interface Shot {
  /** On the ellipsoid, metres. */
  readonly length: number;
  /** From where it starts up to where it ends, metres; null without a ground model. */
  readonly rise: number | null;
  /**
   * What it plays as: the rise counts once, as for a ball that comes down at 45 degrees (plane geometry; that
   * an iron comes down so is common practice, no source).
   */
  readonly playsAs: number | null;
}

export interface HazardShot {
  readonly feature: MapFeature;
  readonly kind: 'bunker' | 'water';
  readonly side: 'left' | 'right' | 'across' | 'behind';
  readonly near: Shot;
  readonly far: Shot;
}

/** All that a player asks from one place of a hole. */
export interface Distances {
  readonly at: LonLat;
  /** Along the line of play from its start, and to its right, metres. */
  readonly along: number;
  readonly off: number;
  readonly front: Shot | null;
  readonly middle: Shot;
  readonly back: Shot | null;
  /** To the landing place of the tee shot, where it lies ahead; whether that is laid up short of a hazard. */
  readonly landing: (Shot & { readonly laidUp: boolean }) | null;
  /** Nearest first. */
  readonly hazards: readonly HazardShot[];
}

/** A hazard whose middle lies so near to the straight way is across it, metres. */
const ACROSS = 8;
/** What lies farther than this beside the line of play is no part of the hole: a stream goes on through others, metres. */
const BESIDE = 60;

const shotOf = (
  plane: PlayLine['plane'],
  from: Point,
  to: Point,
  ground: GroundModel | null,
): Shot => {
  const length = trueDistance(plane, from, to);
  const start = ground?.heightAt(onMap(plane, from)) ?? null;
  const end = ground?.heightAt(onMap(plane, to)) ?? null;
  const rise = start === null || end === null ? null : end - start;
  return { length, rise, playsAs: rise === null ? null : length + rise };
};

/** The edges of a hazard on the straight way to its middle: where it is reached and where it is carried; else its nearest and farthest point. */
const hazardShot = (
  { plane, points: line }: PlayLine,
  from: Point,
  target: Point,
  feature: MapFeature,
  ground: GroundModel | null,
): HazardShot | null => {
  const { kind } = feature;
  if (kind !== 'bunker' && kind !== 'water') return null;
  const ring = ringOnPlane(plane, feature);
  if (ring.length < 3) return null;
  const all = finePoints(ring);
  const onHole = all.filter((p) => Math.abs(stationOf(line, p).off) < BESIDE);
  const points = onHole.length === 0 ? all : onHole;
  const [nearest, farthest] = nearestAndFarthest(points, from);
  const reach = distance(from, target);
  const ahead = placeAlong([from, target], reach + 400).at;
  const crossings = reach === 0 ? [] : crossingsOnShot(ring, from, ahead);
  const [near, far] =
    crossings.length > 1
      ? [crossings[0], crossings[crossings.length - 1]].map((d) => placeAlong([from, ahead], d).at)
      : [nearest, farthest];
  const middle: Point = [
    points.reduce((sum, p) => sum + p[0], 0) / points.length,
    points.reduce((sum, p) => sum + p[1], 0) / points.length,
  ];
  const { off } = stationOf([from, ahead], middle);
  const onward =
    (middle[0] - from[0]) * (target[0] - from[0]) + (middle[1] - from[1]) * (target[1] - from[1]);
  const beside = off < 0 ? 'left' : 'right';
  const onWay = crossings.length > 1 || Math.abs(off) < ACROSS;
  return {
    feature,
    kind,
    side: onward <= 0 ? 'behind' : onWay ? 'across' : beside,
    near: shotOf(plane, from, near, ground),
    far: shotOf(plane, from, far, ground),
  };
};

/** The distances from a place of a hole: to the green on the straight line to its middle, and to each hazard's edges. */
export const distancesFrom = (
  hole: HoleFigures,
  at: LonLat,
  ground: GroundModel | null,
): Distances => {
  const play = holePlane(hole);
  const { plane, points: line } = play;
  const from = onPlane(plane, at);
  const middle = onPlane(plane, hole.greenMiddle);
  const station = stationOf(line, from);
  const reach = distance(from, middle);
  const green = hole.green?.map((p) => onPlane(plane, p)) ?? null;
  const past = reach === 0 ? middle : placeAlong([from, middle], reach + 120).at;
  const crossings = green === null || reach === 0 ? [] : crossingsOnShot(green, from, past);
  const onWay = (d: number): Shot => shotOf(plane, from, placeAlong([from, middle], d).at, ground);
  const hazards = hole.features
    .flatMap((feature) => hazardShot(play, from, middle, feature, ground) ?? [])
    .sort((a, b) => a.near.length - b.near.length);
  return {
    at,
    ...station,
    front: crossings.length < 2 ? null : onWay(crossings[0]),
    middle: shotOf(plane, from, middle, ground),
    back: crossings.length === 0 ? null : onWay(crossings[crossings.length - 1]),
    landing:
      hole.landing === null ||
      stationOf(line, onPlane(plane, hole.landing.at)).along <= station.along
        ? null
        : {
            ...shotOf(plane, from, onPlane(plane, hole.landing.at), ground),
            laidUp: hole.landing.laidUp,
          },
    hazards,
  };
};

/** The fairway across the line of play so far from its start: its width, and how much of it lies to the left and right of the line; null where there is none. */
export const widthAt = (
  hole: HoleFigures,
  along: number,
): { readonly left: number; readonly right: number; readonly width: number } | null => {
  const { plane, points: line } = holePlane(hole);
  const { at, toward } = placeAlong(line, along);
  const fairways = ringsOf(plane, hole.features, ['fairway']);
  const hazards = ringsOf(plane, hole.features, ['bunker', 'water']);
  const across = fairwayAcross(fairways, hazards, at, [toward[1], -toward[0]]);
  return across === null
    ? null
    : {
        left: trueDistance(plane, across[0], at),
        right: trueDistance(plane, at, across[1]),
        width: trueDistance(plane, across[0], across[1]),
      };
};

/** The place so far along the line of play and beside it (to its right), metres. */
export const placeOnHole = (hole: HoleFigures, along: number, off: number): LonLat => {
  const { plane, points: line } = holePlane(hole);
  const { at, toward } = placeAlong(line, along);
  return onMap(plane, [at[0] + off * toward[1], at[1] - off * toward[0]]);
};

/** Heights along the line of play over where it starts, every `step` metres; places without ground are left out. */
export const heightsAlong = (
  hole: HoleFigures,
  ground: GroundModel,
  step: number,
): HeightAlong[] => {
  const { plane, points: line } = holePlane(hole);
  const heightAt = (at: Point): number | null => ground.heightAt(onMap(plane, at));
  return lineHeights(line, heightAt, heightAt(line[0]), step);
};
