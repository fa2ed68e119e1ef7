import { fetchedRecord } from '../fetched-record.js';
import { distance, type Point, type Ring } from '../geometry.js';
import { packedPoints } from '../packed-points.js';
import { localPlane, type Plane } from '../survey/crs/plane.js';
import type { Course, Hole } from './course.js';
import type { LonLat, MapFeature } from './course-map.js';
import type { GroundModel } from './ground.js';
import {
  crossingsOnShot,
  type HazardFigures,
  hazardFigures,
  riseBetween,
} from './hazard-figures.js';
import { featuresOfHole, type OtherLines } from './hole-features.js';
import { type GapFigures, gapsOf, type HeightAt } from './hole-gaps.js';
import { type Landing, landingOf, runOutOf } from './landing.js';
import { type HeightAlong, lineHeights } from './line-heights.js';
import {
  centreOf,
  lineFrom,
  onMap,
  onPlane,
  type PlayLine,
  placeAlong,
  playLineOf,
  ringOnPlane,
  ringsOf,
  stationOf,
  trueDistance,
  trueLength,
} from './play-line.js';

export interface TeeFigures {
  readonly name: string;
  readonly at: LonLat;
  /** Along the line of play to the middle of the green, metres. */
  readonly length: number;
  /** From the tee up to the middle of the green, metres; null without a ground model. */
  readonly rise: number | null;
}

export interface LandmarkFigures {
  readonly name: string;
  readonly sign: string;
  readonly at: LonLat;
  readonly along: number;
  readonly off: number;
  /** To the green on the straight line to its middle, metres; front and back null without a green. */
  readonly front: number | null;
  readonly middle: number;
  readonly back: number | null;
}

export interface LandingFigures {
  readonly at: LonLat;
  /** Metres along the line of play from its start. */
  readonly along: number;
  /** Whether the tee shot is laid up there, short of a hazard. */
  readonly laidUp: boolean;
  /** The fairway's edges there, left and right; null when the line is not on a fairway. */
  readonly across: readonly [LonLat, LonLat] | null;
  readonly width: number | null;
  /** From each tee, straight, metres. */
  readonly fromTees: readonly number[];
  /** From each tee up to it, metres; null without a ground model. */
  readonly rises: readonly (number | null)[];
  /** To the middle of the green along the line of play. */
  readonly toMiddle: number;
  /** From it up to the middle of the green, metres; null without a ground model. */
  readonly riseToMiddle: number | null;
}

export interface RunOutFigures {
  readonly at: LonLat;
  /** From each tee; null where the fairway does not end within a tee shot. */
  readonly fromTees: readonly (number | null)[];
}

/** All the figures of one hole, lengths in metres on the ellipsoid, places in degrees. */
export interface HoleFigures {
  readonly id: string;
  readonly name: string;
  readonly par: number | null;
  readonly strokeIndex: number | null;
  /** The loop that it belongs to; null or left out where the course has only one. */
  readonly loop?: string | null;
  readonly line: readonly LonLat[];
  readonly green: readonly LonLat[] | null;
  readonly greenMiddle: LonLat;
  readonly tees: readonly TeeFigures[];
  readonly hazards: readonly HazardFigures[];
  readonly landmarks: readonly LandmarkFigures[];
  readonly landing: LandingFigures | null;
  readonly runOut: RunOutFigures | null;
  readonly gaps: readonly GapFigures[];
  /** The ground along the line of play over the rearmost tee; none without a ground model. */
  readonly heights: readonly HeightAlong[];
  readonly features: readonly MapFeature[];
}

/** Between two heights along the line of play, metres. */
const PROFILE_STEP = 8;

/** The front and back of the green on the straight line from a place to its middle. */
const greenFrom = (
  plane: Plane,
  from: Point,
  middle: Point,
  green: Ring | null,
): { front: number | null; middle: number; back: number | null } => {
  const reach = distance(from, middle);
  const toMiddle = trueDistance(plane, from, middle);
  if (green === null || reach === 0) return { front: null, middle: toMiddle, back: null };
  const past = placeAlong([from, middle], reach + 120).at;
  const crossings = crossingsOnShot(green, from, past);
  if (crossings.length === 0) return { front: null, middle: toMiddle, back: null };
  const at = (along: number): number =>
    trueDistance(plane, from, placeAlong([from, middle], along).at);
  return {
    front: crossings.length === 1 ? 0 : at(crossings[0]),
    middle: toMiddle,
    back: at(crossings[crossings.length - 1]),
  };
};

const signOf = (feature: MapFeature): string =>
  feature.kind === 'tree' ? 'tree' : (feature.tags.landmark ?? 'post');

const landmarksOf = (
  plane: Plane,
  line: readonly Point[],
  middle: Point,
  green: Ring | null,
  features: readonly MapFeature[],
): LandmarkFigures[] =>
  features.flatMap((feature) => {
    if (feature.shape.kind !== 'point' || feature.name === null) return [];
    if (feature.kind !== 'landmark' && feature.kind !== 'tree') return [];
    const at = onPlane(plane, feature.shape.at);
    const station = stationOf(line, at);
    return [
      {
        name: feature.name,
        sign: signOf(feature),
        at: feature.shape.at,
        ...station,
        ...greenFrom(plane, at, middle, green),
      },
    ];
  });

