import type { KnotGrid } from './knot-grid.js';

/** What errors that points have in common add to the doubt of the ground. */
export interface SharedDoubt {
  /** F of the covariance sigma^2 (A^-1 + F F'), row after row; see shared-errors.ts. */
  readonly spreading: Float64Array;
  /** Numbers a row of F. */
  readonly count: number;
  /** Standard deviation of an error that the whole green has in common, metres: of heights only. */
  readonly offset: number;
  /** Of the last columns of F, the chance that it is this one that is at work: see `EdgeDoubt`. */
  readonly edges: Float64Array;
}

/** The fit's unknowns: their covariance is A^-1 + F F', in units of the noise's variance. */
export interface Posterior {
  readonly grid: KnotGrid;
  /** Cholesky factor of A. */
  readonly factor: Float64Array;
  /** F, and what is beside it. */
  readonly shared: SharedDoubt | null;
}
