import { InputFault } from '../fault.js';
import { factorDense, solveLowerDense, solveUpperDense } from './dense.js';
import { COLUMNS, type Factor, type Fours } from './factor.js';
import type { Problem } from './smoothing.js';

/**
 * Errors that several points have in common: the drift of a receiver over minutes, the level of a session
 * or a swath. Point p carries, beside its own noise, the sum of shares[p K + k] times the unknown
 * columns[p K + k] (-1: none), K being `width`; the unknowns are normal with a prior precision. Metres.
 */
export interface SharedErrors {
  readonly count: number;
  readonly width: number;
  readonly columns: Int32Array;
  readonly shares: Float64Array;
  /** Of the unknowns, count x count, 1/m^2. */
  readonly precision: Float64Array;
}

export type SharedColumns = Pick<SharedErrors, 'count' | 'width' | 'columns' | 'shares'>;

/** What the points say of the shared errors once the ground has taken what it can. */
export interface SharedInformation {
  /** C'WC less what the ground takes: the information on the unknowns, over the noise's variance. */
  readonly information: Float64Array;
  /** The same of the heights: C'Wz less what the ground takes. */
  readonly score: Float64Array;
}

/** C'WC and C'Wz, by way of each point's few columns. */
const ofThemselves = (
  { obs, weights }: Problem,
  { count: q, width, columns, shares }: SharedColumns,
): SharedInformation => {
  const information = new Float64Array(q * q);
  const score = new Float64Array(q);
  for (let k = 0; k < obs.count; k++) {
    const w = weights[k];
    const at = width * obs.source[k];
    for (let a = at; a < at + width; a++) {
      const column = columns[a] ?? -1;
      if (column < 0 || w === 0) continue;
      const ws = w * shares[a];
      score[column] += ws * obs.z[k];
      for (let b = at; b < at + width; b++) {
        if (columns[b] >= 0) information[column * q + columns[b]] += ws * shares[b];
      }
    }
  }
  return { information, score };
};

/** Adds a point's part in B'WC to a column of `four`. */
const carryPoint = (
  { obs }: Problem,
  k: number,
  ws: number,
  four: Float64Array,
  column: number,
): void => {
  const { unknowns, values } = obs;
  for (let m = 16 * k; m < 16 * k + 16; m++) {
    four[COLUMNS * unknowns[m] + column] += ws * values[m];
  }
};

/** The points' shares by the four columns that they belong to: `width` k + a of the share a of the observation k, in order. */
const sharesByFour = ({ obs }: Problem, { count, width, columns }: SharedColumns) => {
  const ends = new Int32Array(Math.ceil(count / COLUMNS) + 1);
  const fourOf = (k: number, a: number): number => {
    const column = columns[width * obs.source[k] + a] ?? -1;
    return column < 0 ? -1 : Math.floor(column / COLUMNS);
  };
  for (let k = 0; k < obs.count; k++) {
    for (let a = 0; a < width; a++) if (fourOf(k, a) >= 0) ends[fourOf(k, a) + 1] += 1;
  }
  for (let n = 1; n < ends.length; n++) ends[n] += ends[n - 1];
  const entries = new Int32Array(ends[ends.length - 1]);
  const next = ends.slice();
  for (let k = 0; k < obs.count; k++) {
    for (let a = 0; a < width; a++) {
      if (fourOf(k, a) >= 0) entries[next[fourOf(k, a)]++] = width * k + a;
    }
  }
  return { ends, entries };
};

/** Writes columns of B'WC from c on, a multiple of four, for `Factor`; the one after the last is B'Wz. */
const carriedBy = (problem: Problem, shared: SharedColumns): Fours['write'] => {
  const { count, width, columns, shares } = shared;
  const { obs, weights, right } = problem;
  const { ends, entries } = sharesByFour(problem, shared);
  return (four, c) => {
    const own = c / COLUMNS;
    const end = ends[own + 1] ?? 0;
    for (let n = ends[own]; n < end; n++) {
      const k = Math.floor(entries[n] / width);
      const at = width * obs.source[k] + (entries[n] % width);
      carryPoint(problem, k, weights[k] * shares[at], four, columns[at] - c);
    }
    if (count >= c && count < c + COLUMNS) {
      for (let i = 0; i < right.length; i++) four[COLUMNS * i + count - c] = right[i];
    }
  };
};

/** The information on several shared errors together. */
export const sharedInformation = (
  problem: Problem,
  factor: Factor,
  shared: SharedColumns,
): SharedInformation => {
  const q = shared.count;
  const { information, score } = ofThemselves(problem, shared);
  const taken = factor.products(q + 1, carriedBy(problem, shared));
  for (let c = 0; c < q; c++) {
    score[c] -= taken[c * (q + 1) + q];
    for (let d = 0; d < q; d++) information[c * q + d] -= taken[c * (q + 1) + d];
  }
  return { information, score };
};

