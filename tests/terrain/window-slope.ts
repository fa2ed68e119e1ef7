import type { Point } from '../../src/geometry.js';

/**
 * Slope and aspect of a grid from a 3 x 3 window, for checks against other programs and for surveys that
 * are looked at before a surface is fitted to them.
 */

/** Heights of a grid, row by row from the north, NaN where there is none; cells square, metres. */
export interface HeightGrid {
  readonly columns: number;
  readonly rows: number;
  readonly cellSize: number;
  readonly z: ArrayLike<number>;
}

export type WindowMethod = 'horn' | 'zevenbergen-thorne';

/**
 * Gradient (east, north) at the middle of a window, as a fraction; null at the rim of the grid and beside
 * a cell without a height.
 *
 * Horn: B.K.P. Horn, "Hill shading and the reflectance map", Proc. IEEE 69 (1981) 14-47: weighted means
 * of the three differences across the window. Zevenbergen-Thorne: L.W. Zevenbergen and C.R. Thorne,
 * "Quantitative analysis of land surface topography", Earth Surf. Process. Landf. 12 (1987) 47-56: the
 * middle differences alone.
 */
export const windowGradient = (
  grid: HeightGrid,
  column: number,
  row: number,
  method: WindowMethod,
): Point | null => {
  const { columns, rows, cellSize, z } = grid;
  if (column < 1 || row < 1 || column > columns - 2 || row > rows - 2) return null;
  const at = row * columns + column;
  const [nw, n, ne] = [z[at - columns - 1], z[at - columns], z[at - columns + 1]];
  const [w, e] = [z[at - 1], z[at + 1]];
  const [sw, s, se] = [z[at + columns - 1], z[at + columns], z[at + columns + 1]];
  const sum = nw + n + ne + w + z[at] + e + sw + s + se;
  if (!Number.isFinite(sum)) return null;
  if (method === 'horn') {
    return [
      (ne + 2 * e + se - (nw + 2 * w + sw)) / (8 * cellSize),
      (nw + 2 * n + ne - (sw + 2 * s + se)) / (8 * cellSize),
    ];
  }
  return [(e - w) / (2 * cellSize), (n - s) / (2 * cellSize)];
};

/** Azimuth of the downhill direction, degrees clockwise from north, 0 <= a < 360; null on level ground. */
export const aspectOf = ([east, north]: Point): number | null => {
  if (east === 0 && north === 0) return null;
  const azimuth = (Math.atan2(-east, -north) * 180) / Math.PI;
  return azimuth < 0 ? azimuth + 360 : azimuth;
};
