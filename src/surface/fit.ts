import type { Ring } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import type { PacedReadings, Survey } from '../survey/survey.js';
import { type AdaptiveFit, adaptiveFit, noiseOf, pilotOf, solvedAgain } from './adaptive-fit.js';
import { type Breakline, withBreaklines } from './breaklines.js';
import { errorOfPoint, type Found, isAerial, measuredProblem, trustOf } from './fit-trust.js';
import { localScales } from './local-scatter.js';
import { tiltLeft } from './missed-step.js';
import { deletedResiduals, LEAST_NOISE } from './outliers.js';
import { pacedSurface } from './paced-surface.js';
import { addPlane, planeThrough } from './plane.js';
import { type PointError, pointError } from './point-error.js';
import type { Scatter } from './scatter.js';
import { type SharedErrors, solveShared, withoutShared } from './shared-errors.js';
import { sharedModel } from './shared-model.js';
import { type SearchOptions, type SharedFinding, searchShared } from './shared-search.js';
import { effectiveDegrees } from './smoothing.js';
import { completeCoefficients, splineSurface } from './spline-surface.js';
import type { StoredSurface } from './stored-surface.js';
import { H, JET_SIZE, type Surface } from './surface.js';
import { swathStepOf } from './swath-doubt.js';
import { posteriorTrust } from './trust.js';
import { type Wave, withWaves } from './wave-doubt.js';
import { doubtOf, NO_WAVES, type SurveyWaves, wavesOf, withoutWaves } from './waves-of-survey.js';
import { wideningOf } from './widening.js';

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
  /** Set for places that were paced and read by hand; see Survey. */
  readonly paced?: PacedReadings | null;
}

/** A survey's part in the ground of a green: all but the outline. */
export const groundOfSurvey = (survey: Survey): Omit<Ground, 'outline'> => {
  const { x, y, z, breaklines, statedSigma, kind, cellSize, time, session, paced } = survey;
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
    paced: paced ?? null,
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
  /** Factor of the locally weighted bending energy, m^2 (see local-stiffness.ts); 0 for a survey by hand. */
  readonly smoothing: number;
  /** As many as points for a survey by hand. */
  readonly effectiveDegrees: number;
  /** Estimated standard deviation of the noise of one point, metres. */
  readonly sigma: number;
  readonly statedSigma: number | null;
  readonly rmsResidual: number;
  readonly outliers: readonly Outlier[];
  /** Errors that points have in common: what was looked for and found. */
  readonly shared: SharedFinding;
  /** What drift, steps and sessions were taken to be at each point of the ground, metres; null where none was found. */
  readonly taken: Float64Array | null;
  /** Tilt that a step which the heights allow would give to the putts of the green (see missed-step.ts), a fraction. */
  readonly missedTilt: number;
  /** Waves of the ground that are too short for the surface, as the residuals keep them. */
  readonly waves: readonly Wave[];
  /** One that is not clear, and not excluded either. */
  readonly possibleWave: Wave | null;
  /** What could have been found of waves; null where none were looked for. */
  readonly wavePower: SurveyWaves['power'];
  /** How the error of one point is known. */
  readonly pointError: PointError;
  /** What the survey states beyond what its points show: neighbours have it in common; standard deviation, metres. */
  readonly unseen: number;
}

export const DEFAULT_COLLAR = 2;
/** A studentised residual beyond this makes an outlier. */
const OUTLIER_AT = 4;

/**
 * Ground and shared errors: a first fit as if there were none, the search by its weights, and, where it
 * finds some, a fit of the heights without them, and the estimate of both together.
 */
