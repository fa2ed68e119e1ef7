import type { LonLat } from '../course/course-map.js';
import type { GroundModel } from '../course/ground.js';
import { crossingsOnShot } from '../course/hazard-figures.js';
import { type HoleFigures, holePlane } from '../course/hole-figures.js';
import {
  lineFrom,
  onMap,
  onPlane,
  type PlayLine,
  placeAlong,
  ringOnPlane,
  trueDistance,
  trueLength,
} from '../course/play-line.js';
import { distance, type Point } from '../geometry.js';
import type { TodaysTees } from './todays-tees.js';

/** What today's hole location and tees make of a hole; metres. */
export interface DayDistances {
  /** The tees measured from; null where the map shows none. */
  readonly tees: string | null;
  /**
   * From today's tees along the line of play, whose last leg runs straight through the hole; front and back are
   * the edges of the green on that leg, null where the map has no green.
   */
  readonly front: number | null;
  readonly hole: number;
  readonly back: number | null;
  /** From the tees up to the hole; null without a ground model. */
  readonly rise: number | null;
  /** The last hazard that the leg to the hole crosses, and how far behind its far edge the hole is. */
  readonly past: { readonly kind: 'bunker' | 'water'; readonly length: number } | null;
}

/** A hazard farther before the hole than this is not one that a shot at it carries, metres. */
const CARRIED = 60;

/** The last hazard on the leg before the hole. */
const lastHazard = (
  figures: HoleFigures,
  plane: PlayLine['plane'],
  from: Point,
  to: Point,
): DayDistances['past'] => {
  const reach = distance(from, to);
  let past: DayDistances['past'] = null;
  for (const feature of figures.features) {
    const { kind } = feature;
    if (kind !== 'bunker' && kind !== 'water') continue;
    const ring = ringOnPlane(plane, feature);
    if (ring.length < 3) continue;
    const far = crossingsOnShot(ring, from, to).at(-1);
    if (far === undefined) continue;
    const length = trueDistance(plane, placeAlong([from, to], far).at, to);
    if (reach - far <= CARRIED && length < (past?.length ?? Infinity)) past = { kind, length };
  }
  return past;
};

/** The place where today's hole is measured from: the tees named, else the longest; the line's start where there are none. */
const startOf = (
  figures: HoleFigures,
  plane: PlayLine['plane'],
  name: string | null,
): { readonly tees: string | null; readonly at: Point } => {
  const named = figures.tees.find((tee) => tee.name.toLowerCase() === name?.toLowerCase());
  const tee = named ?? figures.tees[0];
  return tee === undefined
    ? { tees: null, at: onPlane(plane, figures.line[0]) }
    : { tees: tee.name, at: onPlane(plane, tee.at) };
};

/** The distances of a day on one hole; `at` is the hole location. */
export const dayDistances = (
  figures: HoleFigures,
  at: LonLat,
  { name, behind }: TodaysTees,
  ground: GroundModel | null,
): DayDistances => {
  const { plane, points } = holePlane(figures);
  const { tees, at: start } = startOf(figures, plane, name);
  const hole = onPlane(plane, at);
  const line = [...lineFrom(points, start).slice(0, -1), hole];
  const from = line[line.length - 2];
  const reach = distance(from, hole);
  const length = trueLength(plane, line) + behind;
  const green = figures.green?.map((p) => onPlane(plane, p)) ?? null;
  const beyond = placeAlong([from, hole], reach + 120).at;
  const crossings = green === null ? [] : crossingsOnShot(green, from, beyond);
  const toHole = (along: number): number =>
    trueDistance(plane, placeAlong([from, hole], along).at, hole);
  const front = crossings.filter((along) => along <= reach).at(-1);
  const back = crossings.find((along) => along > reach);
  const [low, high] = [start, hole].map((p) => ground?.heightAt(onMap(plane, p)) ?? null);
  return {
    tees,
    front: front === undefined ? null : length - toHole(front),
    hole: length,
    back: back === undefined ? null : length + toHole(back),
    rise: low === null || high === null ? null : high - low,
    past: lastHazard(figures, plane, from, hole),
  };
};
