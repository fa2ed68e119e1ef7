import type { Ring } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import type { Survey } from '../survey/survey.js';
import { adaptiveFit, noiseOf, type Scatter } from './adaptive-fit.js';
import { bendingMatrix } from './bending.js';
import { type Breakline, withBreaklines } from './breaklines.js';
import { deletedResiduals, LEAST_NOISE } from './outliers.js';
import { addPlane, planeThrough } from './plane.js';
import { effectiveDegrees, solveAt } from './smoothing.js';
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
  /** Standard deviation of z that the survey states, metres; what the points show counts where it is more. */
  readonly statedSigma?: number | null;
  /** How it was surveyed, by which errors that neighbours share are looked for; see Survey. */
  readonly kind?: Survey['kind'];
  readonly cellSize?: number | null;
  readonly time?: Float64Array | null;
  readonly session?: Int32Array | null;
}

/** A survey's part in the ground of a green: all but the outline. */
export const groundOfSurvey = (survey: Survey): Omit<Ground, 'outline'> => {
  const { x, y, z, breaklines, statedSigma, kind, cellSize, time, session } = survey;
  return {
    x,
    y,
    z,
    breaklines,
    statedSigma,
    kind,
    cellSize,
    time: time ?? null,
    session: session ?? null,
  };
};

export interface FitOptions {
  /** How far past the outline the surface may be asked, metres. */
  readonly collar?: number;
  /** Distance between knots, metres; chosen by the ground where it is left out. */
  readonly knotStep?: number;
  /** Fixes the last smoothing instead of choosing it; as in FitReport.smoothing. */
  readonly smoothing?: number;
}

export interface Outlier {
  /** Place in the arrays of the ground; past their end for a corner of a breakline that is not among them. */
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
/** A studentised residual beyond this makes an outlier. */
const OUTLIER_AT = 4;

/**
 * The prior by which the fit is trusted is looser than the one that makes it: the local stiffness was
 * learnt from the same points, and cross-validation, out for the least error, smooths more than the
 * likelihood of the heights allows. It also holds the ground's third derivatives smaller, as those of mown
 * ground are. Both constants are set by coverage over simulated surveys (tests/surface/demo-greens), on
 * average over greens, and are not tuned to any one of them.
 */
const TRUST_LOOSENESS = 5;
const TRUST_THIRD_LENGTH = 6;

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
  const { outline } = ground;
  const collar = options.collar ?? DEFAULT_COLLAR;
  const box = growBox(boxOf(outline), collar);
  const breaklines = ground.breaklines ?? [];
  const statedSigma = ground.statedSigma ?? null;
  const { x, y, z } = withBreaklines(ground, breaklines);
  const plane = planeThrough(x, y, z);
  const flat = z.map((height, k) => height - (plane[0] + plane[1] * x[k] + plane[2] * y[k]));
  const scatter: Scatter = { x, y, z: flat, breaklines, statedSigma, outline, collar, box };
  const fit = adaptiveFit(scatter, options);
  const { grid, problem, stiffness, smoothing, solved, inverse } = fit;
  const degrees = effectiveDegrees(problem, inverse);
  const sigma = noiseOf(fit, degrees);
  const { deleted, studentised } = deletedResiduals(problem, solved, inverse);
  const outliers: Outlier[] = [];
  studentised.forEach((t, k) => {
    const index = problem.obs.source[k];
    if (Math.abs(t) > OUTLIER_AT * Math.max(sigma, LEAST_NOISE)) {
      outliers.push({ index, x: x[index], y: y[index], z: z[index], residual: deleted[k] });
    }
  });
  const coefficients = completeCoefficients(grid, solved.coefficients);
  addPlane(grid, coefficients, plane);
  // The survey's own word on its accuracy is not bettered by a fit that happens to be close.
  const spread = Math.max(sigma, statedSigma ?? 0);
  const looser = bendingMatrix(grid, stiffness, TRUST_THIRD_LENGTH);
  const { factor } = solveAt(problem, looser, smoothing / TRUST_LOOSENESS);
  const trust = posteriorTrust(grid, factor, spread);
  return {
    surface: splineSurface(grid, coefficients, outline, collar, box, trust),
    stored: {
      outline,
      collar,
      knotStep: grid.step,
      live: grid.live,
      coefficients,
      factor,
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
      statedSigma,
      rmsResidual: Math.sqrt(solved.square / problem.mass),
      outliers,
    },
  };
};
