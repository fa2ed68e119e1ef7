import type { Survey } from '../survey/survey.js';
import type { AdaptiveFit } from './adaptive-fit.js';
import { bendingMatrix } from './bending.js';
import { faceDoubt } from './face-doubt.js';
import { softened } from './local-stiffness.js';
import { otherMoments } from './moment-doubt.js';
import { ownError } from './own-error.js';
import type { PointError } from './point-error.js';
import { driftDoubt, unseenOf } from './possible-drift.js';
import type { SharedDoubt } from './posterior.js';
import type { Scatter } from './scatter.js';
import { considered, type SharedErrors, solveShared } from './shared-errors.js';
import { possibleStep } from './shared-model.js';
import type { SharedFinding } from './shared-search.js';
import { effectiveDegrees, problemOf, solveAt } from './smoothing.js';
import { possibleSwaths, type SwathStep } from './swath-doubt.js';
import { leastDegrees, likeliestDegrees, trustSmoothing } from './trust-smoothing.js';
import { type Drift, driftOfSize } from './walk-drift.js';
import type { TriedStep } from './walk-steps.js';
import type { SurveyWaves } from './waves-of-survey.js';

/** How far the fitted ground is trusted: its own doubt, and that of the errors which its points share. */

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
 * From the air the errors are so large that the local stiffness is learnt from noise as much as from ground: where the
 * heights do not say so far more clearly than an even one it is trusted to this power, so that the ground beside a bend is
 * doubted more. Set on seeds 173501 and 173502; on tiers of 200000 and 200001 the whole of it is the likelier (by 17 to 30
 * in twice the logarithm), and right.
 */
const LEARNT_SHARE = 0.75;

/**
 * Two sessions or swaths do not tell which of them has the right level: the ground's is taken midway, and
 * doubted by this share of the step (as the mean of two levels, each as wrong as their difference shows).
 */
const LEVEL_OF_STEP = 0.5;

/** The fit, and the errors that its points share as they were found beside it. */
export interface Found {
  readonly fit: AdaptiveFit;
  readonly finding: SharedFinding;
  /** Straight steps that were looked for. */
  readonly straight: readonly TriedStep[];
  /** Steps of the walk, at each moment that was tried. */
  readonly walked: readonly TriedStep[];
  /** Drifts that were tried. */
  readonly drifts: readonly Drift[];
  readonly model: SharedErrors | null;
  /** The step between two swaths whose edge the survey does not tell; null where there are none. */
  readonly swaths: SwathStep | null;
  /** Waves too short for the surface, and the points without them. */
  readonly waves: SurveyWaves;
  readonly scatter: Scatter;
}

/** The fit's problem with the heights as they were measured. */
export const measuredProblem = ({ problem }: AdaptiveFit, { z }: Scatter) => {
  const obs = { ...problem.obs, z: Float64Array.from(problem.obs.source, (p) => z[p]) };
  return problemOf(problem.grid, obs, problem.weights);
};

/** How the points came about, as far as their errors tell. */
interface Source {
  readonly error: PointError;
  /** Standard deviation of a point about the fit, metres. */
  readonly sigma: number;
  readonly kind: Survey['kind'];
  readonly time: Float64Array | null;
  /** Points that were given; corners of breaklines come after them. */
  readonly points: number;
}

/** Whether the points come from the air, as clouds and grids do. */
export const isAerial = (kind: Survey['kind'] | undefined): boolean =>
  kind === 'grid' || kind === 'cloud';

/** The error that a point is taken to have to itself, metres. @param free heights less what the ground takes of them. */
export const errorOfPoint = (
  { error, sigma, kind }: Pick<Source, 'error' | 'sigma' | 'kind'>,
  free: number,
): number =>
  // The survey's own word on its accuracy is not bettered by a fit that happens to be close.
  Math.max(sigma, kind === 'grid' ? error.least : ownError(error.least, sigma, free));

