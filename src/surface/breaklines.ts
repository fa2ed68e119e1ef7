import type { Point } from '../geometry.js';
import { nearestOnSegment } from '../geometry.js';
import type { KnotGrid } from './knot-grid.js';

/** A line along which the survey says that the ground bends sharply across it: x, y, z, metres. */
export type Breakline = readonly (readonly [number, number, number])[];

interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** The points and those corners of the breaklines that are not among them. */
export const withBreaklines = (points: Points, breaklines: readonly Breakline[]): Points => {
  const corners = breaklines.flat().filter((corner) => corner.every(Number.isFinite));
  if (corners.length === 0) return points;
  const key = (x: number, y: number) => `${Math.round(1000 * x)},${Math.round(1000 * y)}`;
  const seen = new Set<string>();
  for (let k = 0; k < points.x.length; k++) seen.add(key(points.x[k], points.y[k]));
  const fresh = corners.filter(([x, y]) => {
    const name = key(x, y);
    if (seen.has(name)) return false;
    seen.add(name);
    return true;
  });
  const join = (own: Float64Array, place: 0 | 1 | 2) =>
    Float64Array.from([...own, ...fresh.map((corner) => corner[place])]);
  return { x: join(points.x, 0), y: join(points.y, 1), z: join(points.z, 2) };
};

/** Whether a stretch of a line keeps out of the square round a place. */
const isFar = (a: readonly number[], b: readonly number[], p: Point, near: number): boolean => {
  const [x, y] = [p[0], p[1]];
  return (
    (a[0] < x - near && b[0] < x - near) ||
    (a[0] > x + near && b[0] > x + near) ||
    (a[1] < y - near && b[1] < y - near) ||
    (a[1] > y + near && b[1] > y + near)
  );
};

/** For each live cell the unit vectors across the breaklines that pass within a knot's distance. */
export const breaksOnCells = (
  grid: KnotGrid,
  breaklines: readonly Breakline[],
): Map<number, readonly Point[]> => {
  const found = new Map<number, Point[]>();
  if (breaklines.length === 0) return found;
  const near = grid.step * Math.SQRT1_2;
  grid.cells.forEach((cell, k) => {
    const i = cell % grid.nx;
    const j = (cell - i) / grid.nx;
    const p: Point = [grid.x0 + (i + 0.5) * grid.step, grid.y0 + (j + 0.5) * grid.step];
    for (const line of breaklines) {
      for (let m = 1; m < line.length; m++) {
        if (isFar(line[m - 1], line[m], p, near)) continue;
        const a: Point = [line[m - 1][0], line[m - 1][1]];
        const b: Point = [line[m][0], line[m][1]];
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        if (length === 0) continue;
        const at = nearestOnSegment(a, b, p);
        if (Math.hypot(at[0] - p[0], at[1] - p[1]) > near) continue;
        const across: Point = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
        const list = found.get(k);
        if (list === undefined) found.set(k, [across]);
        else list.push(across);
      }
    }
  });
  return found;
};
