import type { Point } from '../../geometry.js';
import { distance } from '../../geometry.js';
import type { Surface } from '../../surface/surface.js';
import { H, HX, HXX, HXY, HY, HYY, JET_SIZE } from '../../surface/surface.js';
import type { GroundGrid } from '../ground-grid.js';
import { nearestNode } from '../ground-grid.js';

/** A place where the surface is level. */
export interface LevelPoint {
  readonly kind: 'high' | 'low' | 'saddle';
  readonly at: Point;
  readonly height: number;
}

const ROUNDS = 20;

/**
 * Newton on the gradient from (x, y), steps cut to `reach`; null when it wanders further than 2 reach from
 * its start or the ground is flat to second order there.
 */
export const levelPointNear = (
  surface: Surface,
  x0: number,
  y0: number,
  reach: number,
): LevelPoint | null => {
  const jet = new Float64Array(JET_SIZE);
  let x = x0;
  let y = y0;
  for (let round = 0; round < ROUNDS; round++) {
    surface.at(x, y, jet);
    const det = jet[HXX] * jet[HYY] - jet[HXY] * jet[HXY];
    const size = Math.abs(jet[HXX]) + Math.abs(jet[HYY]) + Math.abs(jet[HXY]);
    if (!(Math.abs(det) > 1e-9 * size * size) || size < 1e-7) return null;
    let dx = -(jet[HYY] * jet[HX] - jet[HXY] * jet[HY]) / det;
    let dy = -(jet[HXX] * jet[HY] - jet[HXY] * jet[HX]) / det;
    const length = Math.hypot(dx, dy);
    if (length > reach) {
      dx *= reach / length;
      dy *= reach / length;
    }
    x += dx;
    y += dy;
    if (Math.hypot(x - x0, y - y0) > 2 * reach) return null;
    if (length < 1e-7) {
      surface.at(x, y, jet);
      const sign = jet[HXX] * jet[HYY] - jet[HXY] * jet[HXY];
      const kind = sign < 0 ? 'saddle' : jet[HXX] + jet[HYY] < 0 ? 'high' : 'low';
      return { kind, at: [x, y], height: jet[H] };
    }
  }
  return null;
};

/** A top (sign 1) or bottom (sign -1) by compass search to 0.5 mm, for ground without a second derivative. */
export const extremeNear = (
  surface: Surface,
  x0: number,
  y0: number,
  reach: number,
  sign: 1 | -1,
): LevelPoint | null => {
  const jet = new Float64Array(JET_SIZE);
  const valueAt = (x: number, y: number): number => {
    surface.at(x, y, jet);
    return sign * jet[H];
  };
  let x = x0;
  let y = y0;
  let best = valueAt(x, y);
  for (let step = reach / 2; step > 5e-4; ) {
    let moved = false;
    for (let k = 0; k < 8; k++) {
      const u = x + step * Math.cos((k * Math.PI) / 4);
      const v = y + step * Math.sin((k * Math.PI) / 4);
      const value = valueAt(u, v);
      if (value > best) {
        best = value;
        x = u;
        y = v;
        moved = true;
        break;
      }
    }
    if (Math.hypot(x - x0, y - y0) > 2 * reach) return null;
    if (!moved) step /= 2;
  }
  return { kind: sign > 0 ? 'high' : 'low', at: [x, y], height: sign * best };
};

/** All places where the gradient vanishes on the green, found cell by cell and brought down by Newton. */
export const levelPoints = (grid: GroundGrid): LevelPoint[] => {
  const { columns, rows, step, originX, originY, hx, hy, inside, surface } = grid;
  const found: LevelPoint[] = [];
  for (let j = 0; j < rows - 1; j++) {
    for (let i = 0, n = j * columns; i < columns - 1; i++, n++) {
      const m = n + columns;
      if (!(inside[n] || inside[n + 1] || inside[m] || inside[m + 1])) continue;
      if (!changesSign(hx, n, m) || !changesSign(hy, n, m)) continue;
      const point = levelPointNear(
        surface,
        originX + (i + 0.5) * step,
        originY + (j + 0.5) * step,
        step,
      );
      if (point === null) continue;
      if (!inside[nearestNode(grid, point.at[0], point.at[1])]) continue;
      if (found.some((other) => distance(other.at, point.at) < 0.02)) continue;
      found.push(point);
    }
  }
  return found;
};

/** Whether a gradient component may vanish in the cell; a tenth of its spread allows for its bend. */
const changesSign = (field: Float64Array, n: number, m: number): boolean => {
  const low = Math.min(field[n], field[n + 1], field[m], field[m + 1]);
  const high = Math.max(field[n], field[n + 1], field[m], field[m + 1]);
  const slack = 0.25 * (high - low);
  return low - slack <= 0 && high + slack >= 0;
};