/** Adds to what is carried by what the points' shares differ from those of the line before. */
const moveShares = (
  { obs, weights }: Problem,
  shares: Float64Array,
  fresh: Float64Array,
  carried: Float64Array,
): void => {
  const { unknowns, values } = obs;
  for (let k = 0; k < shares.length; k++) {
    if (fresh[k] === shares[k]) continue;
    const more = weights[k] * (fresh[k] - shares[k]);
    shares[k] = fresh[k];
    for (let m = 16 * k; m < 16 * k + 16; m++) carried[unknowns[m]] += more * values[m];
  }
};

/**
 * Writes the columns of B'WC of errors of which each has a share in every point, `share` of the point p of the ground in
 * the unknown c: each from the one before, since few points' shares differ from one line to the next.
 */
export const carriedAlone = (
  problem: Problem,
  q: number,
  share: (p: number, c: number) => number,
): Fours['write'] => {
  const { source, count } = problem.obs;
  const carried = new Float64Array(problem.grid.size);
  const shares = new Float64Array(count);
  const fresh = new Float64Array(count);
  return (four, c) => {
    for (let d = c; d < Math.min(q, c + COLUMNS); d++) {
      for (let k = 0; k < count; k++) fresh[k] = share(source[k], d);
      moveShares(problem, shares, fresh, carried);
      for (let i = 0; i < carried.length; i++) four[COLUMNS * i + d - c] = carried[i];
    }
  };
};

/** The shared errors as they are estimated together with the ground, and what their doubt adds to its own. */
export interface SharedSolved {
  readonly estimate: Float64Array;
  /**
   * The covariance of the spline's unknowns is sigma^2 (A^-1 + F F'): F, row after row, `count` numbers a
   * row.
   */
  readonly spreading: Float64Array;
}

/** A^-1 B'WC times a scale, `count` numbers a row. */
const carriedOver = (
  problem: Problem,
  factor: Factor,
  shared: SharedColumns,
  scaleOf: (c: number) => number,
): Float64Array => {
  const { size } = problem.grid;
  const q = shared.count;
  const out = new Float64Array(size * q);
  factor.solveFours('whole', q, {
    write: carriedBy(problem, shared),
    take(four, c) {
      for (let d = c; d < Math.min(q, c + COLUMNS); d++) {
        const scale = scaleOf(d);
        for (let i = 0; i < size; i++) out[i * q + d] = scale * four[COLUMNS * i + d - c];
      }
    },
  });
  return out;
};

/**
 * @param sigma standard deviation of a point's own noise, metres.
 * @throws InputFault for heights beside which the errors cannot be told: those of no green.
 */
export const solveShared = (
  problem: Problem,
  factor: Factor,
  shared: SharedErrors,
  sigma: number,
): SharedSolved => {
  const { size } = problem.grid;
  const q = shared.count;
  const { information, score } = sharedInformation(problem, factor, shared);
  const s = information.slice();
  for (let k = 0; k < s.length; k++) s[k] += sigma * sigma * shared.precision[k];
  if (!factorDense(s, q)) {
    throw new InputFault(
      {},
      'its heights are no ground: they differ by more than drift and steps can be told beside',
      'check the columns and the unit of the heights',
    );
  }
  const estimate = score.slice();
  solveLowerDense(s, q, estimate);
  solveUpperDense(s, q, estimate);
  const spreading = carriedOver(problem, factor, shared, () => 1);
  for (let i = 0; i < size; i++) {
    solveLowerDense(s, q, spreading.subarray(i * q, (i + 1) * q));
  }
  return { estimate, spreading };
};

/**
 * What independent shared errors add to the ground's doubt when nothing is taken off the heights for them
 * (Schmidt, Advances in Control Systems 3 (1966) 293-340, "consider" parameters): F as in `SharedSolved`.
 */
export const considered = (
  problem: Problem,
  factor: Factor,
  shared: SharedErrors,
  sigma: number,
): Float64Array => {
  const { count: q, precision } = shared;
  return carriedOver(problem, factor, shared, (c) => 1 / (sigma * Math.sqrt(precision[c * q + c])));
};

/** Heights less the shared errors as estimated. */
export const withoutShared = (
  z: Float64Array,
  { width, columns, shares }: SharedErrors,
  estimate: Float64Array,
): Float64Array =>
  z.map((height, p) => {
    let s = height;
    for (let a = width * p; a < width * (p + 1); a++) {
      if (columns[a] >= 0) s -= shares[a] * estimate[columns[a]];
    }
    return s;
  });
