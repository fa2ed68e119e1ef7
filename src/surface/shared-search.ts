import { bendingMatrix } from './bending.js';
import { factorDense, logDeterminantDense, solveLowerDense } from './dense.js';
import { logDeterminant } from './envelope.js';
import { knotGrid } from './knot-grid.js';
import { localStiffness } from './local-stiffness.js';
import { observe } from './observations.js';
import type { Scatter } from './scatter.js';
import { informationAlone, type SharedInformation, sharedInformation } from './shared-errors.js';
import { problemOf, solveAt } from './smoothing.js';
import type { Surface } from './surface.js';

/**
 * Looks for errors that neighbouring points share, by restricted likelihood (Patterson & Thompson,
 * Biometrika 58 (1971) 545-554) of a ground of even stiffness: a drift along the order of walking, as a
 * first-order Gauss-Markov process (so Odolinski, GPS Solutions 16 (2012), finds satellite positioning), a
 * step at a moment of the walk (a session's end), a straight step across the green (two swaths).
 */
export interface SharedFinding {
  /** Standard deviation of the drift, metres, and the points (or seconds, where times are known) it lasts. */
  readonly drift: { readonly sd: number; readonly lasts: number } | null;
  /** Steps found: by the point of the walk after which the level is another, or by the line it runs along. */
  readonly steps: readonly SharedStep[];
  /** A step of the walk that is not clear, and not excluded either. */
  readonly suspected: SharedStep | null;
  /** A step as large as this would have been found with nineteen chances in twenty, metres. */
  readonly power: number;
}

export interface SharedStep {
  readonly height: number;
  readonly sd: number;
  /** The point of the walk (index in the ground) from which on it holds; null for a straight step. */
  readonly after: number | null;
  /** x cos(angle) + y sin(angle) > offset is the raised side; null for a step of the walk. */
  readonly line: { readonly angle: number; readonly offset: number } | null;
}

/** Knots of the ground by which the search is made, metres: wide, since only what is common is wanted. */
const SEARCH_STEP = 1.2;
/** Moments of the walk that are told apart, at most; and no fewer points than this to each. */
const MOMENTS = 70;
const POINTS_PER_MOMENT = 5;
const SMOOTHINGS = [-2, -1.3, -0.6, 0.1, 0.8].map((e) => 10 ** e);
/** Variance of the drift over that of a point's own noise. */
const RATIOS = [0.1, 0.25, 0.6, 1.5, 4];
/** How long a drift lasts, in points of the walk. */
const LASTING = [8, 20, 50, 120];
/** Twice the logarithm of the likelihood that a drift must gain. */
const CLEAR_DRIFT = 12;
/** Of twice the logarithm: drifts this near to the likeliest may as well be true. */
const NEARLY = 2.5;
/** Standard deviations by which a step must stand out, some hundreds of places being tried. */
const CLEAR_WALK = 3.5;
/** One that stands out by so much is not taken off the heights, but its doubt is counted. */
const SUSPECT = 2.9;
/** Each side of a step of the walk holds this share of its moments. */
const LEAST_PART = 0.1;
const CLEAR_LINE = 5.4;
/** Ground with breaklines bends as only they tell: all must be so much clearer there. */
const BESIDE_BREAKS = 2;
/** A drift has more ways to fit than a step: what it must gain over one, in twice the log likelihood. */
const PRICE_OF_DRIFT = 6;
/** Neighbourhood of the local stiffness, where the ground is sharp, metres. */
const NEIGHBOURHOOD = 1.6;
/** A chance of nineteen in twenty. */
const AT_95 = 1.645;
/** What a step is expected to be before it is seen, metres: it hardly holds the estimate. */
export const STEP_PRIOR = 0.2;
const TURNS = 16;
const SHIFT = 1;
/** Each side of a straight step holds this share of the points. */
const LEAST_SIDE = 0.12;

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
interface Searched {
  /** n - 3, log|A| - (N - 3) log s, and the weighted square that is left without shared errors. */
  readonly free: number;
  readonly constant: number;
  readonly square: number;
}

const minusTwiceLog = ({ free, constant, square }: Searched, gain = 0, determinant = 0): number =>
  free * Math.log(Math.max(1e-18, square - gain)) + constant + determinant;

/** A drift that was tried: minus twice its log likelihood, standard deviation and lasting. */
interface Drift {
  readonly value: number;
  readonly sd: number;
  readonly lasts: number;
}

/** Drifts of several sizes and lastings at one smoothing. */
const driftsAt = (
  one: Searched & { readonly told: SharedInformation },
  { count, times }: Moments,
  points: number,
): Drift[] => {
  const perPoint = (times[count - 1] - times[0]) / points;
  return LASTING.flatMap((lasting) => {
    const lasts = lasting * perPoint;
    const prior = driftPrecision(times, lasts);
    const whole = prior.slice();
    factorDense(whole, count);
    const own = logDeterminantDense(whole, count);
    return RATIOS.flatMap((ratio) => {
      const s = one.told.information.map((v, k) => v + prior[k] / ratio);
      if (!factorDense(s, count)) return [];
      const v = one.told.score.slice();
      solveLowerDense(s, count, v);
      const gain = v.reduce((sum, w) => sum + w * w, 0);
      const determinant = logDeterminantDense(s, count) - own + count * Math.log(ratio);
      const sd = Math.sqrt((ratio * (one.square - gain)) / one.free);
      return [{ value: minusTwiceLog(one, gain, determinant), sd, lasts }];
    });
  });
};