/** A tee with its place in the plane of the hole. */
interface TeeAtPoint extends Omit<TeeFigures, 'at'> {
  readonly point: Point;
}

/** What stands in the place of a tee where the map has none: the start of the line of play. */
const LINE_START = 'start';

/** The tees, the longest first; where the map has none, the start of the line. */
const teesOf = (
  tees: readonly MapFeature[],
  { plane, points: line }: PlayLine,
  heightAt: GroundModel['heightAt'],
): TeeAtPoint[] => {
  const greenHeight = heightAt(onMap(plane, line[line.length - 1]));
  if (tees.length === 0) {
    const rise = riseBetween(heightAt(onMap(plane, line[0])), greenHeight);
    return [{ name: LINE_START, point: line[0], length: trueLength(plane, line), rise }];
  }
  return tees
    .map((tee, i) => {
      const at = centreOf(plane, tee);
      const height = heightAt(onMap(plane, at));
      return {
        name: tee.name ?? tee.tags.tee ?? `Tee ${i + 1}`,
        point: at,
        length: trueLength(plane, lineFrom(line, at)),
        rise: riseBetween(height, greenHeight),
      };
    })
    .sort((a, b) => b.length - a.length || (a.name < b.name ? -1 : 1));
};

const landingFigures = (
  { plane, points: line }: PlayLine,
  { at, along, laidUp, across, width }: Landing,
  tees: readonly Point[],
  heightAt: HeightAt,
): LandingFigures => ({
  at: onMap(plane, at),
  along,
  laidUp,
  across: across === null ? null : [onMap(plane, across[0]), onMap(plane, across[1])],
  width,
  fromTees: tees.map((tee) => trueDistance(plane, tee, at)),
  rises: tees.map((tee) => riseBetween(heightAt(tee), heightAt(at))),
  toMiddle: trueLength(plane, lineFrom(line, at)),
  riseToMiddle: riseBetween(heightAt(at), heightAt(line[line.length - 1])),
});

const runOutFigures = (
  plane: Plane,
  landing: Landing,
  tees: readonly Point[],
  fairways: readonly Ring[],
): RunOutFigures | null => {
  const runOuts = tees.map((tee) => runOutOf(plane, tee, landing.at, fairways));
  const first = runOuts.find((one) => one !== null);
  return first == null
    ? null
    : { at: onMap(plane, first.at), fromTees: runOuts.map((one) => one?.length ?? null) };
};

/** The line of play of a hole's figures, in a plane of its own. */
export const holePlane = ({ line }: Pick<HoleFigures, 'line'>): PlayLine => {
  const [first, last] = [line[0], line[line.length - 1]];
  const plane = localPlane((first[0] + last[0]) / 2, (first[1] + last[1]) / 2);
  return { plane, points: line.map((at) => onPlane(plane, at)) };
};

/**
 * The figures of one hole; null when the map has no line of play for it (a practice green).
 * `lines` are the lines of the whole course (`linesOfCourse`).
 */
export const holeFigures = (
  course: Pick<Course, 'map'>,
  hole: Hole,
  lines: OtherLines,
  ground: GroundModel | null,
): HoleFigures | null => {
  const play = playLineOf(hole.site);
  if (play === null || hole.site.line === null) return null;
  const { plane, points: line } = play;
  const features = featuresOfHole(course.map, hole.id, hole.site, play, lines);
  const green = hole.site.green === null ? null : ringOnPlane(plane, hole.site.green);
  const middle = line[line.length - 1];
  const middleOnMap = onMap(plane, middle);
  const tees = teesOf(hole.site.tees, play, ground?.heightAt ?? (() => null));
  const heightAt: HeightAt = (at) => ground?.heightAt(onMap(plane, at)) ?? null;
  const fairways = ringsOf(plane, features, ['fairway']);
  const teePoints = tees.map((tee) => tee.point);
  const inTheWay = ringsOf(plane, features, ['bunker', 'water']);
  const landing = landingOf(plane, line, hole.par, fairways, inTheWay);
  const target = landing?.at ?? middle;
  const hazards = features
    .flatMap((feature) => {
      const figures = hazardFigures(feature, {
        plane,
        line,
        green,
        greenCentre: middle,
        tees: teePoints,
        target,
        heightAt,
      });
      return figures === null ? [] : [figures];
    })
    .sort((a, b) => a.along - b.along || a.off - b.off);
  const figures = {
    id: hole.id,
    name: hole.name,
    par: hole.par,
    strokeIndex: hole.strokeIndex,
    loop: hole.loop ?? null,
    line: line.map((p) => onMap(plane, p)),
    greenMiddle: middleOnMap,
    tees: tees.map(({ name, point, length, rise }) => ({
      name,
      at: onMap(plane, point),
      length,
      rise,
    })),
    hazards,
    landmarks: landmarksOf(plane, line, middle, green, features),
    landing: landing === null ? null : landingFigures(play, landing, teePoints, heightAt),
    runOut: landing === null ? null : runOutFigures(plane, landing, teePoints, fairways),
    heights:
      ground === null ? [] : lineHeights(line, heightAt, heightAt(teePoints[0]), PROFILE_STEP),
    gaps: landing === null ? [] : gapsOf(play, hazards, landing.along, green, heightAt),
    features,
  };
  if (green === null) return { ...figures, green };
  return fetchedRecord(figures, { green: packedPoints(green.map((p) => onMap(plane, p))) });
};
