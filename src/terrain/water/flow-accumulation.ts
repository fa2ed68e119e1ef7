import type { Flood, Raster } from './priority-flood.js';
import { NEIGHBOUR_DX, NEIGHBOUR_DY } from './priority-flood.js';

/** Where a cell's water goes: up to two neighbours and the share of the first (the rest goes to the second). */
export interface FlowShares {
  readonly first: Int32Array;
  readonly second: Int32Array;
  readonly share: Float64Array;
}

const QUARTER = Math.PI / 4;

/**
 * D-infinity flow (Tarboton, Water Resour. Res. 33, 1997) over the filled ground: the steepest of the
 * eight triangular facets round a cell gives a direction, and the water is shared between the two
 * neighbours that enclose it, by angle. A cell with no lower neighbour (a flat, a filled hollow) drains to
 * the neighbour from which it was flooded.
 */
export const dInfinity = (raster: Raster, flood: Flood): FlowShares => {
  const { columns, rows } = raster;
  const { filled, parent, order } = flood;
  const size = columns * rows;
  const first = new Int32Array(size).fill(-1);
  const second = new Int32Array(size).fill(-1);
  const share = new Float64Array(size).fill(1);
  const known = new Uint8Array(size);
  for (const cell of order) known[cell] = 1;
  const around = new Int32Array(8);
  for (const cell of order) {
    if (parent[cell] < 0) continue;
    const i = cell % columns;
    const j = (cell - i) / columns;
    for (let k = 0; k < 8; k++) {
      const ni = i + NEIGHBOUR_DX[k];
      const nj = j + NEIGHBOUR_DY[k];
      const other = nj * columns + ni;
      around[k] = ni < 0 || nj < 0 || ni >= columns || nj >= rows || !known[other] ? -1 : other;
    }
    const e0 = filled[cell];
    let steepest = 0;
    let facet = -1;
    // How the steepest facet falls along its side, and across: the angle is wanted of that one alone.
    let along = 1;
    let across = 0;
    for (let k = 0; k < 8; k++) {
      // Facet k: between neighbour k and k + 1, of which the even one is the side neighbour.
      const side = around[k & 1 ? (k + 1) & 7 : k];
      const corner = around[k & 1 ? k : k + 1];
      const s1 = side < 0 ? -Infinity : e0 - filled[side];
      const diagonal = corner < 0 ? -Infinity : (e0 - filled[corner]) / Math.SQRT2;
      let slope = s1;
      let s2 = 0;
      if (side < 0 || corner < 0) {
        if (diagonal > s1) {
          slope = diagonal;
          s2 = Infinity;
        }
      } else {
        s2 = filled[side] - filled[corner];
        if (s2 >= s1 && s2 > 0) slope = diagonal;
        else if (s2 > 0) slope = Math.sqrt(s1 * s1 + s2 * s2);
      }
      if (slope > steepest) {
        steepest = slope;
        facet = k;
        along = s1;
        across = s2;
      }
    }
    if (facet < 0) {
      first[cell] = parent[cell];
      continue;
    }
    const side = around[facet & 1 ? (facet + 1) & 7 : facet];
    const corner = around[facet & 1 ? facet : facet + 1];
    if (across <= 0) first[cell] = side;
    else if (across >= along) first[cell] = corner;
    else {
      first[cell] = side;
      second[cell] = corner;
      share[cell] = 1 - Math.atan2(across, along) / QUARTER;
    }
  }
  return { first, second, share };
};

/** Adds up the weight (area) that passes through each cell, its own included. */
export const accumulate = (flood: Flood, shares: FlowShares, own: Float64Array): Float64Array => {
  const total = Float64Array.from(own);
  const { order } = flood;
  for (let k = order.length - 1; k >= 0; k--) {
    const cell = order[k];
    const to = shares.first[cell];
    if (to < 0) continue;
    total[to] += total[cell] * shares.share[cell];
    const other = shares.second[cell];
    if (other >= 0) total[other] += total[cell] * (1 - shares.share[cell]);
  }
  return total;
};
