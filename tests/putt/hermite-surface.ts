import {
  H,
  HX,
  HXX,
  HXXX,
  HXXY,
  HXY,
  HXYY,
  HY,
  HYY,
  HYYY,
  JET_SIZE,
  type Surface,
} from '../../src/surface/surface.js';
import { circleRing } from '../surface/analytic.js';

/**
 * A piece of a fitted surface as a table: height, both slopes and the mixed derivative at the nodes of a
 * square grid, row by row. On the fit's own knots its bicubic Hermite cells are the fit itself.
 */
export interface NodeTable {
  readonly x0: number;
  readonly y0: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
  /** h, hx, hy, hxy of each node. */
  readonly nodes: readonly number[];
}

export const nodeTable = (
  surface: Surface,
  x0: number,
  y0: number,
  step: number,
  columns: number,
  rows: number,
): NodeTable => {
  const jet = new Float64Array(JET_SIZE);
  const nodes: number[] = [];
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      surface.at(x0 + c * step, y0 + r * step, jet);
      nodes.push(jet[H], jet[HX], jet[HY], jet[HXY]);
    }
  }
  return { x0, y0, step, columns, rows, nodes };
};

/** Cubic Hermite weights (value, slope, value, slope) and their first three derivatives by t. */
const weights = (t: number): readonly number[][] => [
  [1 - 3 * t * t + 2 * t ** 3, t - 2 * t * t + t ** 3, 3 * t * t - 2 * t ** 3, t ** 3 - t * t],
  [-6 * t + 6 * t * t, 1 - 4 * t + 3 * t * t, 6 * t - 6 * t * t, 3 * t * t - 2 * t],
  [-6 + 12 * t, -4 + 6 * t, 6 - 12 * t, 6 * t - 2],
  [12, 6, -12, 6],
];

const ORDERS: readonly (readonly [place: number, byX: number, byY: number])[] = [
  [H, 0, 0],
  [HX, 1, 0],
  [HY, 0, 1],
  [HXX, 2, 0],
  [HXY, 1, 1],
  [HYY, 0, 2],
  [HXXX, 3, 0],
  [HXXY, 2, 1],
  [HXYY, 1, 2],
  [HYYY, 0, 3],
];

export const hermiteSurface = (table: NodeTable): Surface => {
  const { x0, y0, step, columns, rows, nodes } = table;
  const outline = circleRing(400);
  return {
    outline,
    collar: 0,
    box: {
      minX: x0,
      minY: y0,
      maxX: x0 + (columns - 1) * step,
      maxY: y0 + (rows - 1) * step,
    },
    trust: null,
    at: (x, y, jet) => {
      const c = Math.max(0, Math.min(columns - 2, Math.floor((x - x0) / step)));
      const r = Math.max(0, Math.min(rows - 2, Math.floor((y - y0) / step)));
      const wx = weights((x - x0) / step - c);
      const wy = weights((y - y0) / step - r);
      for (const [place, byX, byY] of ORDERS) {
        let sum = 0;
        for (let j = 0; j < 2; j++) {
          for (let i = 0; i < 2; i++) {
            const at = 4 * ((r + j) * columns + c + i);
            const [h, hx, hy, hxy] = nodes.slice(at, at + 4);
            const [a, da] = [wx[byX][2 * i], wx[byX][2 * i + 1] * step];
            const [b, db] = [wy[byY][2 * j], wy[byY][2 * j + 1] * step];
            sum += a * b * h + da * b * hx + a * db * hy + da * db * hxy;
          }
        }
        jet[place] = sum / step ** (byX + byY);
      }
    },
  };
};
