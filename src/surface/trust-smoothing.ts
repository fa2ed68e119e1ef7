import { logDeterminant } from './envelope.js';
import { type Problem, solveAt } from './smoothing.js';

/**
 * Where the points ask for hardly any bend, as on a dead plane, that is no proof that there is none: ground is not
 * trusted as if it had fewer degrees of freedom than this. Set on planes with seeds from 46700 on.
 */
const LEAST_DEGREES = 20;
/** Step of the difference in the logarithm of the smoothing, and by how much it is lowered each time. */
const STEP = 0.1;
const LOWER = 4;
const MOST_STEPS = 20;

/** Effective degrees of freedom by determinants, as in `riskOf`. */
const degreesAt = (problem: Problem, energy: Float64Array, smoothing: number): number => {
  const { envelope, size } = problem.grid;
  const [low, high] = [-STEP, STEP].map((step) =>
    logDeterminant(envelope, solveAt(problem, energy, smoothing * Math.exp(step)).factor),
  );
  return size - (high - low) / (2 * STEP);
};

/** The smoothing by which the ground is trusted: the one wished for, or less where it leaves the ground no freedom. */
export const trustSmoothing = (
  problem: Problem,
  energy: Float64Array,
  wish: number,
  degrees: number,
): number => {
  let smoothing = wish;
  if (degrees >= LEAST_DEGREES) return smoothing;
  for (let k = 0; k < MOST_STEPS; k++) {
    if (degreesAt(problem, energy, smoothing) >= LEAST_DEGREES) break;
    smoothing /= LOWER;
  }
  return smoothing;
};
