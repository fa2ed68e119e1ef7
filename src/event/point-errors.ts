import { boxOfCoordinates } from '../geometry.js';
import type { FitReport } from '../surface/fit.js';
import { seededNormals } from '../surface/seeded-normals.js';
import type { SharedFinding } from '../surface/shared-search.js';
import type { Survey } from '../survey/survey.js';
import type { SurveyPoints } from './confirm-movement.js';

/** The errors of a survey's points as its fit found them; metres. */
export interface PointErrors {
  /** Standard deviation of the error that a point has to itself. */
  readonly sigma: number;
  /** What neighbours in the walk share; see SharedFinding. Steps that could not be excluded are among them. */
  readonly drift: SharedFinding['drift'];
  readonly steps: SharedFinding['steps'];
  /** Whether the order of the points is that of a walk. */
  readonly walked: boolean;
  /** By how much two swaths may differ along a line that nobody knows. */
  readonly swathStep: number;
}

/** What a fit found of its survey's errors; a cell's counts as much as it does in the mean of many. */
export const pointErrorsOf = (
  { sigma, shared, pointError }: FitReport,
  kind: Survey['kind'],
): PointErrors => ({
  sigma: Math.max(sigma, pointError.least),
  drift: shared.drift,
  steps: shared.suspected === null ? shared.steps : [...shared.steps, shared.suspected],
  walked: kind === 'points',
  swathStep: pointError.swathStep,
});

/** A survey's points in the order in which they were measured. */
export interface MeasuredPoints extends SurveyPoints {
  /** Seconds, where the survey tells them. */
  readonly time?: Float64Array | null;
}

/** The order in which points were measured, as indices. */
export const walkOrder = ({ x, time }: MeasuredPoints): number[] => {
  const order = Array.from(x, (_, i) => i);
  return time ? order.sort((a, b) => time[a] - time[b]) : order;
};

/** Raises one side of a line by a height. */
const addStep = (
  { x, y }: MeasuredPoints,
  { angle, offset }: { readonly angle: number; readonly offset: number },
  height: number,
  out: Float64Array,
): void => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  for (let i = 0; i < out.length; i++) if (c * x[i] + s * y[i] > offset) out[i] += height;
};

/**
 * Draws of the errors that a survey's heights may have: each point's own, and as one process along the walk what
 * neighbours share (first-order Gauss-Markov, as the search for it has it). A step is as likely up as down and as
 * large as it was found: which side has the right level nobody knows.
 *
 * @param together how many points each one stands for as their mean; null: one.
 */
export const errorDraws = (
  points: MeasuredPoints,
  { sigma, drift, steps, swathStep }: PointErrors,
  seed: number,
  together: Float64Array | null = null,
): (() => Float64Array) => {
  const normal = seededNormals(seed);
  const count = points.x.length;
  const { time } = points;
  const order = walkOrder(points);
  const timeOf = (i: number): number => (time ? time[i] : i);
  const { minX, minY, maxX, maxY } = boxOfCoordinates(points.x, points.y);
  const extent = Math.max(1, -minX, maxX, -minY, maxY);
  return () => {
    const out = Float64Array.from(
      { length: count },
      (_, i) => (sigma * normal()) / Math.sqrt(together?.[i] ?? 1),
    );
    if (drift !== null) {
      let level = drift.sd * normal();
      order.forEach((i, k) => {
        const gap = k === 0 ? 0 : Math.max(0, timeOf(i) - timeOf(order[k - 1]));
        const keep = Number.isFinite(gap) ? Math.exp(-gap / drift.lasts) : 0;
        level = keep * level + drift.sd * Math.sqrt(1 - keep * keep) * normal();
        out[i] += level;
      });
    }
    for (const { height, after, line } of steps) {
      const size = Math.abs(height) * normal();
      if (line !== null) addStep(points, line, size, out);
      else for (let i = after ?? count; i < count; i++) out[i] += size;
    }
    if (swathStep > 0) {
      const line = { angle: Math.PI * normal(), offset: 0.4 * extent * normal() };
      addStep(points, line, swathStep * normal(), out);
    }
    return out;
  };
};
