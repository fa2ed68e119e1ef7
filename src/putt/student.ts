import { realPower } from '../power.js';
import { normalQuantile } from '../surface/normal-distribution.js';
import { robustSpread } from '../surface/robust-spread.js';

/**
 * The value that Student's t exceeds in a share `p` of cases, both tails together, 0 < p < 1; `freedom` of 1
 * and more. Source: Hill, Algorithm 396, Comm. ACM 13 (1970) 619-620, right to 5e-6 from three
 * degrees on, and the closed forms of one and two.
 */
export const studentQuantile = (p: number, freedom: number): number => {
  if (freedom === 1) return 1 / Math.tan((p * Math.PI) / 2);
  if (freedom === 2) return Math.sqrt(2 / (p * (2 - p)) - 2);
  const a = 1 / (freedom - 0.5);
  const b = 48 / (a * a);
  let c = ((20700 * a) / b - 98) * a - 16;
  c = c * a + 96.36;
  const d = ((94.5 / (b + c) - 3) / b + 1) * Math.sqrt((a * Math.PI) / 2) * freedom;
  let y = realPower(d * p, 2 / freedom);
  if (y > 0.05 + a) {
    const x = -normalQuantile(1 - p / 2);
    y = x * x;
    if (freedom < 5) c += 0.3 * (freedom - 4.5) * (x + 0.6);
    c = (((0.05 * d * x - 5) * x - 7) * x - 2) * x + b + c;
    y = (((((0.4 * y + 6.3) * y + 36) * y + 94.5) / c - y - 3) / b + 1) * x;
    y = a * y * y;
    y = y > 0.002 ? Math.expm1(y) : 0.5 * y * y + y;
  } else {
    y =
      ((1 / (((freedom + 6) / (freedom * y) - 0.089 * d - 0.822) * (freedom + 2) * 3) +
        0.5 / (freedom + 4)) *
        y -
        1) *
        ((freedom + 1) / (freedom + 2)) +
      1 / y;
  }
  return Math.sqrt(freedom * y);
};

/** Mean and standard deviation (n - 1) of two numbers and more. */
export const meanAndSd = (values: readonly number[]): { mean: number; sd: number } => {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, sd: Math.sqrt(square / (values.length - 1)) };
};

/** Score from which a value stands apart. */
const APART = 3.5;

/**
 * Indices of the values that stand apart from the others, and by more than `least`: modified z-scores, which some
 * wild values among many do not hide. Source: Iglewicz & Hoaglin (1993), as in NIST/SEMATECH e-Handbook of
 * Statistical Methods, 1.3.5.17.
 */
export const standingApart = (values: readonly number[], least = 0): number[] => {
  const { middle, sd } = robustSpread(values);
  return values.flatMap((value, index) =>
    Math.abs(value - middle) > Math.max(APART * sd, least) ? [index] : [],
  );
};
