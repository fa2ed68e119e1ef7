import type { Factor } from './factor.js';
import { residuals } from './observations.js';
import { sharedInformation } from './shared-errors.js';
import { type Problem, squareLeft } from './smoothing.js';
import type { Wave } from './wave-doubt.js';
import { peaksOf, wavesTried } from './wave-peaks.js';

/** Ground over which waves are looked for: its points and the factor of its fit. */
export interface FlatGround {
  readonly problem: Problem;
  readonly factor: Factor;
}

/** A wave, and its height at a place: (cos) cos(kx x + ky y) + (sin) sin(kx x + ky y), metres. */
export interface FoundWave extends Wave {
  readonly cos: number;
  readonly sin: number;
}

/**
 * Gain of the log likelihood from which a wave is clear: by chance one survey in ten thousand has it, some thousand
 * waves being tried (exponential distribution; Scargle, Astrophys. J. 263 (1982) 835-853).
 */
export const CLEAR = 18;
/** One that gains less may be there: by chance one survey in so many shows one ... */
const CHANCE = 40;
/** ... and one green in so many has one, for all that is known (no source). */
const RARE = 400;
/** What it must gain, too, on ground that bends where a first fit does. */
const KEPT_WHERE_SHARP = 6;
const MOST_WAVES = 6;
/** A wave of which the ground takes all but so much cannot be told from ground. */
export const LEAST_LEFT = 0.1;
/** Waves this near to the likeliest, in log likelihood, may as well be true: the shortest, which is steepest, counts. */
const NEARLY = 1.5;
/** Strips across the crests, and along them, that a wave is looked for in; ... */
const STRIPS = 5;
/** ... and how evenly they have to share it, 1 being quite even: the edge of a tier lies in one or two. */
const EVENLY = 0.6;

