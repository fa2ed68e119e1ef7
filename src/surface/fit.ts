import { InputFault } from '../fault.js';
import type { Ring } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import { bendingMatrix } from './bending.js';
import { type Breakline, withBreaklines } from './breaklines.js';
import { selectedInverse } from './envelope.js';
import type { KnotGrid } from './knot-grid.js';
import { knotGrid } from './knot-grid.js';
import { localStiffness, sharpestBend } from './local-stiffness.js';
import { observe } from './observations.js';
import { deletedResiduals, hampelWeights, LEAST_NOISE, robustScale } from './outliers.js';
import { addPlane, planeThrough } from './plane.js';
import {
  chooseSmoothing,
  effectiveDegrees,
  type Problem,
  problemOf,
  riskOf,
  type Solved,
  solveAt,
} from './smoothing.js';
import { completeCoefficients, splineSurface } from './spline-surface.js';
import type { StoredSurface } from './stored-surface.js';
import type { Surface } from './surface.js';
import { posteriorTrust } from './trust.js';

/** What is known of the ground of one green, in the frame of the green, metres. */
export interface Ground {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly outline: Ring;
  /** Lines across which the ground may bend sharply: x, y, z. */
  readonly breaklines?: readonly Breakline[];
  /** Standard deviation of z that the survey states, metres. */
  readonly statedSigma?: number | null;
}

export interface FitOptions {
  /** How far past the outline the surface may be asked, metres. */
  readonly collar?: number;
  /** Distance between knots, metres; chosen by the ground where it is left out. */
  readonly knotStep?: number;
  /** Fixes the last smoothing instead of choosing it; as in FitReport.smoothing. */
  readonly smoothing?: number;
}

export interface Outlier {
  /** Place in the arrays of the ground. */
  readonly index: number;
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Height over the surface that the other points make, metres. */
  readonly residual: number;
}

export interface FitReport {
  readonly pointsGiven: number;
  /** Points on outline and collar; the outliers are among them, at reduced weight. */
  readonly pointsUsed: number;
  readonly knotStep: number;
  /** Number of basis functions fitted. */
  readonly unknowns: number;
  /** Factor of the locally weighted bending energy, m^2 (see local-stiffness.ts). */
  readonly smoothing: number;
  readonly effectiveDegrees: number;
  /** Estimated standard deviation of the noise of one point, metres. */
  readonly sigma: number;
  readonly statedSigma: number | null;
  readonly rmsResidual: number;
  readonly outliers: readonly Outlier[];
}

export const DEFAULT_COLLAR = 2;
/** Knots on ground that bends gently and on ground that bends sharply (tiers, walls), metres. */
const KNOT_STEP = 0.8;
const SHARP_KNOT_STEP = 0.53;
/** And where breaklines tell of edges, which the surface rounds over about a knot's distance. */
const BREAK_KNOT_STEP = 0.4;
/** Local root mean square of the curvature, 1/m, from which ground is sharp: 3 % more grade a metre. */
const SHARP_BEND = 0.03;
/** More unknowns than this are not worth their time; the knots then stand wider. */
const MOST_UNKNOWNS = 4000;
/** Fewer points than this on the green are no survey. */
const LEAST_POINTS = 12;
/** A studentised residual beyond this makes an outlier. */
const OUTLIER_AT = 4;
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

/**
 * The prior by which the fit is trusted is looser than the one that makes it: the local stiffness was
 * learnt from the same points, and cross-validation, out for the least error, smooths more than the
 * likelihood of the heights allows. It also holds the ground's third derivatives smaller, as those of mown
 * ground are. Both constants are set by coverage over simulated surveys (tests/surface/coverage), on
 * average over greens, and are not tuned to any one of them.
 */
const TRUST_LOOSENESS = 5;
const TRUST_THIRD_LENGTH = 6;