const findShared = (
  ground: Ground,
  given: Scatter,
  options: FitOptions,
  error: PointError,
): Found & { readonly taken: Float64Array | null } => {
  let fit = adaptiveFit(given, options);
  const searchBy = (): SearchOptions => ({
    walk: (ground.kind ?? 'points') === 'points',
    time: ground.time ?? null,
    weights: fit.pointWeights,
    pilot: pilotOf(given, fit),
    sharp: fit.sharp,
    points: ground.x.length,
    sigma: given.knownSigma,
  });
  let search = searchBy();
  let shared = searchShared(given, search);
  const waves = ground.kind === 'grid' ? NO_WAVES : wavesOf(given, search, shared);
  const scatter = withoutWaves(given, waves.waves);
  if (waves.waves.length > 0) {
    fit = adaptiveFit(scatter, options);
    search = searchBy();
    shared = searchShared(scatter, search);
  }
  const { finding, straight, walked, drifts } = shared;
  const looked = { finding, straight, walked, drifts, waves, scatter };
  // What the step between swaths is expected to be is taken off, whether one of its lines is clear or not.
  const swaths =
    error.swathStep > 0
      ? swathStepOf(shared.ground, scatter, {
          step: error.swathStep,
          variance: Math.max(LEAST_NOISE, errorOfFit(fit, ground, error)) ** 2,
        })
      : null;
  const own = swaths === null ? finding : { ...finding, steps: [] };
  const model = sharedModel(scatter, search, ground.session ?? null, own);
  if (model === null && swaths === null) return { fit, ...looked, model, swaths, taken: null };
  const without = (found: AdaptiveFit): Float64Array => {
    const z = swaths === null ? scatter.z : scatter.z.map((h, p) => h - swaths.expected[p]);
    return model === null
      ? z
      : withoutShared(z, model, estimateOf(found, { ...scatter, z }, model));
  };
  if (model !== null || finding.steps.length > 0) {
    fit = adaptiveFit({ ...scatter, z: without(fit) }, options);
  }
  const left = without(fit);
  const taken =
    model === null ? null : Float64Array.from(ground.x, (_, p) => scatter.z[p] - left[p]);
  return { fit: solvedAgain(fit, left), ...looked, model, swaths, taken };
};

const errorOfFit = (fit: AdaptiveFit, ground: Ground, error: PointError): number => {
  const degrees = effectiveDegrees(fit.problem, fit.inverse);
  const source = { error, sigma: noiseOf(fit, degrees), kind: ground.kind ?? 'points' };
  return errorOfPoint(source, fit.problem.mass - degrees);
};

const estimateOf = (fit: AdaptiveFit, scatter: Scatter, model: SharedErrors): Float64Array => {
  const problem = measuredProblem(fit, scatter);
  const sigma = noiseOf(fit, effectiveDegrees(fit.problem, fit.inverse));
  return solveShared(problem, fit.solved.factor, model, Math.max(sigma, LEAST_NOISE)).estimate;
};

/** Points whose residual stands out from those of all. */
const outliersOf = ({ problem, solved, inverse, round }: AdaptiveFit, sigma: number) => {
  const { deleted, studentised } = deletedResiduals(problem, solved, inverse);
  const scales = localScales(studentised, problem.obs.source, round, Math.max(sigma, LEAST_NOISE));
  const outliers: { index: number; residual: number }[] = [];
  studentised.forEach((t, k) => {
    const index = problem.obs.source[k];
    if (Math.abs(t) > OUTLIER_AT * scales[k]) {
      outliers.push({ index, residual: deleted[k] });
    }
  });
  return outliers;
};

