import { realPower } from '../power.js';
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
 * with a tier: the fit has learnt that from the same heights. Set on seeds 200000 and 200001: tiers have 128 to 288, rough
 * ground 40 or less.
 */
const LIKELIER = 80;

/**
 * A smoothing that is this much less likely than the likeliest, in twice the logarithm, may as well be true: chi squared of
 * one degree of freedom at nineteen in twenty, one-sided (1.645 squared, table of the normal distribution). The least of them counts, so that no
 * ground is taken for smoother than its heights can tell. It is looked for in steps of this factor.
 */
const ALLOWED = 2.7;
const ALLOWED_STEP = 2;
const MOST_ALLOWED = 8;

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

/** Degrees of freedom that ground is trusted to have at least. */
export const leastDegrees = ({ mass }: Problem): number =>
  Math.min(LEAST_DEGREES, DEGREES_A_POINT * mass);

/**
 * Degrees of freedom of the likeliest ground of even stiffness, or of ground that bends as the fit found it where that is
 * far likelier, as with a tier (`bends`). Where the error is large the local stiffness is learnt from noise as much as from
 * ground, and is too sure of where the ground does not bend.
 *
 * @param local energy of the ground as the fit found it, and a smoothing to begin from.
 * @param third length by which third derivatives count in the energy, metres.
 * @param sigma error of a point, metres.
 */
export const likeliestDegrees = (
  problem: Problem,
  local: Local,
  third: number,
  sigma: number,
): { readonly degrees: number; readonly bends: boolean } => {
  const likeliest = (energy: Float64Array, start: number) => {
    const lessLikely = minusTwiceLog(problem, energy, sigma);
    const smoothing = chooseSmoothing(lessLikely, start, WIDTH);
    const least = lessLikely(smoothing);
    return { energy, lessLikely, smoothing, least, value: least - logOfEnergy(problem, energy) };
  };
  const degreesAt = (energy: Float64Array, smoothing: number): number =>
    fitsBeside(problem, energy, smoothing, STEP).degrees;
  const even = likeliest(bendingMatrix(problem.grid, null, third), 1);
  const found = likeliest(local.energy, local.smoothing);
  if (found.value < even.value - LIKELIER) {
    const degrees = Math.max(degreesAt(found.energy, found.smoothing), leastDegrees(problem));
    return { degrees, bends: true };
  }
  let { smoothing } = even;
  for (let k = 0; k < MOST_ALLOWED; k++) {
    if (even.lessLikely(smoothing / ALLOWED_STEP) > even.least + ALLOWED) break;
    smoothing /= ALLOWED_STEP;
  }
  const few = Math.min(LEAST_EVEN, leastDegrees(problem));
  return { degrees: Math.max(degreesAt(even.energy, smoothing), few), bends: false };
};

/**
 * The smoothing by which the ground is trusted: the one wished for, or less where it leaves the ground no freedom.
 *
 * @param local energy of the ground as the fit found it, and the smoothing wished for.
 * @param degrees of the fit; `asked`: no fewer are left.
 */
export const trustSmoothing = (
  problem: Problem,
  { energy, smoothing: wish }: Local,
  { degrees, asked }: { readonly degrees: number; readonly asked: number },
): number => {
  let smoothing = wish;
  if (degrees >= asked) return smoothing;
  for (let k = 0; k < MOST_STEPS; k++) {
    const has = fitsBeside(problem, energy, smoothing, STEP).degrees;
    if (has >= NEAR * asked) break;
    smoothing /= Math.min(LOWER, realPower(asked / has, 1 / FALL));
  }
  return smoothing;
};
