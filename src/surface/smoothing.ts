import { InputFault } from '../fault.js';
import { tenTo } from '../power.js';
import { type Factor, factorOf } from './factor.js';
import type { KnotGrid } from './knot-grid.js';
import type { Observations } from './observations.js';
import { normalEquations, residuals } from './observations.js';
import { traceOfProduct } from './stencil.js';

/** Points, their weights and the normal equations they make. */
export interface Problem {
  readonly grid: KnotGrid;
  readonly obs: Observations;
  readonly weights: Float64Array;
  /** Sum of the weights. */
  readonly mass: number;
  /** By the grid's stencil. */
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

export const problemOf = (grid: KnotGrid, obs: Observations, weights: Float64Array): Problem => ({
  grid,
  obs,
  weights,
  mass: weights.reduce((sum, w) => sum + w, 0),
  ...normalEquations(grid, obs, weights),
});

export interface Solved {
  readonly coefficients: Float64Array;
  /** Cholesky factor of B'WB + smoothing * energy. */
  readonly factor: Factor;
  readonly residuals: Float64Array;
  /** Weighted sum of the squared residuals. */
  readonly square: number;
}

/** Weighted square of the heights less what the fit takes of it: z'Wz - b'A^-1 b = z'W(z - fit). */
export const squareLeft = ({ obs, weights }: Problem, left: Float64Array): number => {
  let square = 0;
  for (let k = 0; k < obs.count; k++) square += weights[k] * obs.z[k] * left[k];
  return square;
};

/** B'WB + smoothing * energy into the envelope; a function of the module, see factor.ts. */
const fillSum = (
  a: Float64Array,
  places: Int32Array,
  matrix: Float64Array,
  energy: Float64Array,
  smoothing: number,
): void => {
  for (let k = 0; k < places.length; k++) {
    if (places[k] >= 0) a[places[k]] = matrix[k] + smoothing * energy[k];
  }
};

/** The penalised least-squares fit at one smoothing. */
export const solveAt = (problem: Problem, energy: Float64Array, smoothing: number): Solved => {
  const { grid, obs, weights, matrix, right } = problem;
  const { places } = grid.stencil;
  const factor = factorOf(grid.envelope, (a) => fillSum(a, places, matrix, energy, smoothing));
  // No survey of a green comes near it: all the points in a few places, or on a line of kilometres.
  if (factor === null) {
    throw new InputFault(
      {},
      'the points do not hold a surface: nearly all lie in a few places, or on one line',
      'give points spread over the green, each once',
    );
  }
  const coefficients = right.slice();
  factor.solve(coefficients);
  const left = residuals(obs, coefficients);
  let square = 0;
  for (let k = 0; k < left.length; k++) square += weights[k] * left[k] * left[k];
  return { coefficients, factor, residuals: left, square };
};

/** Effective degrees of freedom: trace of the matrix that maps heights to fitted heights. */
export const effectiveDegrees = (problem: Problem, inverse: Float64Array): number =>
  traceOfProduct(inverse, problem.matrix);

/**
 * Two fits with the smoothing a step (in its logarithm) less and more, and the degrees of freedom between them. They
 * come from determinants: with A = B'WB + s E, trace(A^-1 B'WB) is the number of unknowns less d log|A| / d log s.
 * Two factors cost less than a factor and the inverse.
 */
export const fitsBeside = (
  problem: Problem,
  energy: Float64Array,
  smoothing: number,
  step: number,
): { readonly low: Solved; readonly high: Solved; readonly degrees: number } => {
  const [low, high] = [-step, step].map((by) => solveAt(problem, energy, smoothing * Math.exp(by)));
  const rise = (high.factor.logDeterminant - low.factor.logDeterminant) / (2 * step);
  return { low, high, degrees: problem.grid.size - rise };
};

/** Powers of ten that smoothing is searched in; the data's scale lies well inside. */
export const LEAST_EXPONENT = -5;
export const MOST_EXPONENT = 6;

/**
 * Where a function of the smoothing is least: walked downhill in log10 by steps of `width` from `start`, then set by
 * the parabola through the three last values.
 */
export const chooseSmoothing = (
  value: (smoothing: number) => number,
  start: number,
  width: number,
): number => {
  const known = new Map<number, number>();
  const at = (exponent: number): number => {
    let own = known.get(exponent);
    if (own === undefined) {
      own = value(tenTo(exponent));
      known.set(exponent, own);
    }
    return own;
  };
  let best = Math.log10(start);
  for (;;) {
    const here = at(best);
    if (best - width >= LEAST_EXPONENT && at(best - width) < here) best -= width;
    else if (best + width <= MOST_EXPONENT && at(best + width) < here) best += width;
    else break;
  }
  return tenTo(best + width * lowestOf(at(best - width), at(best), at(best + width)));
};

/** Where the parabola through three values a step apart is lowest, in steps from the middle one; no further than one. */
export const lowestOf = (low: number, middle: number, high: number): number => {
  const bend = low - 2 * middle + high;
  const shift = bend > 0 && Number.isFinite(bend) ? (0.5 * (low - high)) / bend : 0;
  return Math.max(-1, Math.min(1, shift));
};
