import { basisSlopes, basisValues } from './bspline.js';
import type { KnotGrid } from './knot-grid.js';

/** The 16 basis functions that meet at a point: their unknowns, and their 1-d values and slopes (in knots). */
export interface Patch {
  /** The cell that holds the point, as j * nx + i. */
  cell: number;
  readonly ids: Int32Array;
  readonly bx: Float64Array;
  readonly by: Float64Array;
  readonly dx: Float64Array;
  readonly dy: Float64Array;
}

export const newPatch = (): Patch => ({
  cell: -1,
  ids: new Int32Array(16),
  bx: new Float64Array(4),
  by: new Float64Array(4),
  dx: new Float64Array(4),
  dy: new Float64Array(4),
});

/** Sets the patch at a point; false where no live cell holds it. */
export const placePatch = (grid: KnotGrid, patch: Patch, x: number, y: number): boolean => {
  const { nx, ny, step, x0, y0, live, unknown } = grid;
  const u = (x - x0) / step;
  const v = (y - y0) / step;
  const i = Math.floor(u);
  const j = Math.floor(v);
  if (!(i >= 0 && j >= 0 && i < nx && j < ny) || live[j * nx + i] === 0) return false;
  basisValues(u - i, patch.bx);
  basisValues(v - j, patch.by);
  basisSlopes(u - i, patch.dx);
  basisSlopes(v - j, patch.dy);
  const cell = j * nx + i;
  if (cell === patch.cell) return true;
  patch.cell = cell;
  const mx = nx + 3;
  for (let m = 0; m < 16; m++) patch.ids[m] = unknown[(j + (m >> 2)) * mx + i + (m & 3)];
  return true;
};

/** Weights of the fit's unknowns in a sum of slopes: at each place a weight, which add up where places are the same. */
export interface SlopeForm {
  readonly places: Int32Array;
  readonly weights: Float64Array;
}

/** For (x, y, wx, wy) after one another: the sum of wx dh/dx + wy dh/dy. Null where a place is off the grid. */
export const slopeForm = (grid: KnotGrid, quadruples: Float64Array): SlopeForm | null => {
  const { step } = grid;
  const patch = newPatch();
  const { ids, bx, by, dx, dy } = patch;
  const places = new Int32Array(4 * quadruples.length);
  const weights = new Float64Array(4 * quadruples.length);
  let count = 0;
  for (let k = 0; k + 3 < quadruples.length; k += 4) {
    const wx = quadruples[k + 2] / step;
    const wy = quadruples[k + 3] / step;
    if (wx === 0 && wy === 0) continue;
    if (!placePatch(grid, patch, quadruples[k], quadruples[k + 1])) return null;
    for (let m = 0; m < 16; m++) {
      places[count] = ids[m];
      weights[count++] = wx * dx[m & 3] * by[m >> 2] + wy * bx[m & 3] * dy[m >> 2];
    }
  }
  return { places: places.subarray(0, count), weights: weights.subarray(0, count) };
};
