import { wholePower } from '../power.js';

/**
 * The uniform cubic B-spline on one knot interval, t from 0 to 1. Four functions are non-zero there.
 * Source of the formulas: de Boor, A Practical Guide to Splines (1978), for equally spaced knots.
 */

/** Power coefficients: basis function a is sum_k POWERS[a][k] t^k on the interval. */
export const POWERS: readonly (readonly number[])[] = [
  [1 / 6, -1 / 2, 1 / 2, -1 / 6],
  [4 / 6, 0, -1, 1 / 2],
  [1 / 6, 1 / 2, 1 / 2, -1 / 2],
  [0, 0, 0, 1 / 6],
];

/** Writes the four values at t to out[0..3]. */
export const basisValues = (t: number, out: Float64Array): void => {
  const s = 1 - t;
  out[0] = (s * s * s) / 6;
  out[1] = ((3 * t - 6) * t * t + 4) / 6;
  out[2] = (((-3 * t + 3) * t + 3) * t + 1) / 6;
  out[3] = (t * t * t) / 6;
};

/** Writes the four first derivatives (per knot interval) at t to out[0..3]. */
export const basisSlopes = (t: number, out: Float64Array): void => {
  const s = 1 - t;
  out[0] = (-s * s) / 2;
  out[1] = (1.5 * t - 2) * t;
  out[2] = (-1.5 * t + 1) * t + 0.5;
  out[3] = (t * t) / 2;
};

/** m-th derivative of t^k at t. */
const powerDerivative = (k: number, m: number, t: number): number => {
  let factor = 1;
  for (let i = 0; i < m; i++) factor *= k - i;
  return factor === 0 ? 0 : factor * wholePower(t, k - m);
};

/** m-th derivative (per knot interval to the m) of basis function a at t; slow, for set-up. */
export const basisDerivative = (a: number, m: number, t: number): number =>
  POWERS[a].reduce((sum, c, k) => sum + c * powerDerivative(k, m, t), 0);
