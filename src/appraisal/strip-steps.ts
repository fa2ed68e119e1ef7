import type { Point, Ring } from '../geometry.js';
import { boxOf, insideRing } from '../geometry.js';
import { LEAST_SIDE } from '../surface/walk-steps.js';
import { type Band, type JumpRoom, jumpOf, jumpRoom, STRETCH } from './strip-jump.js';

/**
 * Steps between strips: where two flight lines, two scanner stations or two days of work meet, one side
 * lies higher by an amount that no ground has. Along each straight line across the green the points on
 * both sides are fitted, stretch by stretch, with a plane and one common jump. A tier's face gives a jump
 * too, but it fades when the band is narrowed, since a face has width; a step between strips does not. Lines that cut
 * off a sliver of the green are left out: there a few points make a plane, and ground that bends is a jump.
 */

export interface StripStep {
  /** Where the line meets the outline. */
  readonly from: Point;
  readonly to: Point;
  /** How much higher the ground lies left of the way from `from` to `to`, metres. */
  readonly height: number;
  /** Its standard deviation. */
  readonly sd: number;
}

/** Points this near to the line are fitted, metres; and in the second look. */
const BAND = 2.5;
const NARROW = 1.2;
const TURNS = 90;
const SHIFT = 0.4;
/** A jump must stand out this many standard deviations (thousands of lines are tried) ... */
const CLEAR = 5.5;
const CLEAR_NARROW = 3.5;
/** ... keep this share of its height in the narrow band, give or take its own deviation ... */
const SHARP = 0.75;
/** ... and be high enough to matter: one in a hundred across half a metre. */
const LEAST = 0.005;
/** Stretches with points on both sides must make up this share of the line. */
const SHARE = 0.7;
const POINT_LIMIT = 4000;
const FOUND_LIMIT = 3;
const CANDIDATES = 8;
const LEAST_POINTS = 20;
/** This share of the line must jump the same way. */
const AGREEING = 0.85;

/** The stretch of the line x cos + y sin = p that lies in the outline, as its least and greatest u. */
const chordOf = (
  outline: Ring,
  cos: number,
  sin: number,
  p: number,
): readonly [number, number] | null => {
  let first = Infinity;
  let last = -Infinity;
  let before = outline[outline.length - 1];
  let va = before[0] * cos + before[1] * sin - p;
  for (const own of outline) {
    const vb = own[0] * cos + own[1] * sin - p;
    if (va < 0 !== vb < 0) {
      const t = va / (va - vb);
      const x = before[0] + t * (own[0] - before[0]);
      const y = before[1] + t * (own[1] - before[1]);
      const u = -x * sin + y * cos;
      first = Math.min(first, u);
      last = Math.max(last, u);
    }
    before = own;
    va = vb;
  }
  return last - first > STRETCH ? [first, last] : null;
};

/** A line across the green, x cos + y sin = p, and the jump across it. */
interface Candidate extends StripStep {
  readonly angle: number;
  readonly p: number;
  readonly clear: number;
}

