import { distance, type Point, type Ring } from '../geometry.js';
import type { LonLat } from './course-map.js';
import { crossingsAlong, finePoints, type HazardFigures, riseBetween } from './hazard-figures.js';
import {
  lineFrom,
  onMap,
  type PlayLine,
  placeAlong,
  ringOnPlane,
  stationOf,
  trueLength,
} from './play-line.js';

/** A stretch of the line of play clear of hazards, between the landing area and the green. */
export interface GapFigures {
  readonly from: LonLat;
  readonly to: LonLat;
  /** From its two ends to the middle of the green along the line of play, metres. */
  readonly toMiddle: readonly [from: number, to: number];
  /** From its two ends up to the middle of the green, metres; null where the ground is not known. */
  readonly risesToMiddle: readonly [from: number | null, to: number | null];
}

/** Hazards this near to the line close a gap, metres. */
const GAP_BESIDE = 22;
const LEAST_GAP = 32;
/** A lay-up ends this far short of the green's front. */
const GAP_SHORT_OF_GREEN = 30;

/** Height of the ground at a place of a hole's plane. */
export type HeightAt = (at: Point) => number | null;

/** The gaps beyond the landing area, in the order of play; `landingAlong` in metres along the line. */
export const gapsOf = (
  { plane, points: line }: PlayLine,
  hazards: readonly HazardFigures[],
  landingAlong: number,
  green: Ring | null,
  heightAt: HeightAt,
): GapFigures[] => {
  const riseTo = (end: Point): number | null =>
    riseBetween(heightAt(end), heightAt(line[line.length - 1]));
  const length = line.slice(1).reduce((sum, p, i) => sum + distance(line[i], p), 0);
  const front = (green === null ? undefined : crossingsAlong(green, line)[0]) ?? length;
  const closed = hazards
    .flatMap(({ feature }) => {
      const near = finePoints(ringOnPlane(plane, feature))
        .map((p) => stationOf(line, p))
        .filter((station) => Math.abs(station.off) <= GAP_BESIDE);
      if (near.length === 0) return [];
      const along = near.map((station) => station.along);
      return [[Math.min(...along), Math.max(...along)] as const];
    })
    .sort((a, b) => a[0] - b[0]);
  const gaps: GapFigures[] = [];
  let from = landingAlong + 15;
  const add = (to: number): void => {
    if (to - from < LEAST_GAP) return;
    const ends = [from, to].map((d) => placeAlong(line, d).at);
    gaps.push({
      from: onMap(plane, ends[0]),
      to: onMap(plane, ends[1]),
      toMiddle: [
        trueLength(plane, lineFrom(line, ends[0])),
        trueLength(plane, lineFrom(line, ends[1])),
      ],
      risesToMiddle: [riseTo(ends[0]), riseTo(ends[1])],
    });
  };
  const last = front - GAP_SHORT_OF_GREEN;
  for (const [near, far] of closed) {
    add(Math.min(near - 5, last));
    from = Math.max(from, far + 5);
  }
  add(last);
  return gaps;
};