/** Of drifts nearly as likely as the likeliest the one that does most harm, so that none is made light of. */
const cautious = (tried: readonly Drift[]): Drift => {
  const least = Math.min(...tried.map(({ value }) => value));
  const harm = ({ sd, lasts }: Drift): number => sd * sd * lasts;
  return tried
    .filter(({ value }) => value <= least + NEARLY)
    .reduce((most, next) => (harm(next) > harm(most) ? next : most));
};

/** The stretch of the walk's columns from each moment on: the step that would begin there. */
const walkSteps = (told: SharedInformation, count: number) => {
  const steps: { at: number; information: number; score: number }[] = [];
  let score = 0;
  // sum over rows and columns at and after k, from the end backward
  let information = 0;
  for (let k = count - 1; k > 0; k--) {
    information += told.information[k * count + k];
    for (let j = k + 1; j < count; j++) information += 2 * told.information[k * count + j];
    score += told.score[k];
    const part = k / count;
    if (part >= LEAST_PART && part <= 1 - LEAST_PART) steps.push({ at: k, information, score });
  }
  return steps;
};

type Line = NonNullable<SharedStep['line']>;

/** The straight lines across the points along which a step is looked for. */
const straightSteps = (x: Float64Array, y: Float64Array, within: Int32Array) => {
  const lines: Line[] = [];
  for (let turn = 0; turn < TURNS; turn++) {
    const angle = (Math.PI * turn) / TURNS;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const along = Float64Array.from(within, (p) => c * x[p] + s * y[p]).sort();
    const low = along[Math.floor(LEAST_SIDE * along.length)];
    const high = along[Math.floor((1 - LEAST_SIDE) * along.length)];
    for (let offset = low; offset <= high; offset += SHIFT) lines.push({ angle, offset });
  }
  return lines;
};

/** 1/2 on the raised side of each line and -1/2 on the other, line after line at each point. */
const sidesOf = (x: Float64Array, y: Float64Array, lines: readonly Line[]): Float64Array => {
  const sides = new Float64Array(x.length * lines.length);
  lines.forEach(({ angle, offset }, k) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    for (let p = 0; p < x.length; p++) {
      sides[p * lines.length + k] = c * x[p] + s * y[p] > offset ? 0.5 : -0.5;
    }
  });
  return sides;
};

export interface SearchOptions {
  /** Whether the order of the points (or their time) is that of a walk, and how many of the scatter's are walked. */
  readonly walk: boolean;
  readonly time: Float64Array | null;
  readonly points: number;
  /** Weights of the points from a first fit, and that fit where the ground is sharp. */
  readonly weights: Float64Array;
  readonly pilot: Surface['at'] | null;
  /** Standard deviation of a point where the points do not show it (see Scatter.knownSigma). */
  readonly sigma: number | null;
}

/** The ground of the search: its problem, and its likelihood at any smoothing. */
const searchGround = (scatter: Scatter, { weights, pilot }: SearchOptions) => {
  const { x, y, z, breaklines, outline, collar, box } = scatter;
  const grid = knotGrid(outline, collar, box, SEARCH_STEP);
  const obs = observe(grid, x, y, z);
  const problem = problemOf(
    grid,
    obs,
    Float64Array.from(obs.source, (p) => weights[p]),
  );
  const stiffness =
    pilot === null && breaklines.length === 0
      ? null
      : localStiffness(grid, pilot, NEIGHBOURHOOD, breaklines);
  const energy = bendingMatrix(grid, stiffness, 1);
  const free = problem.mass - 3;
  return (smoothing: number) => {
    const { factor, residuals } = solveAt(problem, energy, smoothing);
    // z'Wz - b'A^-1 b = z'W(z - fit).
    let square = 0;
    for (let k = 0; k < obs.count; k++) square += problem.weights[k] * obs.z[k] * residuals[k];
    const constant = logDeterminant(grid.envelope, factor) - (grid.size - 3) * Math.log(smoothing);
    return {
      free,
      constant,
      square,
      moments: (moments: Moments) => sharedInformation(problem, factor, { ...moments, width: 2 }),
      lines: (): { lines: Line[]; told: SharedInformation } => {
        const lines = straightSteps(x, y, obs.source);
        const sides = sidesOf(x, y, lines);
        const count = lines.length;
        const told = informationAlone(problem, factor, count, (p, c) => sides[p * count + c]);
        return { lines, told };
      },
    };
  };
};

type Candidate = SharedStep & { readonly clear: number };

const candidate = (
  information: number,
  score: number,
  variance: number,
  where: Pick<SharedStep, 'after' | 'line'>,
): Candidate[] => {
  if (!(information > 1e-6)) return [];
  const sd = Math.sqrt(variance / information);
  const height = score / information;
  return [{ height, sd, ...where, clear: Math.abs(height) / sd }];
};