/** The ground of a survey by hand (paced-surface.ts): a walk's errors and waves are not looked for among few places. */
const fitPaced = (ground: Ground, paced: PacedReadings, collar: number): Fitted => {
  const { x, y, z, outline } = ground;
  const statedSigma = ground.statedSigma ?? null;
  const sigma = Math.max(LEAST_NOISE, statedSigma ?? paced.heightSd);
  const shape = { outline, collar, box: growBox(boxOf(outline), collar) };
  const { surface, stored, grid, off } = pacedSurface(ground, paced, sigma, shape);
  const jet = new Float64Array(JET_SIZE);
  const square = z.reduce((sum, height, k) => {
    surface.at(x[k], y[k], jet);
    return sum + (height - jet[H]) ** 2;
  }, 0);
  return {
    surface,
    stored,
    report: {
      ...{ pointsGiven: x.length, pointsUsed: x.length, knotStep: grid.step, unknowns: grid.size },
      ...{ smoothing: 0, effectiveDegrees: x.length, sigma, statedSigma },
      rmsResidual: Math.sqrt(square / x.length),
      outliers: off.map((one) => ({ ...one, x: x[one.index], y: y[one.index], z: z[one.index] })),
      shared: { drift: null, steps: [], suspected: null, possibleDrift: null, power: Infinity },
      taken: null,
      missedTilt: Infinity,
      ...{ waves: [], possibleWave: null, wavePower: null },
      ...{ pointError: pointError(ground, z), unseen: 0 },
    },
  };
};

interface Fitted {
  readonly surface: Surface;
  readonly report: FitReport;
  readonly stored: StoredSurface;
}

/**
 * Fits a bicubic B-spline with a penalty on bending that follows the ground (local-stiffness.ts), its
 * smoothing chosen by cross-validation or by the accuracy that the survey states, robustly; and with it
 * the errors that neighbouring points share.
 *
 * @throws InputFault when too few points lie on the green.
 */
export const fitSurface = (ground: Ground, options: FitOptions = {}): Fitted => {
  const { outline } = ground;
  const collar = options.collar ?? DEFAULT_COLLAR;
  if (ground.paced) return fitPaced(ground, ground.paced, collar);
  const box = growBox(boxOf(outline), collar);
  const breaklines = ground.breaklines ?? [];
  const statedSigma = ground.statedSigma ?? null;
  const { x, y, z } = withBreaklines(ground, breaklines);
  const plane = planeThrough(x, y, z);
  const flat = z.map((height, k) => height - (plane[0] + plane[1] * x[k] + plane[2] * y[k]));
  const error = pointError(ground, flat);
  const found = findShared(
    ground,
    { x, y, z: flat, breaklines, statedSigma, knownSigma: error.known, outline, collar, box },
    options,
    error,
  );
  const { scatter } = found;
  const { waves, possible, power: wavePower } = found.waves;
  const doubted = [...waves, ...doubtOf(possible)];
  const { grid, problem, smoothing, solved, inverse } = found.fit;
  const degrees = effectiveDegrees(problem, inverse);
  const sigma = noiseOf(found.fit, degrees);
  const { factor, spread, shared, unseen } = trustOf(found, scatter, {
    error,
    sigma,
    kind: ground.kind ?? 'points',
    time: ground.time ?? null,
    points: ground.x.length,
  });
  const kept = factor.copy();
  const coefficients = completeCoefficients(grid, solved.coefficients);
  addPlane(grid, coefficients, plane);
  const posterior = posteriorTrust(grid, kept, spread, shared);
  const widening = wideningOf(
    { grid, factor: kept, shared },
    spread,
    outline,
    posterior,
    isAerial(ground.kind),
  );
  const trust = withWaves({ ...posterior, widening }, doubted);
  const surface = splineSurface(grid, coefficients, { outline, collar, box }, trust);
  const { finding, straight } = found;
  const missedTilt = tiltLeft({ problem, factor: solved.factor }, scatter, surface, {
    straight,
    explained: finding.drift !== null || finding.steps.length > 0,
  });
  return {
    surface,
    stored: {
      outline,
      collar,
      knotStep: grid.step,
      live: grid.live,
      coefficients,
      factor: kept,
      sigma: spread,
      shared,
      waves: doubted,
      widening,
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
      outliers: outliersOf(found.fit, sigma).map(({ index, residual }) => ({
        index,
        x: x[index],
        y: y[index],
        z: z[index],
        residual,
      })),
      shared: finding,
      taken: found.taken,
      missedTilt,
      waves,
      possibleWave: possible,
      wavePower,
      ...{ pointError: error, unseen },
    },
  };
};
