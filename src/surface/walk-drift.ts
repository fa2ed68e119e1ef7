import { factorDense, logDeterminantDense, solveLowerDense } from './dense.js';
import type { SharedInformation } from './shared-errors.js';
import type { SharedStep } from './walk-steps.js';

/** Drifts of a walk: what its moments are, and how likely each of several drifts is. */

/** Moments of the walk that are told apart, at most; and no fewer points than this to each. */
const MOMENTS = 70;
const POINTS_PER_MOMENT = 5;
/** Variance of the drift over that of a point's own noise. */
const RATIOS = [0.1, 0.25, 0.6, 1.5, 4];
/** How long a drift lasts, in points of the walk. */
const LASTING = [8, 20, 50, 120];
/** Of twice the logarithm: drifts this near to the likeliest may as well be true. */
const NEARLY = 2.5;
/** Drifts are about as large as one another within this, in the logarithm: that of a step between two ratios. */
const SIZE_APART = 0.45;
/** Twice the logarithm of the likelihood that a drift must gain. */
export const CLEAR_DRIFT = 12;

/** The moments of a walk: for each point its place among the knots of time, as in `SharedErrors`. */
export interface Moments {
  readonly count: number;
  readonly columns: Int32Array;
  readonly shares: Float64Array;
  /** Time of each knot, points or seconds. */
  readonly times: Float64Array;
}

export const momentsOf = (time: Float64Array | null, points: number, most = MOMENTS): Moments => {
  const at = time ?? Float64Array.from({ length: points }, (_, k) => k);
  const order = Array.from(at.keys())
    .filter((k) => Number.isFinite(at[k]))
    .sort((a, b) => at[a] - at[b]);
  const count = Math.max(2, Math.min(most, Math.floor(order.length / POINTS_PER_MOMENT)));
  const knots: number[] = [];
  for (let k = 0; k < count; k++) {
    const t = at[order[Math.round((k * (order.length - 1)) / (count - 1))]];
    if (knots.length === 0 || t > knots[knots.length - 1]) knots.push(t);
  }
  const columns = new Int32Array(2 * at.length).fill(-1);
  const shares = new Float64Array(2 * at.length);
  let j = 0;
  for (const p of order) {
    while (j + 2 < knots.length && at[p] > knots[j + 1]) j++;
    const f = Math.max(0, Math.min(1, (at[p] - knots[j]) / (knots[j + 1] - knots[j])));
    columns.set([j, j + 1], 2 * p);
    shares.set([1 - f, f], 2 * p);
  }
  return { count: knots.length, columns, shares, times: Float64Array.from(knots) };
};

/** Precision of a first-order Gauss-Markov process of unit variance at the knots, whole, 1. */
export const driftPrecision = (times: Float64Array, lasts: number): Float64Array => {
  const q = times.length;
  const out = new Float64Array(q * q);
  out[0] = 1;
  for (let k = 1; k < q; k++) {
    const keep = Math.exp(-(times[k] - times[k - 1]) / lasts);
    const free = Math.max(1e-9, 1 - keep * keep);
    out[(k - 1) * q + k - 1] += (keep * keep) / free;
    out[k * q + k] += 1 / free;
    out[(k - 1) * q + k] = -keep / free;
    out[k * q + k - 1] = -keep / free;
  }
  return out;
};

/** The ground of the search at one smoothing: what the columns tell, and the likelihood without them. */
export interface Searched {
  /** n - 3, log|A| - (N - 3) log s, and the weighted square that is left without shared errors. */
  readonly free: number;
  readonly constant: number;
  readonly square: number;
}

/** Nothing that a fit leaves counts as less, square metres: heights that are all alike leave nothing. */
export const LEAST_SQUARE = 1e-18;

export const minusTwiceLog = (
  { free, constant, square }: Searched,
  gain = 0,
  determinant = 0,
): number => free * Math.log(Math.max(LEAST_SQUARE, square - gain)) + constant + determinant;

/** A drift that is found: standard deviation, metres, and the points (or seconds, where times are known) it lasts. */
export interface FoundDrift {
  readonly sd: number;
  readonly lasts: number;
}

/** A drift that was tried: minus twice its log likelihood, standard deviation and lasting. */
export interface Drift {
  readonly value: number;
  readonly sd: number;
  readonly lasts: number;
}

/** What is known of drifts of each lasting before any height is looked at: their precision, and its log determinant. */
interface DriftPrior {
  readonly lasts: number;
  readonly precision: Float64Array;
  readonly determinant: number;
}