export const searchShared = (scatter: Scatter, options: SearchOptions): SharedFinding => {
  const { breaklines } = scatter;
  const strict = breaklines.length > 0 ? BESIDE_BREAKS : 1;
  const { walk, time, points, sigma } = options;
  const ground = searchGround(scatter, options);
  const moments = walk ? momentsOf(time, points) : null;
  const { plain, one, told, drifts } = likeliest(ground, moments, points);
  const driftGain = plain - Math.min(Infinity, ...drifts.map(({ value }) => value));
  const variance = sigma === null ? one.square / one.free : sigma * sigma;
  const walked =
    moments === null || told === null
      ? []
      : walkSteps(told, moments.count).flatMap(({ at, information, score }) => {
          const after = firstAfter(time, points, moments.times[at - 1], moments.times[at]);
          return candidate(information, score, variance, { after, line: null });
        });
  const across = one.lines();
  const straight = across.lines.flatMap((line, k) =>
    candidate(across.told.information[k], across.told.score[k], variance, { after: null, line }),
  );
  const best = [...walked, ...straight].reduce<Candidate | null>(
    (most, next) => (most === null || excess(next, strict) > excess(most, strict) ? next : most),
    null,
  );
  const found =
    best !== null &&
    excess(best, strict) >= 0 &&
    stepGain(best, variance, one.square, one.free) > driftGain - PRICE_OF_DRIFT;
  if (!found || best === null) {
    const drift = driftGain > strict ** 2 * CLEAR_DRIFT ? driftOf(cautious(drifts)) : null;
    return {
      drift,
      steps: [],
      suspected: strict > 1 ? null : suspectOf(walked),
      power: powerOf([...walked, ...straight], strict),
    };
  }
  const { height, sd, after, line } = best;
  return {
    drift:
      moments === null || told === null
        ? null
        : driftBeside({ ...one, told }, moments, points, best, time),
    steps: [{ height, sd, after, line }],
    suspected: null,
    power: powerOf([...walked, ...straight], strict),
  };
};

/** A drift beside a step of the walk, where it is clear without what the step explains. */
const driftBeside = (
  one: Searched & { readonly told: SharedInformation },
  moments: Moments,
  points: number,
  { after, line }: SharedStep,
  time: Float64Array | null,
): SharedFinding['drift'] => {
  if (line !== null || after === null) return null;
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
  const tried = driftsAt({ ...left, told: rest }, moments, points);
  const least = Math.min(...tried.map(({ value }) => value));
  return minusTwiceLog(left) - least > CLEAR_DRIFT ? driftOf(cautious(tried)) : null;
};

const driftOf = ({ sd, lasts }: Drift): SharedFinding['drift'] => ({ sd, lasts });

const suspectOf = (walked: readonly Candidate[]): SharedStep | null => {
  const [first] = walked.filter(({ clear }) => clear > SUSPECT).sort((a, b) => b.clear - a.clear);
  if (first === undefined) return null;
  const { height, sd, after, line } = first;
  return { height, sd, after, line };
};

/** How far a step stands out past what its kind asks: fewer moments are tried than lines. */
const excess = ({ clear, line }: Candidate, strict: number): number =>
  clear - strict * (line === null ? CLEAR_WALK : CLEAR_LINE);

/** The step that would have been found at three of four places. */
const powerOf = (steps: readonly Candidate[], strict: number): number => {
  const sizes = steps
    .map(({ sd, line }) => sd * (AT_95 + strict * (line === null ? CLEAR_WALK : CLEAR_LINE)))
    .sort((a, b) => a - b);
  return sizes.length === 0 ? Infinity : sizes[Math.floor(0.75 * (sizes.length - 1))];
};

/** The ground at its likeliest smoothing without a drift, and the drifts tried at each. */
const likeliest = (
  ground: ReturnType<typeof searchGround>,
  moments: Moments | null,
  points: number,
) => {
  const drifts: Drift[] = [];
  const tried = SMOOTHINGS.map((smoothing) => {
    const one = ground(smoothing);
    const told = moments === null ? null : one.moments(moments);
    if (moments !== null && told !== null) {
      drifts.push(...driftsAt({ ...one, told }, moments, points));
    }
    return { plain: minusTwiceLog(one), one, told };
  });
  const best = tried.reduce((least, next) => (next.plain < least.plain ? next : least));
  return { ...best, drifts };
};

/** Gain of twice the log likelihood by a step. */
const stepGain = (
  step: { readonly clear: number },
  variance: number,
  square: number,
  free: number,
): number =>
  free * (Math.log(square) - Math.log(Math.max(1e-18, square - step.clear ** 2 * variance)));

/** The first point of the walk whose time lies past the middle of two moments. */
const firstAfter = (
  time: Float64Array | null,
  points: number,
  before: number,
  moment: number,
): number => {
  const middle = (before + moment) / 2;
  if (time === null) return Math.ceil(middle);
  for (let k = 0; k < points; k++) if (time[k] >= middle) return k;
  return points;
};