export interface PointPlaces {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** A ground with what it leaves of the heights of sound points, and the variance of a point over it. */
export interface Look extends FlatGround {
  readonly left: { readonly x: Float64Array; readonly y: Float64Array; readonly off: Float64Array };
  readonly variance: number;
}

export const lookAt = ({ problem, factor }: FlatGround, { x, y }: PointPlaces): Look => {
  const { obs, weights, mass } = problem;
  const coefficients = problem.right.slice();
  factor.solve(coefficients);
  const off = residuals(obs, coefficients);
  const kept = Array.from(off.keys()).filter((k) => weights[k] > 0.5);
  const at = (v: Float64Array): Float64Array => Float64Array.from(kept, (k) => v[obs.source[k]]);
  const left = { x: at(x), y: at(y), off: Float64Array.from(kept, (k) => off[k]) };
  return { problem, factor, left, variance: squareLeft(problem, off) / (mass - 3) };
};

/** Heights less a wave. */
const without = (look: Look, places: PointPlaces, wave: FoundWave): Look => {
  const { problem, factor } = look;
  const { obs, weights } = problem;
  const right = problem.right.slice();
  const z = obs.z.slice();
  for (let k = 0; k < obs.count; k++) {
    const height = waveHeight(wave, places.x[obs.source[k]], places.y[obs.source[k]]);
    z[k] -= height;
    for (let m = 16 * k; m < 16 * k + 16; m++) {
      right[obs.unknowns[m]] -= weights[k] * height * obs.values[m];
    }
  }
  return lookAt({ problem: { ...problem, obs: { ...obs, z }, right }, factor }, places);
};

type Weighed = FoundWave & { readonly gain: number };

/** The likeliest wave of one length and direction, and what it gains; null where the ground takes most of it. */
const weighed = (
  { problem, factor, variance }: Look,
  { x, y }: PointPlaces,
  { kx, ky }: Pick<Wave, 'kx' | 'ky'>,
): Weighed | null => {
  const columns = new Int32Array(2 * x.length);
  const shares = new Float64Array(2 * x.length);
  for (let p = 0; p < x.length; p++) {
    const phase = kx * x[p] + ky * y[p];
    columns[2 * p + 1] = 1;
    shares[2 * p] = Math.cos(phase);
    shares[2 * p + 1] = Math.sin(phase);
  }
  const told = sharedInformation(problem, factor, { count: 2, width: 2, columns, shares });
  const [a, b, , d] = told.information;
  const [c, s] = told.score;
  const det = a * d - b * b;
  if (a + d < LEAST_LEFT * problem.mass || !(det > 0)) return null;
  const cos = (d * c - b * s) / det;
  const sin = (a * s - b * c) / det;
  const gain = (cos * c + sin * s) / (2 * variance);
  return { kx, ky, size: Math.hypot(cos, sin), cos, sin, gain };
};

/** How evenly strips of equally many points share a wave: 1 where each has as much, 1 / STRIPS where one has it all. */
const evenness = (along: Float64Array, part: Float64Array): number => {
  const order = Array.from(along.keys()).sort((a, b) => along[a] - along[b]);
  const strips = new Float64Array(STRIPS);
  order.forEach((p, rank) => {
    strips[Math.floor((STRIPS * rank) / order.length)] += part[p];
  });
  const sum = strips.reduce((total, v) => total + Math.max(0, v), 0);
  const square = strips.reduce((total, v) => total + v * v, 0);
  return square === 0 ? 0 : (sum * sum) / (STRIPS * square);
};

/** Whether a wave is there all over the points, not in one place. */
const isAllOver = (wave: FoundWave, { x, y, off }: Look['left']): boolean => {
  const { kx, ky } = wave;
  const part = off.map((r, p) => r * waveHeight(wave, x[p], y[p]));
  const along = x.map((v, p) => kx * v + ky * y[p]);
  const across = x.map((v, p) => ky * v - kx * y[p]);
  return evenness(along, part) >= EVENLY && evenness(across, part) >= EVENLY;
};

/** Height of a wave at a place, metres. */
export const waveHeight = ({ kx, ky, cos, sin }: FoundWave, x: number, y: number): number =>
  cos * Math.cos(kx * x + ky * y) + sin * Math.sin(kx * x + ky * y);

/**
 * Peaks over a gain of g that noise alone has: of a field of chi squared of two degrees over wave numbers, of which N are
 * independent, about N g exp(-g) (Adler & Taylor, Random Fields and Geometry (2007), chapter 15; quoted from memory, held
 * by simulation in the tests).
 */
const peaksByChance = ({ off }: Look['left'], spacing: number, gain: number): number =>
  wavesTried(off.length, spacing) * gain * Math.exp(-gain);

/** Waves that are clear over one ground, or may be there. */
const shownOver = (look: Look, places: PointPlaces, spacing: number): Weighed[] =>
  peaksOf(look.left, spacing)
    .flatMap((peak) => weighed(look, places, peak) ?? [])
    .filter(
      (wave) =>
        (wave.gain > CLEAR || CHANCE * peaksByChance(look.left, spacing, wave.gain) < 1) &&
        isAllOver(wave, look.left),
    );

/** The likeliest; of waves as likely the shortest, which is the steepest. */
const likeliestOf = (all: readonly Weighed[]): Weighed | null => {
  const most = Math.max(...all.map(({ gain }) => gain));
  return all
    .filter(({ gain }) => gain >= most - NEARLY)
    .reduce<Weighed | null>(
      (a, b) => (a === null || Math.hypot(b.kx, b.ky) > Math.hypot(a.kx, a.ky) ? b : a),
      null,
    );
};

export interface FoundWaves {
  /** The highest first. */
  readonly waves: readonly FoundWave[];
  /** What the clearest of them gains, in log likelihood. */
  readonly gain: number;
  /** One that is not clear, and may be there: with this chance (Bayes, where one green in `RARE` has one). */
  readonly possible: (Weighed & { readonly chance: number }) | null;
  /** The even ground, and what it leaves of the heights without the waves. */
  readonly left: Look;
}

/**
 * Waves of the ground that are too short for a surface, and what the clearest of them gains. They are looked
 * for over ground of even stiffness on wide knots, which does not bend to them as a fit does that learns from the points
 * where they bend; and each is weighed by what that ground leaves of it, so that one is seen, too, that lies on the
 * points almost as a long one would.
 *
 * @param sharp the ground that bends where a first fit does, where it bends sharply (null: it does not): what an even
 * ground leaves of a tier's face is no wave, and under it a true one may hide.
 * @param spacing of neighbouring points, metres.
 */
export const wavesOver = (
  even: FlatGround,
  sharp: FlatGround | null,
  places: PointPlaces,
  spacing: number,
): FoundWaves => {
  const waves: FoundWave[] = [];
  let gain = 0;
  let possible: FoundWaves['possible'] = null;
  let own = lookAt(even, places);
  let bent = sharp === null ? null : lookAt(sharp, places);
  const isKept = (wave: Weighed): boolean =>
    bent === null || (weighed(bent, places, wave)?.gain ?? 0) > KEPT_WHERE_SHARP;
  while (waves.length < MOST_WAVES) {
    const best = likeliestOf([
      ...shownOver(own, places, spacing).filter(isKept),
      ...(bent === null ? [] : shownOver(bent, places, spacing)),
    ]);
    if (best === null) break;
    if (best.gain <= CLEAR) {
      const odds = 1 / (RARE * peaksByChance(own.left, spacing, best.gain));
      possible = { ...best, chance: odds / (1 + odds) };
      break;
    }
    const { kx, ky, size, cos, sin } = best;
    waves.push({ kx, ky, size, cos, sin });
    gain = Math.max(gain, best.gain);
    own = without(own, places, best);
    bent = bent === null ? null : without(bent, places, best);
  }
  return { waves: waves.sort((a, b) => b.size - a.size), gain, possible, left: own };
};
