import type { Factor } from './factor.js';
import { considered } from './shared-errors.js';
import type { SharedFinding } from './shared-search.js';
import type { Problem } from './smoothing.js';
import { type FoundDrift, type Moments, momentsOf } from './walk-drift.js';

/** Drifts of a walk that are not taken off the heights, since they are not clear: they count in the doubt alone. */

/**
 * Standard deviation of what a survey states and its points do not show: neighbours have it in common, since each
 * point's own error would show. What was found of such errors, or suspected, is taken off. Metres.
 *
 * @param own error that a point is taken to have to itself.
 */
export const unseenOf = (
  stated: number | null,
  own: number,
  { drift, possibleDrift, steps, suspected }: SharedFinding,
): number => {
  if (stated === null) return 0;
  const jumps = suspected === null ? steps : [...steps, suspected];
  const seen = [drift, possibleDrift].map((one) => one?.sd ?? 0);
  const halves = jumps.map(({ height }) => height / 2);
  const known = [own, ...seen, ...halves].reduce((sum, sd) => sum + sd * sd, 0);
  return Math.sqrt(Math.max(0, stated * stated - known));
};

/** Rows of a matrix times the root of the covariance of a first-order Gauss-Markov process of unit variance at the knots. */
const timesRoot = (
  rows: Float64Array,
  { count, times }: Moments,
  { sd, lasts }: FoundDrift,
): Float64Array => {
  const keep = Float64Array.from(times, (t, k) =>
    k === 0 ? 0 : Math.exp(-(t - times[k - 1]) / lasts),
  );
  const out = new Float64Array(rows.length);
  for (let from = 0; from < rows.length; from += count) {
    let later = 0;
    for (let k = count - 1; k >= 0; k--) {
      later = rows[from + k] + (k + 1 < count ? keep[k + 1] * later : 0);
      out[from + k] = sd * Math.sqrt(1 - keep[k] * keep[k]) * later;
    }
  }
  return out;
};

/**
 * What a drift adds to the ground's doubt when nothing is taken off the heights for it: F as in `SharedSolved`.
 *
 * @param points of the ground that are walked, the first of the scatter's.
 * @param sigma standard deviation of a point's own error, metres.
 */
export const driftDoubt = (
  fit: { readonly problem: Problem; readonly factor: Factor },
  walk: { readonly time: Float64Array | null; readonly points: number; readonly all: number },
  drift: FoundDrift,
  sigma: number,
): { readonly spreading: Float64Array; readonly count: number } => {
  const moments = momentsOf(walk.time, walk.points);
  const { count } = moments;
  const columns = new Int32Array(2 * walk.all).fill(-1);
  const shares = new Float64Array(2 * walk.all);
  columns.set(moments.columns);
  shares.set(moments.shares);
  const precision = new Float64Array(count * count);
  for (let k = 0; k < count; k++) precision[k * count + k] = 1;
  const unit = { count, width: 2, columns, shares, precision };
  const spreading = considered(fit.problem, fit.factor, unit, sigma);
  return { spreading: timesRoot(spreading, moments, drift), count };
};
