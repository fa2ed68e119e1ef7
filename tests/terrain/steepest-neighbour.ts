import type { FlowShares } from '../../src/terrain/water/flow-accumulation.js';
import type { Flood, Raster } from '../../src/terrain/water/priority-flood.js';
import { NEIGHBOUR_DX, NEIGHBOUR_DY } from '../../src/terrain/water/priority-flood.js';

/**
 * D8 flow (O'Callaghan & Mark, 1984) over the filled ground: all water goes to the neighbour of steepest
 * descent; in flats and filled hollows to the neighbour from which the cell was flooded.
 */
export const steepestNeighbour = (raster: Raster, flood: Flood): FlowShares => {
  const { columns, rows } = raster;
  const { filled, parent, order } = flood;
  const size = columns * rows;
  const first = new Int32Array(size).fill(-1);
  const known = new Uint8Array(size);
  for (const cell of order) known[cell] = 1;
  for (const cell of order) {
    if (parent[cell] < 0) continue;
    const i = cell % columns;
    const j = (cell - i) / columns;
    let steepest = 0;
    let to = parent[cell];
    for (let k = 0; k < 8; k++) {
      const ni = i + NEIGHBOUR_DX[k];
      const nj = j + NEIGHBOUR_DY[k];
      if (ni < 0 || nj < 0 || ni >= columns || nj >= rows) continue;
      const other = nj * columns + ni;
      if (!known[other]) continue;
      const slope = (filled[cell] - filled[other]) / (k & 1 ? Math.SQRT2 : 1);
      if (slope > steepest) {
        steepest = slope;
        to = other;
      }
    }
    first[cell] = to;
  }
  return {
    first,
    second: new Int32Array(size).fill(-1),
    share: new Float64Array(size).fill(1),
  };
};
