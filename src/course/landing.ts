import { distance, insideRing, type Point, type Ring } from '../geometry.js';
import type { Plane } from '../survey/crs/plane.js';
import { degreesToRadians, yardsToMetres } from '../units.js';
import { cornersOf } from './corners.js';
import { crossingsAlong, crossingsOnShot, TEE_SHOT } from './hazard-figures.js';
import { placeAlong, trueDistance } from './play-line.js';

/**
 * Where a tee shot is meant to end. The corner of the line of play, when it has one at that distance;
 * else 250 yd from the rearmost tee, which is how far a scratch player drives by the definition in the
 * Rules of Handicapping (The R&A and USGA; figure quoted from memory).
 */
const DRIVE = yardsToMetres(250);
const CORNER_FROM = 140;
const CORNER_TO = 310;
/** A bend of the line that is less than this is none, radians. */
const LEAST_TURN = degreesToRadians(7);
/** Bends of the drawn line by less than this are the drawing's, metres. */
const WOBBLE = 6;
/** No tee shot is meant to end in a hazard: one that would is laid up so far short of it, metres. */
const SHORT_OF = 10;

export interface Landing {
  /** Metres along the line of play from the rearmost tee. */
  readonly along: number;
  /** Whether it lies short of where the shot is meant to end, which is in a hazard. */
  readonly laidUp: boolean;
  readonly at: Point;
  /** Where the fairway begins and ends across the line there; null when the line is not on a fairway. */
  readonly across: readonly [left: Point, right: Point] | null;
  /** Metres on the ellipsoid; null as above. */
  readonly width: number | null;
}

/** So far along the line, or short of the hazards that lie there; null where none is left for a tee shot to be laid up on. */
const clearOf = (
  hazards: readonly Ring[],
  line: readonly Point[],
  along: number,
): number | null => {
  const { at } = placeAlong(line, along);
  const edges = hazards
    .filter((ring) => insideRing(ring, at[0], at[1]))
    .map((ring) => Math.max(0, ...crossingsAlong(ring, line).filter((d) => d < along)));
  if (edges.length === 0) return along;
  const short = Math.min(...edges) - SHORT_OF;
  return short < CORNER_FROM ? null : clearOf(hazards, line, short);
};

/** The landing area of a hole, clear of its hazards; null for a par 3 or a hole too short to have one. */
export const landingOf = (
  plane: Plane,
  line: readonly Point[],
  par: number | null,
  fairways: readonly Ring[],
  hazards: readonly Ring[],
): Landing | null => {
  let length = 0;
  for (let i = 1; i < line.length; i++) length += distance(line[i - 1], line[i]);
  if (par === 3 || (par === null && length < DRIVE) || length < 200) return null;
  const corners = cornersOf(line, WOBBLE);
  let walked = 0;
  let corner: number | null = null;
  for (let i = 1; i < corners.length - 1 && corner === null; i++) {
    const [a, b, c] = [corners[i - 1], corners[i], corners[i + 1]];
    walked += distance(a, b);
    const turn = Math.abs(
      Math.atan2(
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]),
        (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]),
      ),
    );
    if (walked >= CORNER_FROM && walked <= CORNER_TO && turn >= LEAST_TURN) corner = walked;
  }
  const meant = corner ?? Math.min(DRIVE, 0.68 * length);
  const along = clearOf(hazards, line, meant);
  if (along === null) return null;
  const { at } = placeAlong(line, along);
  // At a corner the fairway lies across the middle of the two directions.
  const before = placeAlong(line, along - 12).at;
  const after = placeAlong(line, along + 12).at;
  const reach = distance(before, after);
  const across: Point = [(after[1] - before[1]) / reach, -(after[0] - before[0]) / reach];
  const edges = fairwayAcross(fairways, hazards, at, across);
  return {
    along,
    laidUp: along < meant,
    at,
    across: edges,
    width: edges === null ? null : trueDistance(plane, edges[0], edges[1]),
  };
};

const ACROSS = 90;

/**
 * Where a fairway, or what hazards drawn over it leave of it, begins and ends on the line across at a place, `right` being
 * its direction; null off every fairway and in a hazard.
 */
export const fairwayAcross = (
  fairways: readonly Ring[],
  hazards: readonly Ring[],
  at: Point,
  right: Point,
): readonly [Point, Point] | null => {
  const from: Point = [at[0] - ACROSS * right[0], at[1] - ACROSS * right[1]];
  const to: Point = [at[0] + ACROSS * right[0], at[1] + ACROSS * right[1]];
  const place = (d: number): Point => [from[0] + d * right[0], from[1] + d * right[1]];
  if (hazards.some((ring) => insideRing(ring, at[0], at[1]))) return null;
  const hazardEdges = hazards.flatMap((ring) => crossingsOnShot(ring, from, to));
  for (const ring of fairways) {
    const crossings = crossingsOnShot(ring, from, to);
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const [a, b] = [crossings[i], crossings[i + 1]];
      if (a > ACROSS || b < ACROSS) continue;
      const left = Math.max(a, ...hazardEdges.filter((d) => d <= ACROSS));
      const last = Math.min(b, ...hazardEdges.filter((d) => d > ACROSS));
      return [place(left), place(last)];
    }
  }
  return null;
};

export interface RunOut {
  /** Where the fairway ends on the straight line of the tee shot. */
  readonly at: Point;
  /** Metres from the tee on the ellipsoid. */
  readonly length: number;
}

/** Where a straight tee shot over the landing area runs out of the fairway; null when it does not within its length. */
export const runOutOf = (
  plane: Plane,
  tee: Point,
  landing: Point,
  fairways: readonly Ring[],
): RunOut | null => {
  const past = placeAlong([tee, landing], TEE_SHOT).at;
  const reach = distance(tee, landing);
  for (const ring of fairways) {
    const crossings = crossingsOnShot(ring, tee, past);
    for (let i = 0; i < crossings.length; i += 2) {
      const end = crossings[i + 1];
      if (crossings[i] > reach || end === undefined || end < reach) continue;
      const { at } = placeAlong([tee, landing], end);
      return { at, length: trueDistance(plane, tee, at) };
    }
  }
  return null;
};
