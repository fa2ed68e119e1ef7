import { InputFault } from '../fault.js';
import type { Ring } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import { bendingMatrix } from './bending.js';
import { selectedInverse } from './envelope.js';
import { knotGrid } from './knot-grid.js';
import { observe, quadraticForms, residuals } from './observations.js';
import { hampelWeights, robustScale } from './outliers.js';
import { addPlane, planeThrough } from './plane.js';
import { chooseSmoothing, solveAt } from './smoothing.js';
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
  readonly breaklines?: readonly (readonly (readonly [number, number, number])[])[];
  /** Standard deviation of z that the survey states, metres. */
  readonly statedSigma?: number | null;
}

export interface FitOptions {
  /** How far past the outline the surface may be asked, metres. */
  readonly collar?: number;
  /** Distance between knots, metres. */
  readonly knotStep?: number;
  /** Fixes the smoothing instead of choosing it; as in FitReport.smoothing. */
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
  /** Factor of the bending energy (m^2 of squared height per m^2 of squared curvature times area). */
  readonly smoothing: number;
  readonly effectiveDegrees: number;
  /** Estimated standard deviation of the noise of one point, metres. */
  readonly sigma: number;
  readonly statedSigma: number | null;
  readonly rmsResidual: number;
  readonly outliers: readonly Outlier[];
}

export const DEFAULT_COLLAR = 2;
const KNOT_STEP = 0.8;
/** Fewer points than this on the green are no survey. */
const LEAST_POINTS = 12;
/** A deleted residual over this many noise deviations makes an outlier. */
const OUTLIER_AT = 4;

export const fitSurface = (
  ground: Ground,
  options: FitOptions = {},
): { surface: Surface; report: FitReport; stored: StoredSurface } => {
  const collar = options.collar ?? DEFAULT_COLLAR;
  const step = options.knotStep ?? KNOT_STEP;
  const box = growBox(boxOf(ground.outline), collar);
  const grid = knotGrid(ground.outline, collar, box, step);
  const plane = planeThrough(ground.x, ground.y, ground.z);
  const flat = ground.z.map(
    (z, k) => z - (plane[0] + plane[1] * ground.x[k] + plane[2] * ground.y[k]),
  );
  const obs = observe(grid, ground.x, ground.y, flat);
  if (obs.count < LEAST_POINTS) {
    throw new InputFault(
      {},
      `only ${obs.count} points lie on the green and its collar`,
      `a surface needs ${LEAST_POINTS} or more; check the coordinates and the outline`,
    );
  }
  const bending = bendingMatrix(grid, null);
  let weights = new Float64Array(obs.count).fill(1);
  let smoothing = options.smoothing ?? 0;
  let left = new Float64Array(0);
  let fit = null;
  for (let round = 0; round < 3; round++) {
    smoothing = options.smoothing ?? chooseSmoothing(grid, obs, weights, bending, smoothing);
    fit = solveAt(grid, obs, weights, bending, smoothing);
    const inverse = selectedInverse(grid.envelope, fit.factor);
    const leverage = quadraticForms(grid, obs, inverse);
    left = residuals(obs, fit.coefficients).map(
      (r, k) => r / Math.max(0.05, 1 - weights[k] * leverage[k]),
    );
    const scale = robustScale(left);
    const next = hampelWeights(left, scale);
    const moved = next.some((w, k) => Math.abs(w - weights[k]) > 0.1);
    weights = next;
    if (!moved) break;
  }
  const last = solveAt(grid, obs, weights, bending, smoothing);
  const inverse = selectedInverse(grid.envelope, last.factor);
  const degrees = last.degrees(inverse);
  const r = residuals(obs, last.coefficients);
  let square = 0;
  let mass = 0;
  for (let k = 0; k < r.length; k++) {
    square += weights[k] * r[k] * r[k];
    mass += weights[k];
  }
  const sigma = Math.sqrt(square / Math.max(1, mass - degrees));
  const outliers: Outlier[] = [];
  left.forEach((d, k) => {
    const index = obs.source[k];
    if (Math.abs(d) > OUTLIER_AT * Math.max(sigma, 1e-6)) {
      outliers.push({
        index,
        x: ground.x[index],
        y: ground.y[index],
        z: ground.z[index],
        residual: d,
      });
    }
  });
  const coefficients = completeCoefficients(grid, last.coefficients);
  addPlane(grid, coefficients, plane);
  const trust = posteriorTrust(grid, last.factor, inverse, sigma);
  return {
    surface: splineSurface(grid, coefficients, ground.outline, collar, box, trust),
    stored: {
      outline: ground.outline,
      collar,
      knotStep: step,
      coefficients,
      factor: last.factor,
      sigma,
    },
    report: {
      pointsGiven: ground.x.length,
      pointsUsed: obs.count,
      knotStep: step,
      unknowns: grid.size,
      smoothing,
      effectiveDegrees: degrees,
      sigma,
      statedSigma: ground.statedSigma ?? null,
      rmsResidual: Math.sqrt(square / mass),
      outliers,
    },
  };
};
