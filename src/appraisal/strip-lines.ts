import type { Point, Ring } from '../geometry.js';
import { boxOf } from '../geometry.js';
import { LEAST_SIDE } from '../surface/walk-steps.js';
import { type Band, type JumpRoom, jumpOf, jumpRoom, STRETCH } from './strip-jump.js';

/** Straight lines across a green, and the jump of the heights across each (strip-steps.ts). */

export interface StripStep {
  /** Where the line meets the outline. */
  readonly from: Point;
  readonly to: Point;
  /** How much higher the ground lies left of the way from `from` to `to`, metres. */
  readonly height: number;
  /** Its standard deviation. */
  readonly sd: number;
}

/** Points this near to the line are fitted, metres. */
export const BAND = 2.5;
/** Turns of a half circle that lines are looked at in, and how far those of a turn stand apart, metres. */
export const LINE_TURNS = 90;
export const LINE_SHIFT = 0.4;
/** Stretches with points on both sides must make up this share of the line. */
const SHARE = 0.7;
/** This share of the line must jump the same way. */
const AGREEING = 0.85;

/** The stretch of the line x cos + y sin = p that lies in the outline, as its least and greatest u. */
export const chordOf = (
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
export interface TriedLine extends StripStep {
  readonly angle: number;
  readonly p: number;
  readonly clear: number;
  /** Whether the jump is one right across. */
  readonly whole: boolean;
}

/** Points by place and height, metres. */
interface Spots {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** The ground that is looked at, and room for a band of its points. */
export interface Search {
  readonly points: Spots;
  /** The points in order of their distance from a line, in steps of it. */
  readonly sorted: Spots;
  readonly outline: Ring;
  readonly band: Band;
  readonly room: JumpRoom;
}

export const searchOf = (points: Spots, outline: Ring): Search => {
  const numbers = (): Float64Array => new Float64Array(points.x.length);
  const band = { u: numbers(), v: numbers(), z: numbers(), count: 0 };
  const { minX, minY, maxX, maxY } = boxOf(outline);
  const longest = Math.hypot(maxX - minX, maxY - minY);
  const sorted = { x: numbers(), y: numbers(), z: numbers() };
  return { points, sorted, outline, band, room: jumpRoom(points.x.length, longest) };
};

/** Takes the points within a band of a line, as u along it, v across it and height. */
export const takeBand = (
  { points, band }: Search,
  angle: number,
  p: number,
  reach: number,
): void => {
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
const stepOf = (v: number, least: number): number => Math.floor((v - least) / LINE_SHIFT);

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
export const candidateAt = (
  { outline, band, room }: Search,
  angle: number,
  p: number,
): TriedLine | null => {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const chord = chordOf(outline, cos, sin, p);
  if (chord === null) return null;
  const jump = jumpOf(band, chord[0], chord[1], room);
  if (jump === null) return null;
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
    whole: jump.share >= SHARE && jump.agreeing >= AGREEING,
  };
};

export const middleOfLine = ({ from, to }: StripStep): Point => [
  (from[0] + to[0]) / 2,
  (from[1] + to[1]) / 2,
];

/** Of each `apart` lines of a turn the first, where `wanted` asks for it and it cuts off no sliver. */
export const triedLines = (
  search: Search,
  turn: number,
  apart: number,
  wanted: (cos: number, sin: number, p: number) => boolean,
): TriedLine[] => {
  const angle = (Math.PI * turn) / LINE_TURNS;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const sorted = sortAcross(search, angle);
  const lines: TriedLine[] = [];
  for (let p = sorted.least + 1, k = 0; p < sorted.most - 1; p += LINE_SHIFT, k++) {
    if (k % apart > 0 || !wanted(cos, sin, p)) continue;
    if (lesserSide(sorted, p) < LEAST_SIDE * search.points.x.length) continue;
    takeSorted(search, sorted, p);
    const one = candidateAt(search, angle, p);
    if (one !== null) lines.push(one);
  }
  return lines;
};
