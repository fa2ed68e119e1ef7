import { kernelRoom, kernels } from './kernel-room.js';

/**
 * Symmetric positive definite matrices of which each row is held from its first non-zero to the diagonal: the envelope of
 * a banded matrix. Four rows at a time make a block row, which is held column after column, four numbers each, from one
 * first column that is a multiple of four, to the end of its block of the diagonal; first columns never decrease. The
 * Cholesky factor, and the part of the inverse that Takahashi's recursion yields, fill the same envelope.
 * Sources: George & Liu, Computer Solution of Large Sparse Positive Definite Systems (1981);
 * Takahashi, Fagan & Chen (1973), in the form of Erisman & Tinney, Comm. ACM 18 (1975) 177-179.
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
      base[i] = at + (i - ROWS * block);
    }
    length += ROWS * (ROWS * (block + 1) - from);
    table[3 * block] = 8 * at;
    table[3 * block + 1] = 8 * ROWS * from;
    // Block columns before the first were last seen in the block row before.
    while (ROWS * ended < from) table[3 * ended++ + 2] = 8 * ROWS * ROWS * (block - 1);
  }
  while (ended < blocks) table[3 * ended++ + 2] = 8 * ROWS * ROWS * (blocks - 1);
  return { size, first, base, length, table };
};

/** Where things lie in the kernels' memory. */
interface Room {
  readonly rows: number;
  /** Addresses of the table, of a matrix, and of what is beside them. */
  readonly table: number;
  readonly matrix: number;
  readonly beside: number;
  /** The matrix's numbers, and those beside it. */
  readonly held: Float64Array;
  readonly rest: Float64Array;
}

const roomFor = ({ table, length }: Envelope, beside: number): Room => {
  const matrix = 8 * Math.ceil(table.length / 2);
  const buffer = kernelRoom(matrix / 8 + length + beside);
  new Int32Array(buffer, 0, table.length).set(table);
  return {
    rows: table.length / 3,
    table: 0,
    matrix,
    beside: matrix + 8 * length,
    held: new Float64Array(buffer, matrix, length),
    rest: new Float64Array(buffer, matrix + 8 * length, beside),
  };
};

/** Rows past the last make the last block whole: a one on the diagonal leaves them alone. */
const completeLast = ({ size, length }: Envelope, a: Float64Array): void => {
  for (let k = 0; k < (ROWS - (size % ROWS)) % ROWS; k++) a[length - 1 - k * (ROWS + 1)] = 1;
};

/** Cholesky factor L (lower, A = L L') in place over `a`. Returns false when a pivot is not positive. */
export const factorInPlace = (shape: Envelope, a: Float64Array): boolean => {
  const { rows, table, matrix, held } = roomFor(shape, 0);
  held.set(a);
  completeLast(shape, held);
  const done = kernels().factor(table, rows, matrix);
  a.set(held);
  return done === 1;
};

/** Columns that the kernels solve for at a time. */
const COLUMNS = 4;

/** Solves for several columns in place, by the kernels named; `v` lies row after row, `count` numbers a row. */
const solveColumns = (
  shape: Envelope,
  l: Float64Array,
  v: Float64Array,
  count: number,
  names: readonly ('lower' | 'upper')[],
): void => {
  const { size } = shape;
  const { rows, table, matrix, beside, held, rest } = roomFor(
    shape,
    COLUMNS * ROWS * Math.ceil(size / ROWS),
  );
  held.set(l);
  for (let c = 0; c < count; c += COLUMNS) {
    const some = Math.min(COLUMNS, count - c);
    rest.fill(0);
    for (let i = 0; i < size; i++) {
      for (let k = 0; k < some; k++) rest[COLUMNS * i + k] = v[i * count + c + k];
    }
    for (const name of names) kernels()[name](table, rows, matrix, beside);
    for (let i = 0; i < size; i++) {
      for (let k = 0; k < some; k++) v[i * count + c + k] = rest[COLUMNS * i + k];
    }
  }
};

/** Solves L U = V in place for several columns; V lies row after row, `count` numbers a row. */
export const solveLowerColumns = (
  shape: Envelope,
  l: Float64Array,
  v: Float64Array,
  count: number,
): void => solveColumns(shape, l, v, count, ['lower']);

/** Solves L u = v in place. */
export const solveLower = (shape: Envelope, l: Float64Array, v: Float64Array): void =>
  solveColumns(shape, l, v, 1, ['lower']);

/** Solves L' u = v in place. */
export const solveUpper = (shape: Envelope, l: Float64Array, v: Float64Array): void =>
  solveColumns(shape, l, v, 1, ['upper']);

/** Solves A x = v in place, from the factor of A. */
export const solveFactored = (shape: Envelope, l: Float64Array, v: Float64Array): void =>
  solveColumns(shape, l, v, 1, ['lower', 'upper']);

/** log determinant of A, from its factor. */
export const logDeterminant = (shape: Envelope, l: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < shape.size; i++) sum += Math.log(l[shape.base[i] + ROWS * i]);
  return 2 * sum;
};

/**
 * The entries of the inverse of A that lie in the envelope, from the factor of A (Takahashi). Its blocks of the diagonal
 * are whole.
 */
export const selectedInverse = (shape: Envelope, l: Float64Array): Float64Array => {
  const { length } = shape;
  const blocks = Math.ceil(shape.size / ROWS);
  const room = roomFor(shape, length + ROWS * ROWS * (1 + 2 * blocks));
  const { rows, table, matrix, beside, held, rest } = room;
  held.set(l);
  kernels().inverse(table, rows, matrix, beside, beside + 8 * length);
  return rest.slice(0, length);
};

/** Sum over all entries of the product of two symmetric matrices held in one envelope: trace(A B). */
export const traceOfProduct = (shape: Envelope, a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  sum *= 2;
  for (let i = 0; i < shape.size; i++) {
    const at = shape.base[i] + ROWS * i;
    sum -= a[at] * b[at];
  }
  return sum;
};