/** Steps of the walk at other moments than that which was taken off, or at any where neither a step nor a drift was found. */
const momentsLeft = ({ finding, walked }: Found, scatter: Scatter, points: number) => {
  const { steps, suspected, drift } = finding;
  if (walked.length === 0) return null;
  const [taken] = steps;
  if (taken !== undefined) {
    return taken.after === null ? null : otherMoments(scatter, points, taken, walked);
  }
  return suspected === null && drift === null
    ? otherMoments(scatter, points, { height: 0, after: null }, walked)
    : null;
};

/** The posterior's factor, its noise and what shared errors add, by a prior looser than the fit's. */
export const trustOf = (found: Found, scatter: Scatter, source: Source) => {
  const { fit, finding, model, drifts, swaths } = found;
  const { error, kind, time, points } = source;
  const { grid, problem, stiffness, smoothing } = fit;
  const aerial = isAerial(kind);
  const degrees = effectiveDegrees(problem, fit.inverse);
  const spread = errorOfPoint(source, problem.mass - degrees);
  const unseen = kind === 'grid' ? 0 : unseenOf(scatter.statedSigma, spread, finding);
  const bending = (own: Float64Array | null) => ({
    energy: bendingMatrix(grid, own, TRUST_THIRD_LENGTH),
    smoothing: smoothing / TRUST_LOOSENESS,
  });
  const whole = bending(stiffness);
  const ground = aerial
    ? likeliestDegrees(problem, whole, TRUST_THIRD_LENGTH, error.known ?? spread)
    : { degrees: leastDegrees(problem), bends: true };
  const local =
    ground.bends || stiffness === null ? whole : bending(softened(stiffness, LEARNT_SHARE));
  const trusted = trustSmoothing(problem, local, { degrees, asked: ground.degrees });
  const { factor } = solveAt(problem, local.energy, trusted);
  const parts: { spreading: Float64Array; count: number }[] = [];
  const measured = measuredProblem(fit, scatter);
  if (model !== null) {
    parts.push({ ...solveShared(measured, factor, model, spread), count: model.count });
  }
  const others = momentsLeft(found, scatter, points);
  if (others !== null) {
    parts.push({ spreading: considered(measured, factor, others, spread), count: others.count });
  }
  if (finding.suspected !== null) {
    const step = possibleStep(scatter, points, finding.suspected);
    parts.push({ spreading: considered(measured, factor, step, spread), count: 1 });
  }
  const slow = unseen > 0 ? driftOfSize(drifts, unseen) : null;
  const walk = { time, points, all: scatter.x.length };
  for (const drift of [finding.possibleDrift, slow]) {
    if (drift === null) continue;
    parts.push(driftDoubt({ problem: measured, factor }, walk, drift, spread));
  }
  const face = aerial ? null : faceDoubt(fit, scatter);
  if (face !== null) parts.push({ spreading: face.map((own) => own / spread), count: 1 });
  let edges: Float64Array = new Float64Array(0);
  if (swaths !== null) {
    const { errors, chances } = possibleSwaths(scatter, swaths);
    parts.push({ spreading: considered(measured, factor, errors, spread), count: errors.count });
    edges = chances;
  }
  // A step found between swaths is the one that is doubted.
  const jumps = swaths === null ? finding.steps : [];
  const unsure = finding.suspected === null ? jumps : [...jumps, finding.suspected];
  const levels = [error.swathStep, ...unsure.map(({ height }) => height)];
  const offset = Math.hypot(LEVEL_OF_STEP * Math.hypot(...levels), slow === null ? unseen : 0);
  const shared: SharedDoubt | null =
    offset === 0 && parts.length === 0 ? null : { ...sideBySide(grid.size, parts), offset, edges };
  return { factor, spread, shared, unseen };
};

/** The rows of several matrices joined. */
const sideBySide = (
  rows: number,
  parts: readonly { readonly spreading: Float64Array; readonly count: number }[],
): { spreading: Float64Array; count: number } => {
  const count = parts.reduce((sum, part) => sum + part.count, 0);
  const spreading = new Float64Array(rows * count);
  let from = 0;
  for (const part of parts) {
    for (let i = 0; i < rows; i++) {
      const row = part.spreading.subarray(i * part.count, (i + 1) * part.count);
      spreading.set(row, i * count + from);
    }
    from += part.count;
  }
  return { spreading, count };
};
