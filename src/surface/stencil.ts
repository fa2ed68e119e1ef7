import { type Envelope, ROWS } from './envelope.js';

/**
 * Symmetric matrices of the unknowns of a knot grid that join only those which meet on a cell: each row holds the unknown
 * itself and up to 24 others before it, by how many rows and columns of knots they lie back. A small part of the envelope.
 */
export const NEIGHBOURS = 25;

/** Unknowns a row of knots and those of the rows before it reach back and to the side. */
const WIDTH = 7;

export interface Stencil {
  /**
   * Of the basis functions m and n of a cell (at 16 m + n), where n's entry lies in the row of m; negative where n comes
   * after m, and its own row holds it at the opposite.
   */
  readonly back: Int8Array;
  /** Where the entries of all rows lie in the envelope; -1 for those that no cell makes. */
  readonly places: Int32Array;
}

/** @param alongX whether the unknowns run fastest along x; `each` hands on the unknowns of each cell. */
export const stencilOf = (
  envelope: Envelope,
  alongX: boolean,
  each: (take: (unknowns: Int32Array) => void) => void,
): Stencil => {
  const back = new Int8Array(256);
  for (let m = 0; m < 16; m++) {
    for (let n = 0; n < 16; n++) {
      const across = (m & 3) - (n & 3);
      const along = (m >> 2) - (n >> 2);
      back[16 * m + n] = alongX ? WIDTH * along + across : WIDTH * across + along;
    }
  }
  const places = new Int32Array(NEIGHBOURS * envelope.size).fill(-1);
  each((unknowns) => {
    for (let m = 0; m < 16; m++) {
      const row = unknowns[m];
      for (let n = 0; n < 16; n++) {
        const by = back[16 * m + n];
        if (by >= 0) places[NEIGHBOURS * row + by] = envelope.base[row] + ROWS * unknowns[n];
      }
    }
  });
  return { back, places };
};

/** Sum over all entries of the product of two such matrices: trace(A B). */
export const traceOfProduct = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (i % NEIGHBOURS === 0 ? 1 : 2) * a[i] * b[i];
  return sum;
};
