import { type Envelope, ROWS } from './envelope.js';
import { kernelRoom, kernels } from './kernel-room.js';

/**
 * The Cholesky factor L (lower, A = L L') of a matrix held in an envelope. It lies in the kernels' memory, which holds one:
 * where another has taken its place meanwhile, it is made again from what it was made of. Vectors lie row after row.
 */
export interface Factor {
  /** log |A|. */
  readonly logDeterminant: number;
  /** Solves A x = v, L x = v or L' x = v in place. */
  readonly solve: (v: Float64Array) => void;
  readonly solveLower: (v: Float64Array) => void;
  readonly solveUpper: (v: Float64Array) => void;
  /** w' A^-1 w = |L^-1 w|^2 of weights at places, which add up where places are the same. */
  readonly formOf: (places: Int32Array, weights: Float64Array) => number;
  /**
   * Solves L X = V, or A X = V, for so many columns, four at a time: `write` puts those from c on into `four`, four numbers
   * a row that are nought before, and `take` finds the solution there.
   */
  readonly solveFours: (half: 'lower' | 'whole', count: number, fours: Fours) => void;
  /** V' A^-1 V for so many columns, count x count; `write` as above. */
  readonly products: (count: number, write: Fours['write']) => Float64Array;
  /** Entries of the inverse by their places in the envelope (0 where -1 is asked). */
  readonly inverseAt: (places: Int32Array) => Float64Array;
  /** L itself. */
  readonly copy: () => Float64Array;
}

export interface Fours {
  readonly write: (four: Float64Array, c: number) => void;
  readonly take: (four: Float64Array, c: number) => void;
}

/** Columns that the kernels solve for at a time. */
export const COLUMNS = 4;
const NUMBER = 8;

/** The factor whose matrix lies in the kernels' memory, and where it ends, in numbers. */
let present: object | null = null;
let presentEnd = 0;

/** Rows past the last make the last block whole: a one on the diagonal leaves them alone. */
const completeLast = ({ size, length }: Envelope, a: Float64Array): void => {
  for (let k = 0; k < (ROWS - (size % ROWS)) % ROWS; k++) a[length - 1 - k * (ROWS + 1)] = 1;
};

/** Addresses of the table, of the matrix and of what is beside them. */
const placesIn = ({ table, length }: Envelope) => {
  const matrix = NUMBER * Math.ceil(table.length / 2);
  return { table: 0, rows: table.length / 3, matrix, beside: matrix + NUMBER * length };
};

/** The matrix in the kernels' memory, and so many numbers beside it. */
const roomFor = (shape: Envelope, beside: number) => {
  const at = placesIn(shape);
  const buffer = kernelRoom(at.beside / NUMBER + beside);
  return {
    buffer,
    held: new Float64Array(buffer, at.matrix, shape.length),
    rest: new Float64Array(buffer, at.beside, beside),
  };
};

/** So many numbers in the kernels' memory beside the factor that lies there, and the first one's address. */
export const besideFactor = (
  numbers: number,
): { readonly room: Float64Array; readonly address: number } => {
  const buffer = kernelRoom(presentEnd + numbers);
  const address = NUMBER * presentEnd;
  return { room: new Float64Array(buffer, address, numbers), address };
};

// Loops over numbers stand in functions of the module: what V8 makes fast of a function that is made within another is
// lost with the last of these, at the next look of the collector for what is old, and is made anew.

/** Adds weights at places; the first place, or `none`. */
const addAt = (
  v: Float64Array,
  places: Int32Array,
  weights: Float64Array,
  none: number,
): number => {
  let least = none;
  for (let k = 0; k < places.length; k++) {
    v[places[k]] += weights[k];
    if (places[k] < least) least = places[k];
  }
  return least;
};

const squareOf = (v: Float64Array, from: number, end: number): number => {
  let square = 0;
  for (let i = from; i < end; i++) square += v[i] * v[i];
  return square;
};

const logOfDiagonal = ({ size, base }: Envelope, held: Float64Array): number => {
  let logs = 0;
  for (let i = 0; i < size; i++) logs += Math.log(held[base[i] + ROWS * i]);
  return logs;
};

const entriesAt = (values: Float64Array, places: Int32Array): Float64Array => {
  const out = new Float64Array(places.length);
  for (let k = 0; k < out.length; k++) if (places[k] >= 0) out[k] = values[places[k]];
  return out;
};

/** Puts a block of products into a symmetric matrix of so many rows, at row and column. */
const putBlock = (
  out: Float64Array,
  count: number,
  block: Float64Array,
  row: number,
  column: number,
): void => {
  const rows = Math.min(COLUMNS, count - row);
  const columns = Math.min(COLUMNS, count - column);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      out[(row + r) * count + column + c] = block[COLUMNS * r + c];
      out[(column + c) * count + row + r] = block[COLUMNS * r + c];
    }
  }
};

