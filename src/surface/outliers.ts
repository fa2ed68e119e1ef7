import { quadraticForms } from './observations.js';
import type { Problem, Solved } from './smoothing.js';

/** Standard deviation of normal noise from the median of absolute values (x 1.4826). */
export const robustScale = (values: Float64Array): number => {
  const sorted = values.map(Math.abs).sort();
  const n = sorted.length;
  const median = n % 2 === 1 ? sorted[(n - 1) / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
  return 1.4826 * median;
};

/** Noise is never taken for less than this, metres: the last digit of a survey in millimetres. */
export const LEAST_NOISE = 3e-4;

/**
 * Weights after Hampel: 1 up to `from` deviations (of each value), falling to 0 at `to`. Source: Hampel et al., Robust
 * Statistics (1986), the redescending function without its middle part.
 */
export const hampelWeights = (
  values: Float64Array,
  scales: Float64Array,
  from: number,
  to: number,
): Float64Array<ArrayBuffer> =>
  values.map((value, k) => {
    const t = Math.abs(value) / Math.max(scales[k], LEAST_NOISE);
    return t <= from ? 1 : t >= to ? 0 : (to - t) / (to - from);
  });

export interface Residuals {
  /** Over the surface that the other points make, metres. */
  readonly deleted: Float64Array;
  /** The same in units of its own standard deviation, but for the noise. */
  readonly studentised: Float64Array;
}

/** Belsley, Kuh & Welsch, Regression Diagnostics (1980): from residual and leverage, without refits. */
export const deletedResiduals = (
  problem: Problem,
  fit: Solved,
  inverse: Float64Array,
): Residuals => {
  const leverage = quadraticForms(problem.grid, problem.obs, inverse);
  const deleted = new Float64Array(leverage.length);
  const studentised = new Float64Array(leverage.length);
  for (let k = 0; k < leverage.length; k++) {
    const w = problem.weights[k];
    const free = Math.max(0.02, 1 - w * leverage[k]);
    deleted[k] = fit.residuals[k] / free;
    studentised[k] = fit.residuals[k] / Math.sqrt(w < 0.5 ? 1 + leverage[k] : free);
  }
  return { deleted, studentised };
};
