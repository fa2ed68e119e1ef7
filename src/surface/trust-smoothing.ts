import { bendingMatrix } from './bending.js';
import { chooseSmoothing, fitsBeside, type Problem, solveAt, squareLeft } from './smoothing.js';

/**
 * Where the points ask for hardly any bend, as on a dead plane, that is no proof that there is none: ground is not
 * trusted as if it had fewer degrees of freedom than this, or than so many a point where there are few. Set on
 * planes with seeds from 46700 on, when steps of the search left five more; few points, whose noise would leave no direction known, by the survey by hand.
 */
const LEAST_DEGREES = 25;
const DEGREES_A_POINT = 0.09;
/** The same where the likeliest even ground tells how many it has: those of a fit of noise to a plane. */
const LEAST_EVEN = 14;
/** Step of the difference in the logarithm of the smoothing. */
const STEP = 0.1;
/** Degrees of freedom go about with this power of the smoothing, by which it is lowered, never more at once than ... */
const FALL = 0.3;
const LOWER = 8;
/** ... until they are so near to what is asked. */
const NEAR = 0.97;
const MOST_STEPS = 12;

/** Step in which the smoothing of even ground is looked for, in its logarithm (base 10). */
const WIDTH = 0.6;
/** A smoothing at which hardly anything but the plane is left. */
const STIFF = 1e7;
/**
 * Twice the logarithm of the likelihood by which ground that bends as the fit found it must go before even ground, as
 * with a tier: the fit has learnt that from the same heights. Set on seeds 133000 and 133001: tiers have 99 to 142, rough
 * ground 12 or less.
 */
const LIKELIER = 60;

/** Ground that bends as a fit found it. */
interface Local {
  readonly energy: Float64Array;
  readonly smoothing: number;
}

/**
 * Minus twice the restricted log likelihood of a ground of this bending energy and smoothing, points having a known error
 * (Patterson & Thompson, Biometrika 58 (1971) 545-554), but for what all energies have in common.
 */
const minusTwiceLog = (
  problem: Problem,
  energy: Float64Array,
  sigma: number,
): ((smoothing: number) => number) => {
  const { size } = problem.grid;
  return (smoothing) => {
    const { factor, residuals } = solveAt(problem, energy, smoothing);
    return (
      squareLeft(problem, residuals) / sigma ** 2 +
      factor.logDeterminant -
      (size - 3) * Math.log(smoothing)
    );
  };
};

/** Logarithm of the product of the eigenvalues of an energy that are not zero, but for a term that all have in common. */
const logOfEnergy = (problem: Problem, energy: Float64Array): number => {
  const { size } = problem.grid;
  const { factor } = solveAt(problem, energy, STIFF);
  return factor.logDeterminant - (size - 3) * Math.log(STIFF);
};

/**
 * Degrees of freedom of the likeliest ground of even stiffness, 0 where it is not rough or far less likely than ground
 * that bends as the fit found it. Where the error is large the local stiffness is learnt from noise as much as from
 * ground, and is too sure of where the ground does not bend.
 *
 * @param local energy and smoothing of the ground as the fit found it.
 * @param third length by which third derivatives count in the energy, metres.
 * @param sigma error of a point, metres.
 */
export const evenDegrees = (
  problem: Problem,
  local: Local,
  third: number,
  sigma: number,
): number => {
  const energy = bendingMatrix(problem.grid, null, third);
  const lessLikely = minusTwiceLog(problem, energy, sigma);
  const likeliest = chooseSmoothing(lessLikely, 1, WIDTH);
  const { degrees } = fitsBeside(problem, energy, likeliest, STEP);
  const even = lessLikely(likeliest) - logOfEnergy(problem, energy);
  const found =
    minusTwiceLog(problem, local.energy, sigma)(local.smoothing) -
    logOfEnergy(problem, local.energy);
  return found < even - LIKELIER ? 0 : degrees;
};

/**
 * The smoothing by which the ground is trusted: the one wished for, or less where it leaves the ground no freedom.
 *
 * @param local energy of the ground as the fit found it, and the smoothing wished for.
 * @param degrees of the fit; `even` those of the likeliest even ground, 0 where they are not asked.
 */
export const trustSmoothing = (
  problem: Problem,
  { energy, smoothing: wish }: Local,
  { degrees, even }: { readonly degrees: number; readonly even: number },
): number => {
  let smoothing = wish;
  const few = even > 0 ? LEAST_EVEN : LEAST_DEGREES;
  const least = Math.max(even, Math.min(few, DEGREES_A_POINT * problem.mass));
  if (degrees >= least) return smoothing;
  for (let k = 0; k < MOST_STEPS; k++) {
    const has = fitsBeside(problem, energy, smoothing, STEP).degrees;
    if (has >= NEAR * least) break;
    smoothing /= Math.min(LOWER, (least / has) ** (1 / FALL));
  }
  return smoothing;
};
