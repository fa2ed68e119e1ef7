import { basisValues } from './bspline.js';
import type { KnotGrid } from './knot-grid.js';
import { unknownsOfCell } from './knot-grid.js';
import { NEIGHBOURS } from './stencil.js';

/** The survey's points on the knot grid: for each the 16 unknowns that act on it and their values there. */
export interface Observations {
  readonly count: number;
  /** Index of the point in the ground that was given. */
  readonly source: Int32Array;
  readonly z: Float64Array;
  readonly unknowns: Int32Array;
  readonly values: Float64Array;
}

/** Points that lie on no live cell are left out: they are past outline and collar. */
export const observe = (
  grid: KnotGrid,
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
): Observations => {
  const source: number[] = [];
  for (let p = 0; p < x.length; p++) {
    const i = Math.floor((x[p] - grid.x0) / grid.step);
    const j = Math.floor((y[p] - grid.y0) / grid.step);
    if (i >= 0 && j >= 0 && i < grid.nx && j < grid.ny && grid.live[j * grid.nx + i] === 1) {
      source.push(p);
    }
  }
  const count = source.length;
  const unknowns = new Int32Array(16 * count);
  const values = new Float64Array(16 * count);
  const heights = new Float64Array(count);
  const bx = new Float64Array(4);
  const by = new Float64Array(4);
  source.forEach((p, k) => {
    const u = (x[p] - grid.x0) / grid.step;
    const v = (y[p] - grid.y0) / grid.step;
    const i = Math.floor(u);
    const j = Math.floor(v);
    basisValues(u - i, bx);
    basisValues(v - j, by);
    unknownsOfCell(grid, i, j, unknowns.subarray(16 * k, 16 * k + 16));
    for (let m = 0; m < 16; m++) values[16 * k + m] = bx[m & 3] * by[m >> 2];
    heights[k] = z[p];
  });
  return { count, source: Int32Array.from(source), z: heights, unknowns, values };
};

/** B' W B by the grid's stencil, and B' W z. */
export const normalEquations = (
  grid: KnotGrid,
  obs: Observations,
  weights: Float64Array,
): { matrix: Float64Array; right: Float64Array } => {
  const { size } = grid;
  const { back } = grid.stencil;
  const matrix = new Float64Array(NEIGHBOURS * size);
  const right = new Float64Array(size);
  const { unknowns, values } = obs;
  for (let k = 0; k < obs.count; k++) {
    const w = weights[k];
    if (w === 0) continue;
    const wz = w * obs.z[k];
    const at = 16 * k;
    for (let m = 0; m < 16; m++) {
      const value = values[at + m];
      const wv = w * value;
      const row = unknowns[at + m];
      right[row] += value * wz;
      for (let n = 0; n < 16; n++) {
        const by = back[16 * m + n];
        if (by >= 0) matrix[NEIGHBOURS * row + by] += wv * values[at + n];
      }
    }
  }
  return { matrix, right };
};

/** z minus the fitted height at each point. */
export const residuals = (obs: Observations, coefficients: Float64Array): Float64Array => {
  const out = new Float64Array(obs.count);
  for (let k = 0; k < obs.count; k++) {
    let s = obs.z[k];
    for (let m = 16 * k; m < 16 * k + 16; m++) s -= obs.values[m] * coefficients[obs.unknowns[m]];
    out[k] = s;
  }
  return out;
};

/** b' Z b at each point, Z a symmetric matrix held by the grid's stencil. */
export const quadraticForms = (
  grid: KnotGrid,
  obs: Observations,
  matrix: Float64Array,
): Float64Array => {
  const { back } = grid.stencil;
  const { unknowns, values } = obs;
  const out = new Float64Array(obs.count);
  for (let k = 0; k < obs.count; k++) {
    const at = 16 * k;
    let s = 0;
    for (let m = 0; m < 16; m++) {
      const row = NEIGHBOURS * unknowns[at + m];
      // What lies before m counts twice, for the entry and its opposite.
      let own = 0.5 * values[at + m] * matrix[row];
      for (let n = 0; n < 16; n++) {
        const by = back[16 * m + n];
        if (by > 0) own += values[at + n] * matrix[row + by];
      }
      s += 2 * values[at + m] * own;
    }
    out[k] = s;
  }
  return out;
};
