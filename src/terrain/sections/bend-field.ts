import type { GroundGrid } from '../ground-grid.js';
import type { LevelField } from '../regions/isolines.js';

/** Bends are averaged over squares of this half-width, metres: no section is smaller. */
const WINDOW = 1;
/** Grade under which the direction of fall says little; the mean bend is used instead. */
const SOFT = 0.004;

/**
 * Second derivative of height across the fall line, averaged over a square: positive in hollows and
 * swales, negative on crowns and spurs, zero on the straight brow of a tier.
 */
export const bendAcross = (grid: GroundGrid): LevelField => {
  const { originX, originY, step, columns, rows, hx, hy, hxx, hxy, hyy } = grid;
  const raw = new Float64Array(hx.length);
  for (let n = 0; n < hx.length; n++) {
    const gx = hx[n];
    const gy = hy[n];
    const square = gx * gx + gy * gy;
    const across = hxx[n] * gy * gy - 2 * hxy[n] * gx * gy + hyy[n] * gx * gx;
    const soft = SOFT * SOFT;
    raw[n] = (across + (soft * (hxx[n] + hyy[n])) / 2) / (square + soft);
  }
  return {
    originX,
    originY,
    step,
    columns,
    rows,
    value: boxMean(raw, columns, rows, Math.max(1, Math.round(WINDOW / step))),
  };
};

/** Values of a line: the first one's place, how far apart they lie, and how many they are. */
interface Line {
  first: number;
  readonly along: number;
  readonly count: number;
}

/** Running means along one line. */
const lineMean = (
  from: Float64Array,
  out: Float64Array,
  { first, along, count }: Line,
  reach: number,
): void => {
  let sum = 0;
  let low = 0;
  let high = -1;
  for (let k = 0; k < count; k++) {
    while (high < Math.min(count - 1, k + reach)) sum += from[first + ++high * along];
    while (low < k - reach) sum -= from[first + low++ * along];
    out[first + k * along] = sum / (high - low + 1);
  }
};

/** Mean over a square of nodes, cut at the border of the grid, by running sums along rows and columns. */
export const boxMean = (
  field: Float64Array,
  columns: number,
  rows: number,
  reach: number,
): Float64Array => {
  const byRows = new Float64Array(field.length);
  const row = { first: 0, along: 1, count: columns };
  for (; row.first < rows * columns; row.first += columns) lineMean(field, byRows, row, reach);
  const out = new Float64Array(field.length);
  const column = { first: 0, along: columns, count: rows };
  for (; column.first < columns; column.first++) lineMean(byRows, out, column, reach);
  return out;
};
