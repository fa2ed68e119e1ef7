import { bendingMatrix } from './bending.js';
import { fitsBeside, type Problem, solveAt } from './smoothing.js';

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

/** Likeliest even ground of fewer degrees bends little: there the fit's own stiffness is trusted. Set on seed 113500. */
const ROUGH = 35;
/** Logarithms (base 10) of the smoothing of even ground that are tried. */
const EVEN = [-2.4, -1.8, -1.2, -0.6, 0, 0.6, 1.2, 1.8, 2.4];

/**
 * Degrees of freedom of the likeliest ground of even stiffness, 0 where it is not rough, by restricted likelihood with points of a known error
 * (Patterson & Thompson, Biometrika 58 (1971) 545-554). Where the error is large the local stiffness is learnt from noise
 * as much as from ground, and is too sure of where the ground does not bend.
 */
export const evenDegrees = (problem: Problem, third: number, sigma: number): number => {
  const { grid, obs, weights } = problem;
  const energy = bendingMatrix(grid, null, third);
  let [least, likeliest] = [Infinity, 0];
  for (const exponent of EVEN) {
    const smoothing = 10 ** exponent;
    const { factor, residuals } = solveAt(problem, energy, smoothing);
    let square = 0;
    for (let k = 0; k < obs.count; k++) square += weights[k] * obs.z[k] * residuals[k];
    const value =
      square / sigma ** 2 + factor.logDeterminant - (grid.size - 3) * Math.log(smoothing);
    if (value < least) [least, likeliest] = [value, smoothing];
  }
  const { degrees } = fitsBeside(problem, energy, likeliest, STEP);
  return degrees < ROUGH ? 0 : degrees;
};

/**
 * The smoothing by which the ground is trusted: the one wished for, or less where it leaves the ground no freedom.
 *
 * @param degrees of the fit; `even` those of the likeliest even ground, 0 where they are not asked.
 */
export const trustSmoothing = (
  problem: Problem,
  energy: Float64Array,
  wish: number,
  { degrees, even }: { readonly degrees: number; readonly even: number },
): number => {
  let smoothing = wish;
  const least = Math.max(even, Math.min(LEAST_DEGREES, DEGREES_A_POINT * problem.mass));
  if (degrees >= least) return smoothing;
  for (let k = 0; k < MOST_STEPS; k++) {
    if (fitsBeside(problem, energy, smoothing, STEP).degrees >= least) break;
    smoothing /= LOWER;
  }
  return smoothing;
};
