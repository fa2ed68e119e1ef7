import {
  distance,
  type Point,
  type Ring,
  signedDistanceToRing,
  squareToSegment,
} from '../geometry.js';
import { degreesToRadians } from '../units.js';
import type { LonLat, MapFeature } from './course-map.js';
import { middleOf, ringOf } from './hole-site.js';

/**
 * Metres east and north of a place, on a cylinder: near enough for comparing distances within a course, and
 * finite for any position on the Earth.
 */
export interface Flat {
  readonly toFlat: (at: LonLat) => Point;
  readonly toMap: (at: Point) => LonLat;
}

const METRES_PER_DEGREE = 111_320;

export const flatRound = (home: LonLat): Flat => {
  const squeeze = Math.max(0.01, Math.cos(degreesToRadians(home[1]))) * METRES_PER_DEGREE;
  return {
    toFlat: ([longitude, latitude]) => [
      (longitude - home[0]) * squeeze,
      (latitude - home[1]) * METRES_PER_DEGREE,
    ],
    toMap: ([x, y]) => [home[0] + x / squeeze, home[1] + y / METRES_PER_DEGREE],
  };
};

/** A feature laid flat: its points, and its middle. */
export interface FlatFeature {
  readonly feature: MapFeature;
  readonly points: readonly Point[];
  readonly middle: Point;
}

export const laidFlat = (flat: Flat, feature: MapFeature): FlatFeature => ({
  feature,
  points: ringOf(feature).map(flat.toFlat),
  middle: flat.toFlat(middleOf(feature)),
});

/** How far a place lies outside an area (0 within it), or from a point. */
export const awayFrom = ({ feature, points }: FlatFeature, at: Point): number =>
  feature.shape.kind === 'area'
    ? Math.max(0, signedDistanceToRing(points as Ring, at[0], at[1]))
    : Math.min(...points.map((p) => distance(p, at)));

/** How far a place lies from a line. */
export const besideLine = (line: readonly Point[], at: Point): number => {
  let near = Infinity;
  for (let i = 1; i < line.length; i++) {
    near = Math.min(near, squareToSegment(line[i - 1], line[i], at[0], at[1]));
  }
  return Math.sqrt(near);
};
