import type { Point } from '../geometry.js';
import { distance } from '../geometry.js';
import { DOUBT } from './doubt.js';
import { fallAt } from './fall.js';
import { followFall, WALK } from './fall-line.js';
import type { GroundGrid } from './ground-grid.js';
import { fieldAt, nodeX, nodeY } from './ground-grid.js';
import type { LineIndex } from './line-index.js';
import { addLine, nearestLine, newLineIndex } from './line-index.js';
import { crossingsOf } from './outline-index.js';
import type { FallArrow } from './reading.js';

export interface ArrowOptions {
  /** Distance between fall lines and between arrows along them, metres. */
  readonly arrowSpacing: number;
  /** Ground more level than this gets no arrow, grade. */
  readonly leastGrade: number;
}

/** A fall line ends where another runs nearer than this share of the spacing (Jobard & Lefer's d_test). */
const CLOSEST = 0.6;
/** No arrow has another nearer than this share of the spacing. */
const ARROW_CLOSEST = 0.75;
/** A place is filled when no arrow stands within this share of the spacing. */
const GAP = 1.05;
/** Arrows keep this far from divides and from the edge, metres. */
const CLEARANCE = 0.3;
const MOST_LINES = 200;

/** Length of an arrow, metres: from a fifth of the spacing on level ground to nine tenths at 5 % and over. */
const arrowLength = (grade: number, spacing: number): number =>
  spacing * Math.min(0.9, 0.2 + 14 * grade);

/** A piece of the fall line of the given length with (x, y) in its middle; null where it would leave the green. */
const pathThrough = (grid: GroundGrid, x: number, y: number, length: number): Point[] | null => {
  const half = (sign: 1 | -1): Point[] | null => {
    const limits = { ...WALK, maxStep: length / 6, maxLength: length / 2 };
    const walk = followFall(grid.surface, grid.outline, [x, y], sign, { limits });
    if (walk.end === 'edge') return null;
    const points = walk.points.map(([px, py]): Point => [px, py]);
    // Cut the last step to the length.
    let sum = 0;
    for (let k = 1; k < points.length; k++) {
      const step = distance(points[k - 1], points[k]);
      if (sum + step >= length / 2) {
        const f = (length / 2 - sum) / step;
        const [a, b] = [points[k - 1], points[k]];
        return [...points.slice(0, k), [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1])]];
      }
      sum += step;
    }
    return points;
  };
  const up = half(1);
  const down = half(-1);
  return up === null || down === null ? null : [...up.reverse(), ...down.slice(1)];
};

/** Points along a line at equal distances, the first half a distance from its start. */
const stations = (line: readonly Point[], spacing: number, phase: number): Point[] => {
  const out: Point[] = [];
  let next = spacing * phase;
  let sum = 0;
  for (let k = 1; k < line.length; k++) {
    const step = distance(line[k - 1], line[k]);
    while (next <= sum + step && step > 0) {
      const f = (next - sum) / step;
      out.push([
        line[k - 1][0] + f * (line[k][0] - line[k - 1][0]),
        line[k - 1][1] + f * (line[k][1] - line[k - 1][1]),
      ]);
      next += spacing;
    }
    sum += step;
  }
  return out;
};

/** Evenly spaced fall lines over the green (Jobard & Lefer, Visualization in Scientific Computing '97). */
const evenFallLines = (grid: GroundGrid, spacing: number, seed: Point): Point[][] => {
  const { surface, outline } = grid;
  const index = newLineIndex(spacing);
  const lines: Point[][] = [];
  const limits = { ...WALK, maxStep: spacing / 5, tolerance: 1e-3 };
  const grow = (x: number, y: number): boolean => {
    if (nearestLine(index, x, y, 0.98 * spacing) !== null) return false;
    const stop = (px: number, py: number): boolean =>
      nearestLine(index, px, py, CLOSEST * spacing) !== null;
    const down = followFall(surface, outline, [x, y], -1, { stop, limits }).points;
    const up = followFall(surface, outline, [x, y], 1, { stop, limits }).points;
    const line = [...up.reverse(), ...down.slice(1)].map(([px, py]): Point => [px, py]);
    if (line.length < 2) return false;
    addLine(index, lines.length, line);
    lines.push(line);
    return true;
  };
  grow(seed[0], seed[1]);
  for (let k = 0; k < lines.length && lines.length < MOST_LINES; k++) {
    const line = lines[k];
    for (let v = 0; v + 1 < line.length; v++) {
      const [a, b] = [line[v], line[v + 1]];
      const length = distance(a, b);
      if (length < 1e-6) continue;
      const nx = (-(b[1] - a[1]) / length) * spacing;
      const ny = ((b[0] - a[0]) / length) * spacing;
      for (const side of [1, -1]) {
        const x = a[0] + side * nx;
        const y = a[1] + side * ny;
        if (isInside(grid, x, y)) grow(x, y);
      }
    }
  }
  return lines;
};

