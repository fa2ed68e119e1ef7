import type { Point, Ring } from '../geometry.js';
import { insideRing } from '../geometry.js';
import { jumpOf } from './strip-jump.js';
import {
  BAND,
  candidateAt,
  chordOf,
  LINE_SHIFT,
  LINE_TURNS,
  middleOfLine,
  type Search,
  type StripStep,
  searchOf,
  type TriedLine,
  takeBand,
  triedLines,
} from './strip-lines.js';

/**
 * Steps between strips: where two flight lines, two scanner stations or two days of work meet, one side
 * lies higher by an amount that no ground has. Along each straight line across the green the points on
 * both sides are fitted, stretch by stretch, with a plane and one common jump. A tier's face gives a jump
 * too, but it fades when the band is narrowed, since a face has width; a step between strips does not. Lines that cut
 * off a sliver of the green are left out: there a few points make a plane, and ground that bends is a jump.
 */

/**
 * Every other line of every other turn is looked at first, and then all near to one that stands out by three tenths of what is
 * asked: few do, and of 369 surveys on which all lines show a step these miss three (seeds 222000 to 222899).
 */
const COARSE = 2;
const SHOWN = 0.3;
/** What is near to a line: the next turn, and so far from the middle of its chord, in shifts. */
const NEAR = 1.5;
/** In the second look points this near to the line are fitted, metres. */
const NARROW = 1.2;
/** A jump must stand out this many standard deviations (thousands of lines are tried) ... */
const CLEAR = 5.5;
const CLEAR_NARROW = 3.5;
/** ... keep this share of its height in the narrow band, give or take its own deviation ... */
const SHARP = 0.75;
/** ... and be high enough to matter: one in a hundred across half a metre. */
const LEAST = 0.005;
const POINT_LIMIT = 4000;
const FOUND_LIMIT = 3;
const CANDIDATES = 8;
const LEAST_POINTS = 20;

/** Lines with a clear step right across the green, of all turns. */
const clearLines = (search: Search): TriedLine[] => {
  /** Middles of lines that show something, by their turn. */
  const shown: Point[][] = Array.from({ length: LINE_TURNS }, () => []);
  for (let turn = 0; turn < LINE_TURNS; turn += COARSE) {
    for (const one of triedLines(search, turn, COARSE, () => true)) {
      if (one.clear >= SHOWN * CLEAR) shown[turn].push(middleOfLine(one));
    }
  }
  const found: TriedLine[] = [];
  for (let turn = 0; turn < LINE_TURNS; turn++) {
    const near = [turn + LINE_TURNS - 1, turn, turn + 1].flatMap(
      (other) => shown[other % LINE_TURNS],
    );
    if (near.length === 0) continue;
    const lines = triedLines(search, turn, 1, (cos, sin, p) =>
      near.some(([x, y]) => Math.abs(x * cos + y * sin - p) <= NEAR * LINE_SHIFT),
    );
    found.push(
      ...lines.filter((one) => one.whole && Math.abs(one.height) >= LEAST && one.clear >= CLEAR),
    );
  }
  return found;
};

/** The clearest line near a candidate. */
const refined = (search: Search, first: TriedLine): TriedLine => {
  let best = first;
  for (let turn = -2; turn <= 2; turn++) {
    for (let shift = -3; shift <= 3; shift++) {
      const angle = first.angle + (turn * Math.PI) / LINE_TURNS / 2;
      const p = first.p + (shift * LINE_SHIFT) / 3;
      takeBand(search, angle, p, BAND);
      const next = candidateAt(search, angle, p);
      if (next?.whole === true && next.clear > best.clear) best = next;
    }
  }
  return best;
};

/** Whether the jump keeps its height in a narrow band, as a face's would not. */
const isSharp = (search: Search, one: TriedLine): boolean => {
  const chord = chordOf(search.outline, Math.cos(one.angle), Math.sin(one.angle), one.p);
  if (chord === null) return false;
  takeBand(search, one.angle, one.p, NARROW);
  const near = jumpOf(search.band, chord[0], chord[1], search.room);
  return (
    near !== null &&
    near.height > 0 === one.height > 0 &&
    Math.abs(near.height) + near.sd >= SHARP * Math.abs(one.height) &&
    Math.abs(near.height) >= CLEAR_NARROW * near.sd
  );
};

/** Straight steps right across the green, the clearest first, at most three. */
export const stripSteps = (
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
  outline: Ring,
): StripStep[] => {
  const stride = Math.max(1, Math.ceil(x.length / POINT_LIMIT));
  const taken: number[] = [];
  for (let i = 0; i < x.length; i += stride) if (insideRing(outline, x[i], y[i])) taken.push(i);
  if (taken.length < LEAST_POINTS) return [];
  const of = (values: Float64Array): Float64Array => Float64Array.from(taken, (i) => values[i]);
  const search = searchOf({ x: of(x), y: of(y), z: of(z) }, outline);
  return apart(clearLines(search), CANDIDATES)
    .map((one) => refined(search, one))
    .filter((one) => isSharp(search, one))
    .slice(0, FOUND_LIMIT)
    .map(({ from, to, height, sd }) => ({ from, to, height, sd }));
};

/** The clearest of each bundle of lines that run close together. */
const apart = (found: TriedLine[], limit: number): TriedLine[] => {
  found.sort((a, b) => b.clear - a.clear);
  const kept: TriedLine[] = [];
  for (const one of found) {
    if (kept.length >= limit) break;
    if (!kept.some((other) => crossesNear(one, other))) kept.push(one);
  }
  return kept;
};

/** Whether the middle of a line lies within four metres of another line, or the lines cross. */
export const crossesNear = (a: StripStep, b: StripStep): boolean => {
  const side = (s: StripStep, [px, py]: Point): number =>
    ((s.to[0] - s.from[0]) * (py - s.from[1]) - (s.to[1] - s.from[1]) * (px - s.from[0])) /
    Math.hypot(s.to[0] - s.from[0], s.to[1] - s.from[1]);
  return Math.abs(side(b, middleOfLine(a))) < 4 || side(b, a.from) > 0 !== side(b, a.to) > 0;
};
