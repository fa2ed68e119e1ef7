import { InputFault } from '../fault.js';
import {
  type Box,
  boxOf,
  boxOfCoordinates,
  convexHull,
  growBox,
  type Point,
  type Ring,
  signedArea,
} from '../geometry.js';
import type { PacedReadings, PlaneParts, Survey } from '../survey/survey.js';
import { counted } from '../wording.js';

/** The ground that a survey is judged on. Its parts and its outline are in metres from `origin`. */
export interface JudgedGround {
  /** Of all the survey's points. */
  readonly extent: Box;
  /** What it is bounded by: the outline given, the hull of the points, or a square among them. */
  readonly kind: 'outline' | 'hull' | 'square';
  /** In the survey's own frame. */
  readonly outline: Ring;
  readonly area: number;
  readonly origin: Point;
  readonly local: Ring;
  /** The points on it and round it: all, and no more than the surface is fitted to. */
  readonly whole: PointsAround;
  readonly part: PointsAround;
}

export interface PointsAround {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly time: Float64Array | null;
  readonly session: Int32Array | null;
  readonly paced: PacedReadings | null;
}

/** A survey no wider than this is taken for one of a single green. */
const GREEN_EXTENT = 80;
/** Side of the square that is judged in a wider survey. */
const SQUARE = 30;
/** Points that the surface is fitted to; more are taken evenly from all. */
const FIT_LIMIT = 40_000;
/** Ground past the outline whose points still count, as in a book. */
const MARGIN = 6;

/** The square of 30 m that holds the most points, the first of equals. */
const densestSquare = (x: Float64Array, y: Float64Array, box: Box): Box => {
  const columns = Math.ceil((box.maxX - box.minX) / SQUARE) + 1;
  const counts = new Map<number, number>();
  let best = 0;
  let most = 0;
  for (let i = 0; i < x.length; i++) {
    const key =
      Math.floor((y[i] - box.minY) / SQUARE) * columns + Math.floor((x[i] - box.minX) / SQUARE);
    const count = (counts.get(key) ?? 0) + 1;
    counts.set(key, count);
    if (count > most) {
      best = key;
      most = count;
    }
  }
  const minX = box.minX + (best % columns) * SQUARE;
  const minY = box.minY + Math.floor(best / columns) * SQUARE;
  return { minX, minY, maxX: minX + SQUARE, maxY: minY + SQUARE };
};

/** The hull of the points, of no more than some thousands of them, evenly taken. */
const hullOf = (x: Float64Array, y: Float64Array): Ring => {
  const stride = Math.max(1, Math.ceil(x.length / FIT_LIMIT));
  const points: Point[] = [];
  for (let i = 0; i < x.length; i += stride) points.push([x[i], y[i]]);
  return convexHull(points);
};

const ringOf = ({ minX, minY, maxX, maxY }: Box): Ring => [
  [minX, minY],
  [maxX, minY],
  [maxX, maxY],
  [minX, maxY],
];

/** The points in a box, from an origin: all of them, and no more than the surface is fitted to, evenly taken. */
const pointsIn = (
  survey: Survey,
  box: Box,
  origin: Point,
): { readonly whole: PointsAround; readonly part: PointsAround } => {
  const chosen: number[] = [];
  for (let i = 0; i < survey.x.length; i++) {
    const [px, py] = [survey.x[i], survey.y[i]];
    if (px >= box.minX && px <= box.maxX && py >= box.minY && py <= box.maxY) chosen.push(i);
  }
  const whole = pointsOf(survey, chosen, origin);
  const stride = Math.max(1, Math.ceil(chosen.length / FIT_LIMIT));
  if (stride === 1) return { whole, part: whole };
  const kept = chosen.filter((_, k) => k % stride === 0);
  return { whole, part: pointsOf(survey, kept, origin) };
};

/** The readings of some places. */
const pacedOf = (paced: PacedReadings, kept: readonly number[]): PacedReadings => {
  const of = <P extends PlaneParts>(parts: P): P => ({
    ...parts,
    x: Float64Array.from(kept, (i) => parts.x[i]),
    y: Float64Array.from(kept, (i) => parts.y[i]),
  });
  const { falls, walked } = paced;
  return { ...paced, walked: of(walked), falls: falls === null ? null : of(falls) };
};

const pointsOf = (survey: Survey, kept: readonly number[], origin: Point): PointsAround => ({
  x: Float64Array.from(kept, (i) => survey.x[i] - origin[0]),
  y: Float64Array.from(kept, (i) => survey.y[i] - origin[1]),
  z: Float64Array.from(kept, (i) => survey.z[i]),
  time: survey.time ? Float64Array.from(kept, (i) => survey.time?.[i] ?? NaN) : null,
  session: survey.session ? Int32Array.from(kept, (i) => survey.session?.[i] ?? -1) : null,
  paced: survey.paced ? pacedOf(survey.paced, kept) : null,
});

/**
 * @param inPlace whether the ground stays in the survey's own frame; else its origin lies amid it.
 * @throws InputFault when the points cover no ground.
 */
export const judgedGround = (
  survey: Survey,
  given: Ring | null,
  inPlace: boolean,
): JudgedGround => {
  const { x, y } = survey;
  const extent = boxOfCoordinates(x, y);
  const small = Math.max(extent.maxX - extent.minX, extent.maxY - extent.minY) <= GREEN_EXTENT;
  const outline = given ?? (small ? hullOf(x, y) : ringOf(densestSquare(x, y, extent)));
  const area = Math.abs(signedArea(outline));
  if (outline.length < 3 || area < 1) {
    throw new InputFault(
      { file: survey.source },
      `${counted(x.length, 'point that covers', 'points that cover')} no ground`,
      'a survey of a green has points all over it',
    );
  }
  const around = boxOf(outline);
  const origin: Point = inPlace
    ? [0, 0]
    : [Math.round((around.minX + around.maxX) / 2), Math.round((around.minY + around.maxY) / 2)];
  return {
    extent,
    kind: given !== null ? 'outline' : small ? 'hull' : 'square',
    outline,
    area,
    origin,
    local: outline.map(([px, py]): Point => [px - origin[0], py - origin[1]]),
    ...pointsIn(survey, growBox(around, MARGIN), origin),
  };
};
