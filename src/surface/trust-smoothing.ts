import { fitsBeside, type Problem } from './smoothing.js';

/**
 * Where the points ask for hardly any bend, as on a dead plane, that is no proof that there is none: ground is not
 * trusted as if it had fewer degrees of freedom than this, or than so many a point where there are few. Set on
 * planes with seeds from 46700 on; few points, whose noise would leave no direction known, by the survey by hand.
 */
const LEAST_DEGREES = 20;
const DEGREES_A_POINT = 0.07;
/** Step of the difference in the logarithm of the smoothing, and by how much it is lowered each time. */
const STEP = 0.1;
const LOWER = 4;
const MOST_STEPS = 20;

/** The smoothing by which the ground is trusted: the one wished for, or less where it leaves the ground no freedom. */
export const trustSmoothing = (
  problem: Problem,
  energy: Float64Array,
  wish: number,
  degrees: number,
): number => {
  let smoothing = wish;
  const least = Math.min(LEAST_DEGREES, DEGREES_A_POINT * problem.mass);
  if (degrees >= least) return smoothing;
  for (let k = 0; k < MOST_STEPS; k++) {
    if (fitsBeside(problem, energy, smoothing, STEP).degrees >= least) break;
    smoothing /= LOWER;
  }
  return smoothing;
};
