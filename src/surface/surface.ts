import type { Box, Ring } from '../geometry.js';

/** Places of the values that `Surface.at` writes. */
export const H = 0;
export const HX = 1;
export const HY = 2;
export const HXX = 3;
export const HXY = 4;
export const HYY = 5;
export const HXXX = 6;
export const HXXY = 7;
export const HXYY = 8;
export const HYYY = 9;
export const JET_SIZE = 10;

/** A height field z = h(x, y) over one green, in the frame of the green, metres. */
export interface Surface {
  /** The edge of the green. */
  readonly outline: Ring;
  /** How far past the outline the field may be asked, metres. */
  readonly collar: number;
  /** The box of the outline grown by the collar. */
  readonly box: Box;
  /**
   * Writes height, gradient, Hessian and third derivatives at (x, y) to `jet` (length 10, places
   * above). Does not allocate. Outside the box it continues the field smoothly, so that an integrator
   * that oversteps gets finite values; nothing there is to be shown.
   */
  at(x: number, y: number, jet: Float64Array): void;
  /** What the fit knows of its own error; null for a field that is exact (a test surface). */
  readonly trust: Trust | null;
}

/** Places where the edge between two swaths may run unseen; it runs along one of them. */
export interface EdgeDoubt {
  /** How likely each is; their sum is 1. */
  readonly chances: Float64Array;
  /**
   * What the step there does to a linear functional (see `Trust.functionalVariance`): the standard deviation by each edge,
   * signed, times the root of its chance, so that their squares add up to the edges' part in the variance.
   */
  parts(quadruples: Float64Array): Float64Array;
}

/** Posterior uncertainty of a fitted surface. */
export interface Trust {
  /**
   * Factor by which intervals are wider, where they are told, than the standard deviations below make them: see
   * widening.ts. 1 where it is left out.
   */
  readonly widening?: number;
  /** Edges that the variances below count in their sum; left out where there are none. */
  readonly edges?: EdgeDoubt | null;
  /** Standard deviation of height at a point, metres. */
  heightSd(x: number, y: number): number;
  /** Writes the covariance of (hx, hy) as xx, xy, yy. */
  gradientCovariance(x: number, y: number, out: Float64Array): void;
  /**
   * Variance of the linear functional sum_k (wx_k hx(p_k) + wy_k hy(p_k)), the points given as
   * x, y, wx, wy quadruples. By this a putt turns the survey's error into an error of its aim.
   */
  functionalVariance(quadruples: Float64Array): number;
  /**
   * Draws of the error of the heights at some points (x, y after x, y), all points together; an error that
   * the whole green has in common is left out. A draw takes standard normal numbers and gives metres, zero
   * where nothing is known.
   */
  heightDraws(points: Float64Array): (normal: () => number) => Float64Array;
}
