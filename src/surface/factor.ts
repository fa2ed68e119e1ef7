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

/** The factor whose matrix lies in the kernels' memory. */
let present: object | null = null;

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

const factorBy = (shape: Envelope, bring: (held: Float64Array) => boolean): Factor | null => {
  const { size, base, length, table } = shape;
  const own = {};
  const at = placesIn(shape);
  /** Brings the factor back where it is not there. */
  const ready = (): boolean => {
    if (present === own) return true;
    const { buffer, held } = roomFor(shape, 0);
    new Int32Array(buffer, at.table, table.length).set(table);
    present = null;
    if (!bring(held)) return false;
    present = own;
    return true;
  };
  const four = COLUMNS * ROWS * at.rows;
  const solveOne = (v: Float64Array, halves: readonly ('lower' | 'upper')[]): void => {
    ready();
    const { rest } = roomFor(shape, four);
    rest.fill(0);
    for (let i = 0; i < size; i++) rest[COLUMNS * i] = v[i];
    for (const half of halves) kernels()[half](at.table, at.rows, at.matrix, at.beside);
    for (let i = 0; i < size; i++) v[i] = rest[COLUMNS * i];
  };
  if (!ready()) return null;
  const { held } = roomFor(shape, 0);
  let logs = 0;
  for (let i = 0; i < size; i++) logs += Math.log(held[base[i] + ROWS * i]);
  return {
    logDeterminant: 2 * logs,
    solve: (v) => solveOne(v, ['lower', 'upper']),
    solveLower: (v) => solveOne(v, ['lower']),
    solveUpper: (v) => solveOne(v, ['upper']),
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
          for (let r = 0; r < COLUMNS && COLUMNS * k + r < count; r++) {
            for (let c = 0; c < COLUMNS && COLUMNS * j + c < count; c++) {
              const [row, column] = [COLUMNS * k + r, COLUMNS * j + c];
              out[row * count + column] = block[COLUMNS * r + c];
              out[column * count + row] = block[COLUMNS * r + c];
            }
          }
        }
      }
      return out;
    },
    inverseAt(places) {
      ready();
      const { rest } = roomFor(shape, length + ROWS * ROWS * (1 + 2 * at.rows));
      kernels().inverse(at.table, at.rows, at.matrix, at.beside, at.beside + NUMBER * length);
      const out = new Float64Array(places.length);
      for (let k = 0; k < out.length; k++) if (places[k] >= 0) out[k] = rest[places[k]];
      return out;
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
