import { InputFault } from '../fault.js';
import type { Ring } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import { bendingMatrix } from './bending.js';
import { selectedInverse } from './envelope.js';
import type { KnotGrid } from './knot-grid.js';
import { knotGrid } from './knot-grid.js';
import { type Breakline, localStiffness, sharpestBend } from './local-stiffness.js';
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
const MOST_UNKNOWNS = 4500;
/** Fewer points than this on the green are no survey. */
const LEAST_POINTS = 12;
/** A studentised residual beyond this makes an outlier. */
const OUTLIER_AT = 4;
/** Rounds of local stiffness; more change the errors by a few per cent at most. */
const ROUNDS = 4;
/** Neighbourhood of the local stiffness: points that are this many spacings away count half or so. */
const NEIGHBOURHOOD = 1.2;

/**
 * The prior by which the fit is trusted is looser than the one that makes it: the local stiffness was
 * learnt from the same points, and cross-validation, out for the least error, smooths more than the
 * likelihood of the heights allows. It also takes the ground's third derivatives for finite, as those of
 * mown ground are. Both constants are set by coverage over simulated surveys
 * (tests/surface/coverage.test.ts), on average over greens, and are not tuned to any one of them.
 */
const TRUST_LOOSENESS = 10;
const TRUST_THIRD_LENGTH = 5;

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

/** The ground's points and, when there are breaklines, their corners that are not among the points. */
const withBreaklines = (ground: Ground): { x: Float64Array; y: Float64Array; z: Float64Array } => {
  const corners = (ground.breaklines ?? [])
    .flat()
    .filter((corner) => corner.every(Number.isFinite));
  if (corners.length === 0) return ground;
  const key = (x: number, y: number) => `${Math.round(1000 * x)},${Math.round(1000 * y)}`;
  const seen = new Set<string>();
  for (let k = 0; k < ground.x.length; k++) seen.add(key(ground.x[k], ground.y[k]));
  const fresh = corners.filter(([x, y]) => {
    const name = key(x, y);
    if (seen.has(name)) return false;
    seen.add(name);
    return true;
  });
  const join = (own: Float64Array, place: 0 | 1 | 2) =>
    Float64Array.from([...own, ...fresh.map((corner) => corner[place])]);
  return { x: join(ground.x, 0), y: join(ground.y, 1), z: join(ground.z, 2) };
};

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
  const { x, y, z } = withBreaklines(ground);
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
    const obs = observe(grid, x, y, flat);
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
  ): State => {
    const energy = bendingMatrix(problem.grid, stiffness);
    const smoothing = chooseSmoothing((s) => riskOf(problem, energy, s, stated), start, width);
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
  // aside, and the line is drawn closer as the fit learns the ground.
  const even = breaklines.length === 0 ? null : localStiffness(first, null, radius, breaklines);
  let state = solve(problemOn(first), even, 1, 1);
  /** The inverse that belongs to the state, when no weight has changed since. */
  let settled: Float64Array | null = null;
  for (let round = 0; round < 3 && reweigh(8, 12); round++) {
    state = solve(problemOn(first), even, state.smoothing, 0.5);
  }
  const adapt = (grid: KnotGrid, width: number, start: number): void => {
    const pilot = surfaceOn(state.grid, state.fit.coefficients).at;
    const stiffness = localStiffness(grid, pilot, radius, breaklines);
    state = solve(problemOn(grid), stiffness, start, width);
    settled = null;
  };
  for (let round = 0; round < ROUNDS; round++) {
    adapt(first, round === 0 ? 0.6 : 0.3, state.smoothing);
    if (round === 0) reweigh(5, 8);
  }
  reweigh(3, 5);
  if (options.knotStep === undefined) {
    const pilot = surfaceOn(state.grid, state.fit.coefficients).at;
    if (breaklines.length > 0 || sharpestBend(first, pilot, radius) > SHARP_BEND) {
      adapt(
        gridOf(breaklines.length > 0 ? BREAK_KNOT_STEP : SHARP_KNOT_STEP),
        0.5,
        2 * state.smoothing,
      );
      reweigh(3, 5);
    }
  }

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