export const driftPriors = ({ count, times }: Moments, points: number): DriftPrior[] => {
  const perPoint = (times[count - 1] - times[0]) / points;
  return LASTING.map((lasting) => {
    const lasts = lasting * perPoint;
    const precision = driftPrecision(times, lasts);
    const whole = precision.slice();
    factorDense(whole, count);
    return { lasts, precision, determinant: logDeterminantDense(whole, count) };
  });
};

/** The lower half of information and prior together; a factor asks for no more. */
const lowerOfBoth = (
  out: Float64Array,
  count: number,
  information: Float64Array,
  prior: Float64Array,
  ratio: number,
): void => {
  for (let i = 0; i < count; i++) {
    for (let k = i * count; k <= i * count + i; k++) out[k] = information[k] + prior[k] / ratio;
  }
};

/** Drifts of several sizes and lastings at one smoothing. */
export const driftsAt = (
  one: Searched & { readonly told: SharedInformation },
  priors: readonly DriftPrior[],
): Drift[] => {
  const { information, score } = one.told;
  const count = score.length;
  const s = new Float64Array(count * count);
  const v = new Float64Array(count);
  const tried: Drift[] = [];
  for (const { lasts, precision, determinant: own } of priors) {
    for (const ratio of RATIOS) {
      lowerOfBoth(s, count, information, precision, ratio);
      if (!factorDense(s, count)) continue;
      v.set(score);
      solveLowerDense(s, count, v);
      const gain = v.reduce((sum, w) => sum + w * w, 0);
      const determinant = logDeterminantDense(s, count) - own + count * Math.log(ratio);
      const sd = Math.sqrt((ratio * (one.square - gain)) / one.free);
      tried.push({ value: minusTwiceLog(one, gain, determinant), sd, lasts });
    }
  }
  return tried;
};

/** Of drifts nearly as likely as the likeliest the one that does most harm, so that none is made light of. */
export const cautious = (tried: readonly Drift[]): Drift => {
  const least = Math.min(...tried.map(({ value }) => value));
  const harm = ({ sd, lasts }: Drift): number => sd * sd * lasts;
  return tried
    .filter(({ value }) => value <= least + NEARLY)
    .reduce((most, next) => (harm(next) > harm(most) ? next : most));
};

export const driftOf = ({ sd, lasts }: Drift): FoundDrift | null => ({ sd, lasts });

/** The likeliest of the drifts that are about as large as this; null where none was tried. */
export const driftOfSize = (tried: readonly Drift[], size: number): FoundDrift | null => {
  if (tried.length === 0) return null;
  const away = ({ sd }: Drift): number => Math.abs(Math.log(sd / size));
  const nearest = Math.min(...tried.map(away));
  const { lasts } = tried
    .filter((one) => away(one) <= nearest + SIZE_APART)
    .reduce((best, next) => (next.value < best.value ? next : best));
  return { sd: size, lasts };
};

/** Gain of twice the log likelihood by the likeliest drift. */
export const driftGainOf = ({
  plain,
  drifts,
}: {
  plain: number;
  drifts: readonly Drift[];
}): number => plain - Math.min(Infinity, ...drifts.map(({ value }) => value));

/** A drift beside a step of the walk: by how much it is the likelier without what the step explains. */
export const driftBeside = (
  one: Searched & { readonly told: SharedInformation },
  moments: Moments,
  points: number,
  { after, line }: SharedStep,
  time: Float64Array | null,
): { readonly gain: number; readonly drift: FoundDrift | null } => {
  if (line !== null || after === null) return { gain: 0, drift: null };
  const { count, times } = moments;
  const { told } = one;
  const from = time === null ? after : time[after];
  const step = Float64Array.from(times, (t) => (t >= from ? 1 : 0));
  const row = new Float64Array(count);
  let own = 0;
  let score = 0;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) row[i] += told.information[i * count + j] * step[j];
    own += row[i] * step[i];
    score += told.score[i] * step[i];
  }
  const rest: SharedInformation = {
    ...told,
    information: told.information.map(
      (v, k) => v - (row[Math.floor(k / count)] * row[k % count]) / own,
    ),
    score: told.score.map((v, k) => v - (row[k] * score) / own),
  };
  const left = { ...one, square: one.square - (score * score) / own };
  const tried = driftsAt({ ...left, told: rest }, driftPriors(moments, points));
  const gain = driftGainOf({ plain: minusTwiceLog(left), drifts: tried });
  return { gain, drift: driftOf(cautious(tried)) };
};
