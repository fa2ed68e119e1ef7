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

/** The penalised least-squares fit at one smoothing. */
export const solveAt = (problem: Problem, energy: Float64Array, smoothing: number): Solved => {
  const { grid, obs, weights, matrix, right } = problem;
  const { places } = grid.stencil;
  const factor = factorOf(grid.envelope, (a) => {
    for (let k = 0; k < places.length; k++) {
      if (places[k] >= 0) a[places[k]] = matrix[k] + smoothing * energy[k];
    }
  });
  if (factor === null) throw new Error(`the fit is singular at smoothing ${smoothing}`);
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
 * A choice adapted to the data spends degrees of freedom that the trace does not count; cross-validation
 * so takes each for a little more than one, as Kim & Gu, J. R. Statist. Soc. B 66 (2004) 337-356, do
 * (they take 1.2 to 1.4; this is less, since a flat tier does more harm than a little noise).
 */
const DEGREE_COST = 1.1;

/** Step of the difference below, in the logarithm of the smoothing: its error is under 1e-3 of a degree. */
const STEP = 0.05;

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

/**
 * What the smoothing is to make least: generalised cross-validation (Craven & Wahba, Numer. Math. 31
 * (1979) 377-403), or, where the survey states its accuracy, the unbiased estimate of the risk
 * (Mallows' C_p; Wahba 1990, section 4.7).
 */
export const riskOf = (
  problem: Problem,
  energy: Float64Array,
  smoothing: number,
  statedSigma: number | null,
): number => {
  const { low, high, degrees: told } = fitsBeside(problem, energy, smoothing, STEP);
  const square = (low.square + high.square) / 2;
  const degrees = DEGREE_COST * told;
  const n = problem.mass;
  if (statedSigma !== null) return (square + 2 * statedSigma ** 2 * degrees) / n;
  const free = n - degrees;
  return free <= 0.02 * n ? Infinity : (n * square) / (free * free);
};

/** Powers of ten that smoothing is searched in; the data's scale lies well inside. */
const LEAST = -5;
const MOST = 6;

/**
 * The smoothing of least risk: walked downhill in log10 by steps of `width` from `start`, then set by
 * the parabola through the three last values.
 */
export const chooseSmoothing = (
  risk: (smoothing: number) => number,
  start: number,
  width: number,
): number => {
  const known = new Map<number, number>();
  const at = (exponent: number): number => {
    let value = known.get(exponent);
    if (value === undefined) {
      value = risk(10 ** exponent);
      known.set(exponent, value);
    }
    return value;
  };
  let best = Math.log10(start);
  for (;;) {
    const here = at(best);
    if (best - width >= LEAST && at(best - width) < here) best -= width;
    else if (best + width <= MOST && at(best + width) < here) best += width;
    else break;
  }
  const low = at(best - width);
  const high = at(best + width);
  const bend = low - 2 * at(best) + high;
  const shift = bend > 0 && Number.isFinite(bend) ? (0.5 * width * (low - high)) / bend : 0;
  return 10 ** (best + Math.max(-width, Math.min(width, shift)));
};
