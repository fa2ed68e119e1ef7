import { InputFault } from '../fault.js';
import { counted } from '../wording.js';
import { bendingMatrix } from './bending.js';
import { boundedKnotGrid, type KnotGrid } from './knot-grid.js';
import { type Choice, smoothingOfLeastRisk } from './least-risk.js';
import { localScales, pointsRound } from './local-scatter.js';
import { curvaturesAt, curvaturesOf, localStiffness, sharpestBend } from './local-stiffness.js';
import { type Observations, observe } from './observations.js';
import { deletedResiduals, hampelWeights, robustScale } from './outliers.js';
import { ownError } from './own-error.js';
import type { Scatter } from './scatter.js';
import { effectiveDegrees, type Problem, problemOf, type Solved, solveAt } from './smoothing.js';
import { completeCoefficients, splineSurface } from './spline-surface.js';
import type { Surface } from './surface.js';

/** Knots on ground that bends gently and on ground that bends sharply (tiers, walls), metres. */
const KNOT_STEP = 0.8;
const SHARP_KNOT_STEP = 0.53;
/** And where breaklines tell of edges, which the surface rounds over about a knot's distance. */
const BREAK_KNOT_STEP = 0.4;
/** Local root mean square of the curvature, 1/m, from which ground is sharp: 3 % more grade a metre. */
const SHARP_BEND = 0.03;
/** Fewer points than this on the green are no survey. */
const LEAST_POINTS = 12;
/** Rounds of local stiffness; more change the errors by a few per cent at most. */
const ROUNDS = 4;
/**
 * The energy also holds the third derivatives (bending.ts), at this length in metres: it damps the waves
 * of about a point's spacing, by which noise turns the fall direction, more than those the ground has.
 */
const THIRD_LENGTH = 1;
/**
 * Share of the smoothing of least risk that is used on ground without sharp bends. Cross-validation takes
 * the local stiffness for given; learnt from the same heights, it lets the noise it has learnt pass
 * at little cost, so that the least risk lies at too much smoothing (with the stiffness of the true
 * ground it does not). The share is that of least error on average over simulated surveys of the
 * demo's greens; on sharp ground the ground itself, not the noise, makes the stiffness.
 */
const LEARNT = 0.63;
/** Neighbourhood of the local stiffness: points that are this many spacings away count half or so. */
const NEIGHBOURHOOD = 1.2;

/** One penalised fit with the weights that it gives to the points. */
interface Fit {
  readonly grid: KnotGrid;
  readonly problem: Problem;
  readonly energy: Float64Array;
  /** The energy's weights; null when it is the same everywhere. */
  readonly stiffness: Float64Array | null;
  readonly smoothing: number;
  readonly solved: Solved;
}

/** The last fit, and the inverse of its matrix by the grid's stencil. */
export interface AdaptiveFit extends Fit {
  readonly inverse: Float64Array;
  /** Weights that gross errors leave to each of the points given. */
  readonly pointWeights: Float64Array;
  /** Points round each of the scatter's. */
  readonly round: Int32Array;
  /** Whether the ground bends so sharply that the knots stand closer. */
  readonly sharp: boolean;
}

/** Mean distance between neighbouring points: the root of the area that each has. */
export const pointSpacing = (grid: KnotGrid, count: number): number =>
  Math.sqrt((grid.cells.length * grid.step * grid.step) / count);

/** The ground that a fit found; its polynomials are made when the first place is asked for. */
export const pilotOf = (
  { outline, collar, box }: Scatter,
  { grid, solved }: Pick<Fit, 'grid' | 'solved'>,
): Surface['at'] => {
  let at: Surface['at'] | null = null;
  return (x, y, jet) => {
    at ??= splineSurface(
      grid,
      completeCoefficients(grid, solved.coefficients),
      { outline, collar, box },
      null,
    ).at;
    at(x, y, jet);
  };
};

const inverseOf = ({ grid, solved }: Fit): Float64Array =>
  solved.factor.inverseAt(grid.stencil.places);

/** Estimated standard deviation of the noise of one point, metres. */
export const noiseOf = ({ problem, solved }: Fit, degrees: number): number =>
  Math.sqrt(Math.max(0, solved.square) / Math.max(1, problem.mass - degrees));