/** Heights over a plane, on a grid of knots, with weights of all the ground's points. */
interface State {
  readonly grid: KnotGrid;
  readonly problem: Problem;
  readonly energy: Float64Array;
  /** The energy's weights; null when it is the same everywhere. */
  readonly stiffness: Float64Array | null;
  readonly smoothing: number;
  readonly fit: Solved;
}

/** Mean distance between neighbouring points: the root of the area that each has. */
const spacingOf = (grid: KnotGrid, count: number): number =>
  Math.sqrt((grid.cells.length * grid.step * grid.step) / count);

/**
 * Fits a bicubic B-spline with a penalty on bending that follows the ground (local-stiffness.ts), its
 * smoothing chosen by cross-validation or by the accuracy that the survey states, robustly.
 *
 * @throws InputFault when too few points lie on the green.
 */
export const fitSurface = (
  ground: Ground,
  options: FitOptions = {},
): { surface: Surface; report: FitReport; stored: StoredSurface } => {
  const collar = options.collar ?? DEFAULT_COLLAR;
  const box = growBox(boxOf(ground.outline), collar);
  const breaklines = ground.breaklines ?? [];
  const stated = ground.statedSigma ?? null;
  const { x, y, z } = withBreaklines(ground, breaklines);
  const plane = planeThrough(x, y, z);
  const flat = z.map((height, k) => height - (plane[0] + plane[1] * x[k] + plane[2] * y[k]));
  const weightOf = new Float64Array(flat.length).fill(1);

  const gridOf = (wish: number): KnotGrid => {
    const grid = knotGrid(ground.outline, collar, box, wish);
    if (grid.size <= MOST_UNKNOWNS) return grid;
    return knotGrid(
      ground.outline,
      collar,
      box,
      wish * Math.sqrt(grid.size / MOST_UNKNOWNS) * 1.02,
    );
  };
  const surfaceOn = (grid: KnotGrid, coefficients: Float64Array): Surface =>
    splineSurface(
      grid,
      completeCoefficients(grid, coefficients),
      ground.outline,
      collar,
      box,
      null,
    );

  const first = gridOf(options.knotStep ?? KNOT_STEP);
  const seen = observe(first, x, y, flat);
  if (seen.count < LEAST_POINTS) {
    throw new InputFault(
      {},
      `only ${seen.count} points lie on the green and its collar`,
      `a surface needs ${LEAST_POINTS} or more; check the coordinates and the outline`,
    );
  }
  const radius = NEIGHBOURHOOD * Math.max(0.5, Math.min(3, spacingOf(first, seen.count)));

  const problemOn = (grid: KnotGrid): Problem => {
    const obs = grid === first ? seen : observe(grid, x, y, flat);
    return problemOf(
      grid,
      obs,
      Float64Array.from(obs.source, (p) => weightOf[p]),
    );
  };
  const solve = (
    problem: Problem,
    stiffness: Float64Array | null,
    start: number,
    width: number,
    accuracy: number | null,
  ): State => {
    const energy = bendingMatrix(problem.grid, stiffness, THIRD_LENGTH);
    const smoothing = chooseSmoothing((s) => riskOf(problem, energy, s, accuracy), start, width);
    const fit = solveAt(problem, energy, smoothing);
    return { grid: problem.grid, problem, energy, stiffness, smoothing, fit };
  };
  /** Sets the weights from the residuals; true when any moved much, else all stay as they were. */
  const reweigh = (from: number, to: number): boolean => {
    const inverse = selectedInverse(state.grid.envelope, state.fit.factor);
    settled = inverse;
    const { studentised } = deletedResiduals(state.problem, state.fit, inverse);
    const weights = hampelWeights(studentised, robustScale(studentised), from, to);
    if (weights.every((w, k) => Math.abs(w - state.problem.weights[k]) <= 0.1)) return false;
    weights.forEach((w, k) => {
      weightOf[state.problem.obs.source[k]] = w;
    });
    settled = null;
    return true;
  };

  // An even stiffness first. Sharp ground leaves residuals under it, so only gross errors are put
  // aside, and the line is drawn closer as the fit learns the ground. Until they are, a stated accuracy
  // is no guide: to meet it the fit would run after the gross errors.
  const even = breaklines.length === 0 ? null : localStiffness(first, null, radius, breaklines);
  let state = solve(problemOn(first), even, 1, 1, null);
  /** The inverse that belongs to the state, when no weight has changed since. */
  let settled: Float64Array | null = null;
  const solveAgain = (problem: Problem, smoothing: number): void => {
    state = { ...state, problem, smoothing, fit: solveAt(problem, state.energy, smoothing) };
    settled = null;
  };
  for (let round = 0; round < 3 && reweigh(8, 12); round++) {
    solveAgain(problemOn(first), state.smoothing);
  }
  const pilot = (): Surface['at'] => surfaceOn(state.grid, state.fit.coefficients).at;
  const adapt = (grid: KnotGrid, width: number, start: number): void => {
    const stiffness = localStiffness(grid, pilot(), radius, breaklines);
    state = solve(problemOn(grid), stiffness, start, width, stated);
    settled = null;
  };
  for (let round = 0; round < ROUNDS; round++) {
    adapt(first, round === 0 ? 0.6 : 0.3, state.smoothing);
    if (round === 0) reweigh(5, 8);
  }
  const sharp =
    options.knotStep === undefined &&
    (breaklines.length > 0 || sharpestBend(first, pilot(), radius) > SHARP_BEND);
  if (sharp) {
    reweigh(3, 5);
    const finer = breaklines.length > 0 ? BREAK_KNOT_STEP : SHARP_KNOT_STEP;
    adapt(gridOf(finer), 0.5, 2 * state.smoothing);
  } else solveAgain(state.problem, LEARNT * state.smoothing);
  reweigh(3, 5);

  const { grid, energy } = state;
  const smoothing = options.smoothing ?? state.smoothing;
  const kept = settled !== null && smoothing === state.smoothing;
  const problem = kept ? state.problem : problemOn(grid);
  const fit = kept ? state.fit : solveAt(problem, energy, smoothing);
  const inverse = kept ? settled! : selectedInverse(grid.envelope, fit.factor);
  const degrees = effectiveDegrees(problem, inverse);
  const sigma = Math.sqrt(fit.square / Math.max(1, problem.mass - degrees));
  const { deleted, studentised } = deletedResiduals(problem, fit, inverse);
  const outliers: Outlier[] = [];
  studentised.forEach((t, k) => {
    const index = problem.obs.source[k];
    if (Math.abs(t) > OUTLIER_AT * Math.max(sigma, LEAST_NOISE)) {
      outliers.push({ index, x: x[index], y: y[index], z: z[index], residual: deleted[k] });
    }
  });
  const coefficients = completeCoefficients(grid, fit.coefficients);
  addPlane(grid, coefficients, plane);
  // The survey's own word on its accuracy is not bettered by a fit that happens to be close.
  const spread = Math.max(sigma, stated ?? 0);
  const looser = bendingMatrix(grid, state.stiffness, TRUST_THIRD_LENGTH);
  const prior = solveAt(problem, looser, smoothing / TRUST_LOOSENESS);
  const trust = posteriorTrust(grid, prior.factor, spread);
  return {
    surface: splineSurface(grid, coefficients, ground.outline, collar, box, trust),
    stored: {
      outline: ground.outline,
      collar,
      knotStep: grid.step,
      live: grid.live,
      coefficients,
      factor: prior.factor,
      sigma: spread,
    },
    report: {
      pointsGiven: ground.x.length,
      pointsUsed: problem.obs.count,
      knotStep: grid.step,
      unknowns: grid.size,
      smoothing,
      effectiveDegrees: degrees,
      sigma,
      statedSigma: stated,
      rmsResidual: Math.sqrt(fit.square / problem.mass),
      outliers,
    },
  };
};