/** What a factor does for a column that comes alone; `ready` brings the factor back. */
const solvesAlone = (
  shape: Envelope,
  ready: () => boolean,
): Pick<Factor, 'solve' | 'solveLower' | 'solveUpper' | 'formOf'> => {
  const { size } = shape;
  const at = placesIn(shape);
  const solveOne = (v: Float64Array, half: 'lower' | 'upper' | 'whole'): void => {
    ready();
    const { rest } = roomFor(shape, ROWS * at.rows);
    rest.fill(0, size);
    rest.set(v);
    if (half !== 'upper') kernels().lowerAlone(at.table, at.rows, at.matrix, at.beside, 0);
    if (half !== 'lower') kernels().upperAlone(at.table, at.rows, at.matrix, at.beside);
    v.set(rest.subarray(0, size));
  };
  return {
    solve: (v) => solveOne(v, 'whole'),
    solveLower: (v) => solveOne(v, 'lower'),
    solveUpper: (v) => solveOne(v, 'upper'),
    formOf(places, weights) {
      ready();
      const { rest } = roomFor(shape, ROWS * at.rows);
      rest.fill(0);
      const from = Math.floor(addAt(rest, places, weights, size) / ROWS);
      kernels().lowerAlone(at.table, at.rows, at.matrix, at.beside, from);
      return squareOf(rest, ROWS * from, size);
    },
  };
};

const factorBy = (shape: Envelope, bring: (held: Float64Array) => boolean): Factor | null => {
  const { length, table } = shape;
  const own = {};
  const at = placesIn(shape);
  /** Brings the factor back where it is not there. */
  const ready = (): boolean => {
    if (present === own) return true;
    const { buffer, held } = roomFor(shape, 0);
    new Int32Array(buffer, at.table, table.length).set(table);
    present = null;
    presentEnd = at.beside / NUMBER;
    if (!bring(held)) return false;
    present = own;
    return true;
  };
  const four = COLUMNS * ROWS * at.rows;
  if (!ready()) return null;
  const { held } = roomFor(shape, 0);
  return {
    logDeterminant: 2 * logOfDiagonal(shape, held),
    ...solvesAlone(shape, ready),
    solveFours(half, count, { write, take }) {
      ready();
      const { rest } = roomFor(shape, four);
      for (let c = 0; c < count; c += COLUMNS) {
        rest.fill(0);
        write(rest, c);
        kernels().lower(at.table, at.rows, at.matrix, at.beside);
        if (half === 'whole') kernels().upper(at.table, at.rows, at.matrix, at.beside);
        take(rest, c);
      }
    },
    products(count, write) {
      ready();
      const fours = Math.ceil(count / COLUMNS);
      const { rest } = roomFor(shape, fours * four + COLUMNS * COLUMNS);
      rest.fill(0);
      const addressOf = (k: number): number => at.beside + NUMBER * four * k;
      for (let k = 0; k < fours; k++) {
        write(rest.subarray(k * four, (k + 1) * four), COLUMNS * k);
        kernels().lower(at.table, at.rows, at.matrix, addressOf(k));
      }
      const block = rest.subarray(fours * four);
      const out = new Float64Array(count * count);
      for (let k = 0; k < fours; k++) {
        for (let j = 0; j <= k; j++) {
          kernels().products(at.rows, addressOf(k), addressOf(j), addressOf(fours));
          putBlock(out, count, block, COLUMNS * k, COLUMNS * j);
        }
      }
      return out;
    },
    inverseAt(places) {
      ready();
      const { rest } = roomFor(shape, length + ROWS * ROWS * (1 + 2 * at.rows));
      kernels().inverse(at.table, at.rows, at.matrix, at.beside, at.beside + NUMBER * length);
      return entriesAt(rest, places);
    },
    copy() {
      ready();
      return roomFor(shape, 0).held.slice();
    },
  };
};

/** The factor of the matrix that `fill` writes over noughts; null where a pivot is not positive. */
export const factorOf = (shape: Envelope, fill: (a: Float64Array) => void): Factor | null =>
  factorBy(shape, (held) => {
    held.fill(0);
    fill(held);
    completeLast(shape, held);
    const { table, rows, matrix } = placesIn(shape);
    return kernels().factor(table, rows, matrix) === 1;
  });

/** A factor that `copy` gave. */
export const factorFrom = (shape: Envelope, l: Float64Array): Factor => {
  const factor = factorBy(shape, (held) => {
    held.set(l);
    return true;
  });
  if (factor === null) throw new Error('a factor that was made is there');
  return factor;
};
