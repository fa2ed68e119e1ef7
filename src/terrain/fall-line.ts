import { hypotenuse, type Point } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { H, HX, HY, JET_SIZE } from '../surface/surface.js';
import type { OutlineIndex, OutlinePlace } from './outline-index.js';
import { exitOf } from './outline-index.js';

/** A point of a line on the ground: x, y, height. */
export type GroundPoint = readonly [x: number, y: number, height: number];

/** Length in plan, metres. */
export const lengthOfLine = (points: readonly GroundPoint[]): number => {
  let sum = 0;
  for (let k = 1; k < points.length; k++) {
    sum += hypotenuse(points[k][0] - points[k - 1][0], points[k][1] - points[k - 1][1]);
  }
  return sum;
};

export interface WalkLimits {
  /** Longest step, metres. */
  readonly maxStep: number;
  /** Allowed error of one step, metres. */
  readonly tolerance: number;
  /** Grade below which the ground counts as level. */
  readonly level: number;
  /** Longest line, metres. */
  readonly maxLength: number;
  /** Points of a line at most: those of greens have some hundred, one in a ravine a step a millimetre. */
  readonly maxPoints: number;
}

export const WALK: WalkLimits = {
  ...{ maxStep: 0.3, tolerance: 2e-5, level: 1e-6 },
  ...{ maxLength: 400, maxPoints: 2_500 },
};

export interface Walk {
  readonly points: GroundPoint[];
  /** 'edge': left the green at `place`; 'level': no further way down (up); 'stopped': the caller said so; 'length': too long. */
  readonly end: 'edge' | 'level' | 'stopped' | 'length';
  readonly place: OutlinePlace | null;
}

export interface WalkOptions {
  /** Told every new point; true ends the line there. */
  readonly stop?: (x: number, y: number, height: number) => boolean;
  readonly limits?: WalkLimits;
}

/**
 * Follows the fall line from (x, y) down (sign -1) or up (sign 1) the continuous surface, by the adaptive
 * Runge-Kutta pair of Bogacki & Shampine (Appl. Math. Lett. 2, 1989) on dx/ds = sign grad h / |grad h|.
 * A step that would not fall (rise) is halved until it does; the line ends where none does.
 */
export const followFall = (
  surface: Surface,
  outline: OutlineIndex,
  [x0, y0]: Point,
  sign: 1 | -1,
  { stop, limits = WALK }: WalkOptions = {},
): Walk => {
  const jet = new Float64Array(JET_SIZE);
  let x = x0;
  let y = y0;
  surface.at(x, y, jet);
  let height = jet[H];
  const points: GroundPoint[] = [[x, y, height]];
  let grade = hypotenuse(jet[HX], jet[HY]);
  if (grade < limits.level) return { points, end: 'level', place: null };
  let ux = (sign * jet[HX]) / grade;
  let uy = (sign * jet[HY]) / grade;
  let step = limits.maxStep / 2;
  let length = 0;
  while (length < limits.maxLength && points.length < limits.maxPoints) {
    surface.at(x + (step / 2) * ux, y + (step / 2) * uy, jet);
    let g = hypotenuse(jet[HX], jet[HY]) || 1;
    const bx = (sign * jet[HX]) / g;
    const by = (sign * jet[HY]) / g;
    surface.at(x + 0.75 * step * bx, y + 0.75 * step * by, jet);
    g = hypotenuse(jet[HX], jet[HY]) || 1;
    const cx = (sign * jet[HX]) / g;
    const cy = (sign * jet[HY]) / g;
    const nx = x + (step / 9) * (2 * ux + 3 * bx + 4 * cx);
    const ny = y + (step / 9) * (2 * uy + 3 * by + 4 * cy);
    surface.at(nx, ny, jet);
    const newHeight = jet[H];
    grade = hypotenuse(jet[HX], jet[HY]);
    const dx = grade > 0 ? (sign * jet[HX]) / grade : 0;
    const dy = grade > 0 ? (sign * jet[HY]) / grade : 0;
    const ex = step * ((-5 / 72) * ux + bx / 12 + cx / 9 - dx / 8);
    const ey = step * ((-5 / 72) * uy + by / 12 + cy / 9 - dy / 8);
    const error = hypotenuse(ex, ey);
    const falls = sign * (newHeight - height) > 0;
    if ((error > limits.tolerance || !falls) && step > 1e-3) {
      step *= falls ? Math.max(0.25, 0.85 * Math.cbrt(limits.tolerance / error)) : 0.5;
      continue;
    }
    if (!falls) return { points, end: 'level', place: null };
    const exit = exitOf(outline, x, y, nx, ny);
    if (exit !== null) {
      const [ex, ey] = exit.point;
      surface.at(ex, ey, jet);
      points.push([ex, ey, jet[H]]);
      return { points, end: 'edge', place: exit.place };
    }
    length += hypotenuse(nx - x, ny - y);
    x = nx;
    y = ny;
    height = newHeight;
    points.push([x, y, height]);
    if (grade < limits.level) return { points, end: 'level', place: null };
    if (stop?.(x, y, height)) return { points, end: 'stopped', place: null };
    ux = dx;
    uy = dy;
    step = Math.min(
      limits.maxStep,
      step * Math.min(3, 0.85 * Math.cbrt(limits.tolerance / Math.max(error, 1e-12))),
    );
  }
  return { points, end: 'length', place: null };
};