/** Points by place and height, metres. */
interface Spots {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** The ground that is looked at, and room for a band of its points. */
interface Search {
  readonly points: Spots;
  /** The points in order of their distance from a line, in steps of it. */
  readonly sorted: Spots;
  readonly outline: Ring;
  readonly band: Band;
  readonly room: JumpRoom;
}

const searchOf = (points: Spots, outline: Ring): Search => {
  const numbers = (): Float64Array => new Float64Array(points.x.length);
  const band = { u: numbers(), v: numbers(), z: numbers(), count: 0 };
  const { minX, minY, maxX, maxY } = boxOf(outline);
  const longest = Math.hypot(maxX - minX, maxY - minY);
  const sorted = { x: numbers(), y: numbers(), z: numbers() };
  return { points, sorted, outline, band, room: jumpRoom(points.x.length, longest) };
};

/** Takes the points within a band of a line, as u along it, v across it and height. */
const takeBand = ({ points, band }: Search, angle: number, p: number, reach: number): void => {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const { x, y, z } = points;
  band.count = 0;
  for (let k = 0; k < x.length; k++) {
    const v = x[k] * cos + y[k] * sin - p;
    if (!(v >= -reach && v <= reach)) continue;
    band.u[band.count] = -x[k] * sin + y[k] * cos;
    band.v[band.count] = v;
    band.z[band.count] = z[k];
    band.count += 1;
  }
};

/** Which step of the counting a point falls into that lies so far across. */
const stepOf = (v: number, least: number): number => Math.floor((v - least) / SHIFT);

/** Points sorted across the lines of an angle, by counting, in steps as wide as the lines are apart: where each step begins. */
interface Sorted {
  readonly least: number;
  readonly most: number;
  readonly ends: Int32Array;
}

/** Sorts the points of a search across the lines of an angle. */
const sortAcross = ({ points, sorted }: Search, angle: number): Sorted => {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const { x, y, z } = points;
  const n = x.length;
  let least = Infinity;
  let most = -Infinity;
  for (let k = 0; k < n; k++) {
    const v = x[k] * cos + y[k] * sin;
    least = Math.min(least, v);
    most = Math.max(most, v);
  }
  const ends = new Int32Array(stepOf(most, least) + 2);
  for (let k = 0; k < n; k++) ends[stepOf(x[k] * cos + y[k] * sin, least) + 1] += 1;
  for (let s = 1; s < ends.length; s++) ends[s] += ends[s - 1];
  const next = ends.slice();
  for (let k = 0; k < n; k++) {
    const v = x[k] * cos + y[k] * sin;
    const at = next[stepOf(v, least)]++;
    sorted.x[at] = -x[k] * sin + y[k] * cos;
    sorted.y[at] = v;
    sorted.z[at] = z[k];
  }
  return { least, most, ends };
};

/** Points on that side of a line which has fewer, to within a step of the counting. */
const lesserSide = ({ least, ends }: Sorted, p: number): number => {
  const below = ends[stepOf(p, least)];
  return Math.min(below, ends[ends.length - 1] - below);
};

/** Takes the sorted points within `BAND` of a line. */
const takeSorted = ({ sorted, band }: Search, { least, ends }: Sorted, p: number): void => {
  const { x, y, z } = sorted;
  const first = ends[Math.max(0, stepOf(p - BAND, least))];
  const end = ends[Math.min(ends.length - 1, stepOf(p + BAND, least) + 1)];
  let count = 0;
  for (let i = first; i < end; i++) {
    const v = y[i] - p;
    if (!(v >= -BAND && v <= BAND)) continue;
    band.u[count] = x[i];
    band.v[count] = v;
    band.z[count] = z[i];
    count += 1;
  }
  band.count = count;
};

/** The line, and the jump across it by the points of the band that was taken. */
const candidateAt = (
  { outline, band, room }: Search,
  angle: number,
  p: number,
): Candidate | null => {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const chord = chordOf(outline, cos, sin, p);
  if (chord === null) return null;
  const jump = jumpOf(band, chord[0], chord[1], room);
  if (jump === null || jump.share < SHARE || jump.agreeing < AGREEING) return null;
  const at = (u: number): Point => [p * cos - u * sin, p * sin + u * cos];
  // v > 0 lies to the left of the way of falling u.
  return {
    angle,
    p,
    from: at(chord[1]),
    to: at(chord[0]),
    height: jump.height,
    sd: jump.sd,
    clear: Math.abs(jump.height) / jump.sd,
  };
};

/** The clearest line near a candidate. */
const refined = (search: Search, first: Candidate): Candidate => {
  let best = first;
  for (let turn = -2; turn <= 2; turn++) {
    for (let shift = -3; shift <= 3; shift++) {
      const angle = first.angle + (turn * Math.PI) / TURNS / 2;
      const p = first.p + (shift * SHIFT) / 3;
      takeBand(search, angle, p, BAND);
      const next = candidateAt(search, angle, p);
      if (next !== null && next.clear > best.clear) best = next;
    }
  }
  return best;
};

/** Whether the jump keeps its height in a narrow band, as a face's would not. */
const isSharp = (search: Search, one: Candidate): boolean => {
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
  const found: Candidate[] = [];
  for (let turn = 0; turn < TURNS; turn++) {
    const angle = (Math.PI * turn) / TURNS;
    const sorted = sortAcross(search, angle);
    for (let p = sorted.least + 1; p < sorted.most - 1; p += SHIFT) {
      if (lesserSide(sorted, p) < LEAST_SIDE * taken.length) continue;
      takeSorted(search, sorted, p);
      const one = candidateAt(search, angle, p);
      if (one !== null && Math.abs(one.height) >= LEAST && one.clear >= CLEAR) found.push(one);
    }
  }
  return apart(found, CANDIDATES)
    .map((one) => refined(search, one))
    .filter((one) => isSharp(search, one))
    .slice(0, FOUND_LIMIT)
    .map(({ from, to, height, sd }) => ({ from, to, height, sd }));
};

/** The clearest of each bundle of lines that run close together. */
const apart = (found: Candidate[], limit: number): Candidate[] => {
  found.sort((a, b) => b.clear - a.clear);
  const kept: Candidate[] = [];
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
  const middle: Point = [(a.from[0] + a.to[0]) / 2, (a.from[1] + a.to[1]) / 2];
  return Math.abs(side(b, middle)) < 4 || side(b, a.from) > 0 !== side(b, a.to) > 0;
};
