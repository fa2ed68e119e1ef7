/**
 * Symmetric positive definite matrices of which each row is held from its first non-zero to the diagonal: the envelope of
 * a banded matrix. Four rows at a time make a block row, which is held column after column, four numbers each, from a
 * first column that is a multiple of four to the end of its block of the diagonal; first columns never decrease. The
 * Cholesky factor, and the part of the inverse that Takahashi's recursion yields, fill the same envelope.
 * Source: George & Liu, Computer Solution of Large Sparse Positive Definite Systems (1981).
 */
export interface Envelope {
  readonly size: number;
  /** First column held in each row. */
  readonly first: Int32Array;
  /** Entry (i, j), first[i] <= j <= i, lies at base[i] + ROWS j. */
  readonly base: Int32Array;
  /** Number of entries held. */
  readonly length: number;
  /** For each block row what the kernels need to know of it (see envelope-kernels.ts). */
  readonly table: Int32Array;
}

/** Rows of a block, and so the distance between entries of a row. */
export const ROWS = 4;

const NUMBER = 8;

/** The envelope for wished first columns (any order); they are lowered where needed. */
export const envelopeOf = (wished: Int32Array): Envelope => {
  const size = wished.length;
  const blocks = Math.ceil(size / ROWS);
  const first = new Int32Array(size);
  for (let i = size - 1, least = size; i >= 0; i--) {
    least = Math.min(least, wished[i]);
    first[i] = least - (least % ROWS);
  }
  const base = new Int32Array(size);
  const table = new Int32Array(3 * blocks);
  let length = 0;
  let ended = 0;
  for (let block = 0; block < blocks; block++) {
    const from = first[ROWS * block];
    const at = length - ROWS * from;
    for (let i = ROWS * block; i < Math.min(size, ROWS * (block + 1)); i++) {
      first[i] = from;
      base[i] = at + i - ROWS * block;
    }
    length += ROWS * (ROWS * (block + 1) - from);
    table[3 * block] = NUMBER * at;
    table[3 * block + 1] = NUMBER * ROWS * from;
    // Block columns before the first are held no further than in the block row before.
    while (ROWS * ended < from) table[3 * ended++ + 2] = NUMBER * ROWS * ROWS * (block - 1);
  }
  while (ended < blocks) table[3 * ended++ + 2] = NUMBER * ROWS * ROWS * (blocks - 1);
  return { size, first, base, length, table };
};
