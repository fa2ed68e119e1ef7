import { factorDense, solveLowerDense, solveUpperDense } from './dense.js';
import { solveFactored, solveLower, solveLowerColumns } from './envelope.js';
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

/** B'WC, `count` numbers a row, C'WC and C'Wz by way of each point's few columns. */
const crossed = (
  { grid, obs, weights }: Problem,
  { count: q, width, columns, shares }: SharedColumns,
) => {
  const across = new Float64Array(q * grid.size);
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
        across[obs.unknowns[m] * q + column] += ws * obs.values[m];
      }
      for (let b = at; b < at + width; b++) {
        if (columns[b] >= 0) information[column * q + columns[b]] += ws * shares[b];
      }
    }
  }
  return { across, information, score };
};

/**
 * L^-1 of B'WC, in its place, and of B'Wz: the ground takes the product of the two, so that half of each
 * solve is enough.
 */
const taken = ({ grid, right }: Problem, factor: Float64Array, across: Float64Array, q: number) => {
  solveLowerColumns(grid.envelope, factor, across, q);
  const heights = right.slice();
  solveLower(grid.envelope, factor, heights);
  return { columns: across, heights };
};

/** The information on several shared errors together. */
export const sharedInformation = (
  problem: Problem,
  factor: Float64Array,
  shared: SharedColumns,
): SharedInformation => {
  const q = shared.count;
  const { across, information, score } = crossed(problem, shared);
  const { columns, heights } = taken(problem, factor, across, q);
  for (let i = 0; i < heights.length; i++) {
    const row = i * q;
    for (let c = 0; c < q; c++) {
      const own = columns[row + c];
      if (own === 0) continue;
      score[c] -= own * heights[i];
      for (let d = 0; d <= c; d++) information[c * q + d] -= own * columns[row + d];
    }
  }
  for (let c = 0; c < q; c++) {
    for (let d = 0; d < c; d++) information[d * q + c] = information[c * q + d];
  }
  return { information, score };
};

/**
 * The information on shared errors of which each is looked at alone: the diagonal of the above.
 *
 * @param share of the point p of the ground in the unknown c.
 */
export const informationAlone = (
  problem: Problem,
  factor: Float64Array,
  q: number,
  share: (p: number, c: number) => number,
): SharedInformation => {
  const { grid, obs, weights } = problem;
  const across = new Float64Array(q * grid.size);
  const information = new Float64Array(q);
  const score = new Float64Array(q);
  for (let k = 0; k < obs.count; k++) {
    for (let c = 0; c < q; c++) {
      const s = share(obs.source[k], c);
      const ws = weights[k] * s;
      score[c] += ws * obs.z[k];
      information[c] += ws * s;
      for (let m = 16 * k; m < 16 * k + 16; m++) {
        across[obs.unknowns[m] * q + c] += ws * obs.values[m];
      }
    }
  }
  const { columns, heights } = taken(problem, factor, across, q);
  for (let i = 0; i < heights.length; i++) {
    for (let c = 0; c < q; c++) {
      const own = columns[i * q + c];
      score[c] -= own * heights[i];
      information[c] -= own * own;
    }
  }
  return { information, score };
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

/** Column after column of A^-1 B'WC, handed on as it is solved. */
const carriedOver = (
  { grid }: Problem,
  factor: Float64Array,
  across: Float64Array,
  q: number,
  take: (column: Float64Array, c: number) => void,
): void => {
  const own = new Float64Array(grid.size);
  for (let c = 0; c < q; c++) {
    for (let i = 0; i < own.length; i++) own[i] = across[i * q + c];
    solveFactored(grid.envelope, factor, own);
    take(own, c);
  }
};

/** @param sigma standard deviation of a point's own noise, metres. */
export const solveShared = (
  problem: Problem,
  factor: Float64Array,
  shared: SharedErrors,
  sigma: number,
): SharedSolved => {
  const { size } = problem.grid;
  const q = shared.count;
  const { information, score } = sharedInformation(problem, factor, shared);
  const s = information.slice();
  for (let k = 0; k < s.length; k++) s[k] += sigma * sigma * shared.precision[k];
  if (!factorDense(s, q)) throw new Error('the shared errors of the survey are not determined');
  const estimate = score.slice();
  solveLowerDense(s, q, estimate);
  solveUpperDense(s, q, estimate);
  const spreading = new Float64Array(size * q);
  carriedOver(problem, factor, crossed(problem, shared).across, q, (column, c) => {
    for (let i = 0; i < size; i++) spreading[i * q + c] = column[i];
  });
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
  factor: Float64Array,
  shared: SharedErrors,
  sigma: number,
): Float64Array => {
  const { size } = problem.grid;
  const q = shared.count;
  const out = new Float64Array(size * q);
  carriedOver(problem, factor, crossed(problem, shared).across, q, (column, c) => {
    const scale = 1 / (sigma * Math.sqrt(shared.precision[c * q + c]));
    for (let i = 0; i < size; i++) out[i * q + c] = scale * column[i];
  });
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