/** What the rounds of one fit have in common. */
interface Rounds {
  readonly scatter: Scatter;
  readonly first: KnotGrid;
  readonly seen: Observations;
  /** Neighbourhood of the local stiffness, metres. */
  readonly radius: number;
  /** Points round each of the scatter's, by which gross errors are told from a surface that is wrong. */
  readonly round: Int32Array;
  /** Of all the points given; set anew as gross errors show. */
  readonly weights: Float64Array;
  /** The problem that was made last, while the weights are as they were for it. */
  last: Problem | null;
}

const roundsOf = (scatter: Scatter, knotStep: number): Rounds => {
  const first = boundedKnotGrid(scatter, knotStep);
  const seen = observe(first, scatter.x, scatter.y, scatter.z);
  if (seen.count < LEAST_POINTS) {
    throw new InputFault(
      {},
      `only ${counted(seen.count, 'point lies', 'points lie')} on the green and its collar`,
      `a surface needs ${LEAST_POINTS} or more; check the coordinates and the outline`,
    );
  }
  const spacing = pointSpacing(first, seen.count);
  const radius = NEIGHBOURHOOD * Math.max(0.5, Math.min(3, spacing));
  const round = pointsRound(scatter.x, scatter.y, spacing);
  return {
    scatter,
    first,
    seen,
    radius,
    round,
    weights: new Float64Array(scatter.x.length).fill(1),
    last: null,
  };
};

const problemOn = (rounds: Rounds, grid: KnotGrid): Problem => {
  const { scatter, first, seen, weights, last } = rounds;
  if (last?.grid === grid) return last;
  const obs = grid === first ? seen : observe(grid, scatter.x, scatter.y, scatter.z);
  const own = Float64Array.from(obs.source, (p) => weights[p]);
  rounds.last = problemOf(grid, obs, own);
  return rounds.last;
};

const choose = (
  rounds: Rounds,
  grid: KnotGrid,
  stiffness: Float64Array | null,
  choice: Choice,
): Fit => {
  const problem = problemOn(rounds, grid);
  const energy = bendingMatrix(grid, stiffness, THIRD_LENGTH);
  const smoothing = smoothingOfLeastRisk(problem, energy, choice);
  const solved = solveAt(problem, energy, smoothing);
  return { grid, problem, energy, stiffness, smoothing, solved };
};

/** A fit whose stiffness follows the ground that the last one found. */
const adapt = (rounds: Rounds, last: Fit, grid: KnotGrid, choice: Choice): Fit => {
  const { scatter, radius } = rounds;
  const bends =
    grid === last.grid
      ? curvaturesOf(grid, last.solved.coefficients)
      : curvaturesAt(grid, pilotOf(scatter, last));
  const stiffness = localStiffness(grid, bends, radius, scatter.breaklines);
  return choose(rounds, grid, stiffness, choice);
};

const again = (old: Fit, problem: Problem, smoothing: number): Fit => ({
  ...old,
  problem,
  smoothing,
  solved: solveAt(problem, old.energy, smoothing),
});

/**
 * Sets the weights from the residuals, in deviations from which they fall and at which nothing is left;
 * they stay as they were when none would move much. The inverse that belongs to the fit when they did.
 */
const reweigh = (rounds: Rounds, fit: Fit, from: number, to: number): Float64Array | null => {
  const { problem, solved } = fit;
  const inverse = inverseOf(fit);
  const { studentised } = deletedResiduals(problem, solved, inverse);
  const scale = robustScale(studentised);
  const scales = localScales(studentised, problem.obs.source, rounds.round, scale);
  const fresh = hampelWeights(studentised, scales, from, to);
  if (fresh.every((w, k) => Math.abs(w - problem.weights[k]) <= 0.1)) return inverse;
  fresh.forEach((w, k) => {
    rounds.weights[problem.obs.source[k]] = w;
  });
  rounds.last = null;
  return null;
};