const isInside = (grid: GroundGrid, x: number, y: number): boolean => {
  const i = Math.round((x - grid.originX) / grid.step);
  const j = Math.round((y - grid.originY) / grid.step);
  if (i < 0 || j < 0 || i >= grid.columns || j >= grid.rows) return false;
  return grid.inside[j * grid.columns + i] === 1;
};

/**
 * Fall arrows placed for reading: along evenly spaced fall lines, staggered from line to line, then
 * wherever ground is left without one. None stands across a divide or a stream, over the edge, or where the direction
 * is in doubt.
 * @param lines divides and streams. @param chance of a direction wrong by more than 45 degrees, at the nodes.
 */
export const fallArrows = (
  grid: GroundGrid,
  chance: Float64Array | null,
  lines: readonly (readonly (readonly [number, number, ...number[]])[])[],
  options: ArrowOptions,
): FallArrow[] => {
  const spacing = options.arrowSpacing;
  const barriers: LineIndex = newLineIndex(0.5);
  lines.forEach((line, k) => {
    addLine(barriers, k, line);
  });
  const placed = newLineIndex(spacing);
  const arrows: FallArrow[] = [];
  const place = (x: number, y: number): void => {
    if (!isInside(grid, x, y)) return;
    if (chance !== null && fieldAt(grid, chance, x, y) >= DOUBT) return;
    if (nearestLine(placed, x, y, ARROW_CLOSEST * spacing) !== null) return;
    if (nearestLine(barriers, x, y, CLEARANCE) !== null) return;
    const fall = fallAt(grid.surface, [x, y]);
    if (fall.grade === 0 || fall.grade < options.leastGrade) return;
    const { grade, toward } = fall;
    const path = pathThrough(grid, x, y, arrowLength(grade, spacing));
    if (path === null) return;
    if (path.some((p) => nearestLine(barriers, p[0], p[1], CLEARANCE) !== null)) return;
    const tip = path[path.length - 1];
    const tail = path[0];
    const over = CLEARANCE;
    if (
      crossingsOf(grid.outline, x, y, tip[0] + over * toward[0], tip[1] + over * toward[1]).length
    )
      return;
    if (
      crossingsOf(grid.outline, x, y, tail[0] - over * toward[0], tail[1] - over * toward[1]).length
    )
      return;
    addLine(placed, arrows.length, [[x, y]]);
    arrows.push({ at: [x, y], toward, grade, path });
  };
  evenFallLines(grid, spacing, firstSeed(grid)).forEach((line, k) => {
    for (const [x, y] of stations(line, spacing, k % 2 === 0 ? 0.5 : 1)) place(x, y);
  });
  const stride = Math.max(1, Math.round(spacing / 5 / grid.step));
  for (let j = 0; j < grid.rows; j += stride) {
    for (let i = 0; i < grid.columns; i += stride) {
      const n = j * grid.columns + i;
      if (!grid.inside[n]) continue;
      const x = nodeX(grid, n);
      const y = nodeY(grid, n);
      if (nearestLine(placed, x, y, GAP * spacing) === null) place(x, y);
    }
  }
  return arrows;
};

/** The node of the green nearest to the middle of its nodes. */
const firstSeed = (grid: GroundGrid): Point => {
  let sx = 0;
  let sy = 0;
  let count = 0;
  for (let n = 0; n < grid.inside.length; n++) {
    if (!grid.inside[n]) continue;
    sx += nodeX(grid, n);
    sy += nodeY(grid, n);
    count++;
  }
  return [sx / count + 0.01, sy / count + 0.01];
};
