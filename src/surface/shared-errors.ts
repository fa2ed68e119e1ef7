import { factorDense, solveLowerDense, solveUpperDense } from './dense.js';
import { solveFactored } from './envelope.js';
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
  /** A^-1 B'WC, column after column. */
  readonly carried: Float64Array;
}

/** B'WC column after column, C'WC and C'Wz by way of each point's few columns. */
const crossed = (
  { grid, obs, weights }: Problem,
  { count: q, width, columns, shares }: SharedColumns,
) => {
  const { size } = grid;
  const across = new Float64Array(q * size);
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
      for (let m = 16 * k; m < 16 * k + 16; m++) {
        across[column * size + obs.unknowns[m]] += ws * obs.values[m];
      }
      for (let b = at; b < at + width; b++) {
        if (columns[b] >= 0) information[column * q + columns[b]] += ws * shares[b];
      }
    }
  }
  return { across, information, score };
};

export const sharedInformation = (
  problem: Problem,
  factor: Float64Array,
  shared: SharedColumns,
): SharedInformation => {
  const { grid, right } = problem;
  const { size } = grid;
  const q = shared.count;
  const { across, information, score } = crossed(problem, shared);
  const carried = across.slice();
  for (let c = 0; c < q; c++) {
    const own = carried.subarray(c * size, (c + 1) * size);
    solveFactored(grid.envelope, factor, own);
    let s = 0;
    for (let i = 0; i < size; i++) s += own[i] * right[i];
    score[c] -= s;
    for (let d = 0; d < q; d++) {
      let t = 0;
      const other = d * size;
      for (let i = 0; i < size; i++) t += own[i] * across[other + i];
      information[d * q + c] -= t;
    }
  }
  return { information, score, carried };
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

/** @param sigma standard deviation of a point's own noise, metres. */
export const solveShared = (
  size: number,
  shared: SharedErrors,
  { information, score, carried }: SharedInformation,
  sigma: number,
): SharedSolved => {
  const q = shared.count;
  const s = information.slice();
  for (let k = 0; k < s.length; k++) s[k] += sigma * sigma * shared.precision[k];
  if (!factorDense(s, q)) throw new Error('the shared errors of the survey are not determined');
  const estimate = score.slice();
  solveLowerDense(s, q, estimate);
  solveUpperDense(s, q, estimate);
  const spreading = new Float64Array(size * q);
  const row = new Float64Array(q);
  for (let i = 0; i < size; i++) {
    for (let c = 0; c < q; c++) row[c] = carried[c * size + i];
    solveLowerDense(s, q, row);
    spreading.set(row, i * q);
  }
  return { estimate, spreading };
};

/**
 * What independent shared errors add to the ground's doubt when nothing is taken off the heights for them
 * (Schmidt, Advances in Control Systems 3 (1966) 293-340, "consider" parameters): F as in `SharedSolved`.
 */
export const considered = (
  problem: Problem,
  factor: Float64Array,
  shared: SharedErrors,
  sigma: number,
): Float64Array => {
  const { size, envelope } = problem.grid;
  const q = shared.count;
  const { across } = crossed(problem, shared);
  const out = new Float64Array(size * q);
  for (let c = 0; c < q; c++) {
    const own = across.subarray(c * size, (c + 1) * size);
    solveFactored(envelope, factor, own);
    const scale = 1 / (sigma * Math.sqrt(shared.precision[c * q + c]));
    for (let i = 0; i < size; i++) out[i * q + c] = scale * own[i];
  }
  return out;
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
