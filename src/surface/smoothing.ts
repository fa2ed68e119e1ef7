import { factorInPlace, selectedInverse, solveFactored, traceOfProduct } from './envelope.js';
import type { KnotGrid } from './knot-grid.js';
import type { Observations } from './observations.js';
import { normalEquations, residuals } from './observations.js';

export interface Solved {
  readonly coefficients: Float64Array;
  /** Cholesky factor of B'WB + smoothing * energy. */
  readonly factor: Float64Array;
  /** Effective degrees of freedom, from the selected inverse of the same matrix. */
  readonly degrees: (inverse: Float64Array) => number;
}

/** The penalised least-squares fit at one smoothing. */
export const solveAt = (
  grid: KnotGrid,
  obs: Observations,
  weights: Float64Array,
  energy: Float64Array,
  smoothing: number,
): Solved => {
  const { matrix, right } = normalEquations(grid, obs, weights);
  const factor = matrix.map((m, k) => m + smoothing * energy[k]);
  if (!factorInPlace(grid.envelope, factor)) {
    throw new Error(`the fit is singular at smoothing ${smoothing}`);
  }
  solveFactored(grid.envelope, factor, right);
  return {
    coefficients: right,
    factor,
    degrees: (inverse) => traceOfProduct(grid.envelope, inverse, matrix),
  };
};

/**
 * The smoothing of least generalised cross-validation, n RSS / (n - degrees)^2. Source: Craven &
 * Wahba, Numer. Math. 31 (1979) 377-403. Searched over powers of ten, then by parabolas.
 */
export const chooseSmoothing = (
  grid: KnotGrid,
  obs: Observations,
  weights: Float64Array,
  energy: Float64Array,
  start: number,
): number => {
  const scores = new Map<number, number>();
  const score = (exponent: number): number => {
    const known = scores.get(exponent);
    if (known !== undefined) return known;
    const fit = solveAt(grid, obs, weights, energy, 10 ** exponent);
    const degrees = fit.degrees(selectedInverse(grid.envelope, fit.factor));
    const r = residuals(obs, fit.coefficients);
    let square = 0;
    let mass = 0;
    for (let k = 0; k < r.length; k++) {
      square += weights[k] * r[k] * r[k];
      mass += weights[k];
    }
    const value = (mass * square) / (mass - degrees) ** 2;
    scores.set(exponent, value);
    return value;
  };
  let best = start > 0 ? Math.log10(start) : 0;
  let width = start > 0 ? 0.5 : 1;
  for (let move = 0; move < 12; move++) {
    const here = score(best);
    if (score(best - width) < here) best -= width;
    else if (score(best + width) < here) best += width;
    else break;
  }
  while (width > 0.1) {
    const a = score(best - width);
    const b = score(best);
    const c = score(best + width);
    const bend = a - 2 * b + c;
    const shift = bend > 0 ? (0.5 * width * (a - c)) / bend : 0;
    const next = best + Math.max(-width, Math.min(width, shift));
    if (score(next) < b) best = next;
    width /= 4;
    if (width <= 0.1) break;
  }
  return 10 ** best;
};
