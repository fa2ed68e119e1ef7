import { normalQuantile } from './normal-distribution.js';
import type { SharedInformation } from './shared-errors.js';

/** Steps between parts of a survey: where they may be, and how clear each is. */

export interface SharedStep {
  readonly height: number;
  readonly sd: number;
  /** The point of the walk (index in the ground) from which on it holds; null for a straight step. */
  readonly after: number | null;
  /** x cos(angle) + y sin(angle) > offset is the raised side; null for a step of the walk. */
  readonly line: { readonly angle: number; readonly offset: number } | null;
}

/** Standard deviations by which a step must stand out, some hundreds of places being tried. */
const CLEAR_WALK = 3.5;
/** One that stands out by so much is not taken off the heights, but its doubt is counted. */
const SUSPECT = 2.9;
/** Each side of a step of the walk holds this share of its moments. */
const LEAST_PART = 0.1;
/**
 * Of the lines nearer to one that is tried than to any other so many are independent: noise alone stands out along the
 * clearest as the greatest of so many normal numbers does (seeds 163004, 163012). One survey in so many passes the limit:
 * very few, since ground that bends sharply stands out too: by 5.34 standard deviations on a green of the demo that has no
 * step, and by 5.15 on one of 59 surveys (seed 163140).
 */
const INDEPENDENT = 5;
const BY_CHANCE = 80_000;
/** Times as much is asked of a line where the ground is sharp: along a tier's face 5.36 standard deviations (seed 56001). */
const BESIDE_FACES = 1.3;
/**
 * Of a step's height so much shows: the nearest line is not quite its own, the ground bends to it, its points weigh less,
 * and it adds to the noise (seed 163004).
 */
const SEEN = 0.86;
/** A chance of nineteen in twenty. */
export const AT_95 = 1.645;
/** Straight steps are looked for along lines so far apart, turn by turn. */
export const TURNS = 16;
export const SHIFT = 1;
/** Each side of a straight step holds this share of the points. */
export const LEAST_SIDE = 0.12;

/** The stretch of the walk's columns from each moment on: the step that would begin there. */
export const walkSteps = (told: SharedInformation, count: number) => {
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

export type StraightLine = NonNullable<SharedStep['line']>;

/** The straight lines across the points along which a step is looked for. */
export const straightSteps = (x: Float64Array, y: Float64Array, within: Int32Array) => {
  const lines: StraightLine[] = [];
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

/** 1/2 where a point lies on the raised side of a line and -1/2 on the other. */
export const sideOf = (
  x: Float64Array,
  y: Float64Array,
  lines: readonly StraightLine[],
): ((p: number, line: number) => number) => {
  const cos = lines.map(({ angle }) => Math.cos(angle));
  const sin = lines.map(({ angle }) => Math.sin(angle));
  return (p, line) => (cos[line] * x[p] + sin[line] * y[p] > lines[line].offset ? 0.5 : -0.5);
};

export type TriedStep = SharedStep & { readonly clear: number };

export const triedStep = (
  information: number,
  score: number,
  variance: number,
  where: Pick<SharedStep, 'after' | 'line'>,
): TriedStep[] => {
  if (!(information > 1e-6)) return [];
  const sd = Math.sqrt(variance / information);
  const height = score / information;
  return [{ height, sd, ...where, clear: Math.abs(height) / sd }];
};

export const suspectOf = (walked: readonly TriedStep[]): SharedStep | null => {
  const [first] = walked.filter(({ clear }) => clear > SUSPECT).sort((a, b) => b.clear - a.clear);
  if (first === undefined) return null;
  const { height, sd, after, line } = first;
  return { height, sd, after, line };
};

/** Standard deviations by which steps have to stand out, of the walk and along a line. */
export interface StepLimits {
  readonly walk: number;
  readonly line: number;
}

/** @param lines that are tried; `strict`: times as much is asked; `sharp`: the ground is. */
export const stepLimits = (lines: number, strict: number, sharp = false): StepLimits => ({
  walk: strict * CLEAR_WALK,
  line:
    strict *
    (sharp ? BESIDE_FACES : 1) *
    normalQuantile(1 - 1 / (2 * BY_CHANCE * INDEPENDENT * Math.max(1, lines))),
});

const limitOf = ({ line }: TriedStep, limits: StepLimits): number =>
  line === null ? limits.walk : limits.line;

/** How far a step stands out past what its kind asks: fewer moments are tried than lines. */
export const excess = (step: TriedStep, limits: StepLimits): number =>
  step.clear - limitOf(step, limits);

/** The step that would have been found at three of four places. */
export const powerOf = (steps: readonly TriedStep[], limits: StepLimits): number => {
  const sizes = steps
    .map((step) => (step.sd * (AT_95 + limitOf(step, limits))) / (step.line === null ? 1 : SEEN))
    .sort((a, b) => a - b);
  return sizes.length === 0 ? Infinity : sizes[Math.floor(0.75 * (sizes.length - 1))];
};

/** Gain of twice the log likelihood by a step. */
export const stepGain = (
  step: { readonly clear: number },
  variance: number,
  square: number,
  free: number,
): number =>
  free * (Math.log(square) - Math.log(Math.max(1e-18, square - step.clear ** 2 * variance)));

/** The first point of the walk whose time lies past the middle of two moments. */
export const firstAfter = (
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
