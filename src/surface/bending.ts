import { basisDerivative } from './bspline.js';
import type { KnotGrid } from './knot-grid.js';
import { unknownsOfCell } from './knot-grid.js';
import { NEIGHBOURS } from './stencil.js';

/**
 * The bending energy of a bicubic B-spline. With v = (h_xx, sqrt(2) h_xy, h_yy) the thin-plate energy
 * is the integral of v'v (Duchon 1977; Wahba, Spline Models for Observational Data, 1990). Here each
 * cell may weigh v by a symmetric 3 x 3 matrix of its own: v' W v. The six distinct entries are in the
 * order 00, 01, 02, 11, 12, 22.
 */
const PAIRS: readonly (readonly [number, number])[] = [
  [0, 0],
  [0, 1],
  [0, 2],
  [1, 1],
  [1, 2],
  [2, 2],
];

/** Gauss-Legendre, 4 points on 0..1 (exact to degree 7, enough for products of cubics). */
const GAUSS: readonly (readonly [number, number])[] = (() => {
  const a = Math.sqrt(3 / 7 - (2 / 7) * Math.sqrt(6 / 5));
  const b = Math.sqrt(3 / 7 + (2 / 7) * Math.sqrt(6 / 5));
  const wa = (18 + Math.sqrt(30)) / 36;
  const wb = (18 - Math.sqrt(30)) / 36;
  return [
    [(1 - b) / 2, wb / 2],
    [(1 - a) / 2, wa / 2],
    [(1 + a) / 2, wa / 2],
    [(1 + b) / 2, wb / 2],
  ];
})();

/** Orders of derivative and factor of the three components of v. */
const COMPONENTS = [
  [2, 0, 1],
  [1, 1, Math.SQRT2],
  [0, 2, 1],
] as const;

/** The third derivatives with the factors that make the sum of their squares independent of direction. */
const THIRD = [
  [3, 0, 1],
  [2, 1, Math.sqrt(3)],
  [1, 2, Math.sqrt(3)],
  [0, 3, 1],
] as const;

/** A derivative of each of the sixteen basis functions at a place of the unit cell, with a factor. */
const valuesAt = (
  [dx, dy, factor]: readonly [number, number, number],
  tx: number,
  ty: number,
): Float64Array =>
  Float64Array.from(
    { length: 16 },
    (_, m) => factor * basisDerivative(m & 3, dx, tx) * basisDerivative(m >> 2, dy, ty),
  );

/** Integral over a unit cell of the sum of squares of the third derivatives. */
const THIRD_ENERGY: Float64Array = (() => {
  const out = new Float64Array(256);
  for (const [tx, wx] of GAUSS) {
    for (const [ty, wy] of GAUSS) {
      for (const order of THIRD) {
        const value = valuesAt(order, tx, ty);
        for (let m = 0; m < 16; m++) {
          for (let n = 0; n < 16; n++) out[m * 16 + n] += wx * wy * value[m] * value[n];
        }
      }
    }
  }
  return out;
})();

/** Integrals over a unit cell of v_p (function m) v_q (function n), symmetrised over p, q: [pair][m * 16 + n]. */
export const CELL_ENERGY: readonly Float64Array[] = PAIRS.map(([p, q]) => {
  const out = new Float64Array(256);
  for (const [tx, wx] of GAUSS) {
    for (const [ty, wy] of GAUSS) {
      const a = valuesAt(COMPONENTS[p], tx, ty);
      const b = valuesAt(COMPONENTS[q], tx, ty);
      for (let m = 0; m < 16; m++) {
        for (let n = 0; n < 16; n++) {
          const both = p === q ? a[m] * a[n] : a[m] * b[n] + b[m] * a[n];
          out[m * 16 + n] += wx * wy * both;
        }
      }
    }
  }
  return out;
});

/**
 * About the least eigenvalue: the inverse of the trace of the inverse. Where it is small the ground
 * bends sharply, over a short way: there the length of the third derivatives shrinks with it.
 */
const leastWeight = (w: Float64Array, at: number): number => {
  const [a, b, c] = [w[at], w[at + 1], w[at + 2]];
  const [d, e, f] = [w[at + 3], w[at + 4], w[at + 5]];
  const minor = d * f - e * e;
  const determinant = a * minor - b * (b * f - c * e) + c * (b * e - c * d);
  const least = determinant / (minor + a * f - c * c + a * d - b * b);
  return least * Math.min(1, Math.sqrt(3 * least));
};

/**
 * The energy's matrix by the grid's stencil. `weights` holds six numbers a live cell, in the order
 * of grid.cells; null is the plain thin-plate energy. With a `thirdLength` (metres) the energy of third
 * derivatives is added, its weight its square times the least weight that the cell's bending has in any
 * direction: waves shorter than about 2 pi thirdLength then cost more than their bending alone.
 */
export const bendingMatrix = (
  grid: KnotGrid,
  weights: Float64Array | null,
  thirdLength = 0,
): Float64Array => {
  const { back } = grid.stencil;
  const out = new Float64Array(NEIGHBOURS * grid.size);
  const ids = new Int32Array(16);
  // Only what lies in a row's own half is wanted of a cell's 256 products.
  const half = Int32Array.from(back.keys()).filter((k) => back[k] >= 0);
  const halfOf = (all: Float64Array): Float64Array => Float64Array.from(half, (k) => all[k]);
  const local = new Float64Array(half.length);
  // Second derivatives scale with step^-2 each, the cell's area with step^2.
  const scale = 1 / (grid.step * grid.step);
  const [e0, e1, e2, e3, e4, e5] = CELL_ENERGY.map(halfOf);
  const thirds = halfOf(THIRD_ENERGY);
  const third = (scale * thirdLength ** 2) / (grid.step * grid.step);
  if (weights === null) {
    for (let h = 0; h < half.length; h++) {
      local[h] = (e0[h] + e3[h] + e5[h]) * scale + third * thirds[h];
    }
  }
  for (let c = 0; c < grid.cells.length; c++) {
    const cell = grid.cells[c];
    const i = cell % grid.nx;
    unknownsOfCell(grid, i, (cell - i) / grid.nx, ids);
    if (weights !== null) {
      const at = 6 * c;
      const least = third === 0 ? 0 : third * leastWeight(weights, at);
      const w0 = weights[at];
      const w1 = weights[at + 1];
      const w2 = weights[at + 2];
      const w3 = weights[at + 3];
      const w4 = weights[at + 4];
      const w5 = weights[at + 5];
      for (let h = 0; h < half.length; h++) {
        const bent = w0 * e0[h] + w1 * e1[h] + w2 * e2[h] + w3 * e3[h] + w4 * e4[h] + w5 * e5[h];
        local[h] = scale * bent + least * thirds[h];
      }
    }
    for (let h = 0; h < half.length; h++) {
      const m = half[h];
      out[NEIGHBOURS * ids[m >> 4] + back[m]] += local[h];
    }
  }
  return out;
};
