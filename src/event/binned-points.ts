import type { MeasuredPoints, PointErrors } from './point-errors.js';

/** Points put together by squares, so that what is made of them costs by the ground and not by the points. */
export interface BinnedPoints {
  /** The middle of each bin's points and the mean of their heights and times; in the order of measuring. */
  readonly points: MeasuredPoints;
  readonly errors: PointErrors;
  /** Points of each bin. */
  readonly count: Float64Array;
  /** The mean over each bin of a value that every point has. */
  readonly meanOf: (values: Float64Array) => Float64Array;
}

/** Side of a bin, metres: half of the radius of the smallest piece of ground that is looked for. */
const BIN = 0.5;
/** Surveys of no more points than this to a square metre of their bins stay point by point. */
const DENSE = 4;

const squareOf = (x: number, y: number): string => `${Math.floor(x / BIN)},${Math.floor(y / BIN)}`;

/**
 * Puts the points of a dense survey together. A step of its walk begins at the first bin most of whose points
 * were measured after it.
 */
export const binned = (points: MeasuredPoints, errors: PointErrors): BinnedPoints => {
  const members = new Map<string, number[]>();
  for (let i = 0; i < points.x.length; i++) {
    const key = squareOf(points.x[i], points.y[i]);
    const own = members.get(key);
    if (own === undefined) members.set(key, [i]);
    else own.push(i);
  }
  const count = points.x.length;
  if (count <= DENSE * members.size * BIN * BIN) {
    return { points, errors, count: new Float64Array(count).fill(1), meanOf: (values) => values };
  }
  const middle = (own: readonly number[]): number => own[own.length >> 1];
  const bins = [...members.values()].sort((a, b) => middle(a) - middle(b));
  const meanOf = (values: Float64Array): Float64Array =>
    Float64Array.from(bins, (own) => own.reduce((sum, i) => sum + values[i], 0) / own.length);
  return {
    points: {
      x: meanOf(points.x),
      y: meanOf(points.y),
      z: meanOf(points.z),
      time: points.time ? meanOf(points.time) : null,
    },
    errors: {
      ...errors,
      steps: errors.steps.map((step) =>
        step.after === null
          ? step
          : { ...step, after: bins.filter((own) => middle(own) < (step.after ?? 0)).length },
      ),
    },
    count: Float64Array.from(bins, (own) => own.length),
    meanOf,
  };
};