/**
 * Even stiffness, by which gross errors are put aside. Sharp ground leaves residuals under it, so only
 * gross ones are, and the line is drawn closer as the fit learns the ground. Until they are, a stated
 * accuracy is no guide: to meet it the fit would run after the gross errors; and later it would run after
 * the noise, where the survey states less than its points show.
 */
const evenFit = (rounds: Rounds): Fit => {
  const { scatter, first, radius } = rounds;
  const { breaklines, knownSigma } = scatter;
  const even = breaklines.length === 0 ? null : localStiffness(first, null, radius, breaklines);
  let fit = choose(rounds, first, even, { start: 1, width: 1, accuracy: knownSigma });
  for (let round = 0; round < 3 && reweigh(rounds, fit, 8, 12) === null; round++) {
    fit = again(fit, problemOn(rounds, first), fit.smoothing);
  }
  return fit;
};

/** The accuracy that the smoothing is chosen by: what is known or stated, or more where the points show more. */
const accuracyOf = (rounds: Rounds, fit: Fit): number | null => {
  const { statedSigma, knownSigma } = rounds.scatter;
  if (knownSigma !== null) return knownSigma;
  if (statedSigma === null) return null;
  const clean = again(fit, problemOn(rounds, rounds.first), fit.smoothing);
  const degrees = effectiveDegrees(clean.problem, inverseOf(clean));
  const noise = noiseOf(clean, degrees);
  // What is stated over what the points can have is no error of theirs one by one: they tell the smoothing themselves.
  if (ownError(statedSigma, noise, clean.problem.mass - degrees) < statedSigma) return null;
  return Math.max(statedSigma, noise);
};

/**
 * The fit in its rounds: even stiffness and gross errors, then the stiffness that follows the ground,
 * then finer knots where it bends sharply, each with a smoothing and with weights of its own.
 *
 * @param fixed the distance between knots and the last smoothing, where they are not to be chosen.
 * @throws InputFault when too few points lie on the green.
 */
export const adaptiveFit = (
  scatter: Scatter,
  fixed: { readonly knotStep?: number; readonly smoothing?: number },
): AdaptiveFit => {
  const { breaklines, knownSigma } = scatter;
  const rounds = roundsOf(scatter, fixed.knotStep ?? KNOT_STEP);
  const { first, radius, weights } = rounds;
  let fit = evenFit(rounds);
  fit = adapt(rounds, fit, first, { start: fit.smoothing, width: 0.6, accuracy: knownSigma });
  reweigh(rounds, fit, 5, 8);
  const accuracy = accuracyOf(rounds, fit);
  for (let round = 1; round < ROUNDS; round++) {
    fit = adapt(rounds, fit, first, { start: fit.smoothing, width: 0.3, accuracy });
  }
  const sharp =
    fixed.knotStep === undefined &&
    (breaklines.length > 0 ||
      sharpestBend(first, curvaturesOf(first, fit.solved.coefficients), radius) > SHARP_BEND);
  if (sharp) {
    reweigh(rounds, fit, 3, 5);
    const finer = boundedKnotGrid(
      scatter,
      breaklines.length > 0 ? BREAK_KNOT_STEP : SHARP_KNOT_STEP,
    );
    fit = adapt(rounds, fit, finer, { start: 2 * fit.smoothing, width: 0.5, accuracy });
  } else fit = again(fit, fit.problem, LEARNT * fit.smoothing);
  let inverse = reweigh(rounds, fit, 3, 5);
  const smoothing = fixed.smoothing ?? fit.smoothing;
  if (inverse === null || smoothing !== fit.smoothing) {
    fit = again(fit, problemOn(rounds, fit.grid), smoothing);
    inverse = inverseOf(fit);
  }
  return { ...fit, inverse, pointWeights: weights, round: rounds.round, sharp };
};

/** The same fit, knots, stiffness, weights and smoothing, of other heights. */
export const solvedAgain = (fit: AdaptiveFit, z: Float64Array): AdaptiveFit => {
  const obs = { ...fit.problem.obs, z: Float64Array.from(fit.problem.obs.source, (p) => z[p]) };
  const problem = problemOf(fit.grid, obs, fit.problem.weights);
  return { ...fit, ...again(fit, problem, fit.smoothing) };
};
