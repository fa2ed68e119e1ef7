import { wholePower } from '../power.js';

/**
 * How uneven ground may be between few places: a random field over a plane, its covariance with distance and the
 * parameters that are thought possible. Metres.
 */
export interface UnevenField {
  readonly shape: 'smooth' | 'rough';
  /** Distance over which heights stay alike. */
  readonly length: number;
  /** Standard deviation of the grade that the field adds to the plane's, along any one direction; a part of one. */
  readonly grade: number;
}

/** The covariance k of heights as a function of the squared distance s: k, dk/ds and d2k/ds2. */
export type Covariance = (s: number, out: Float64Array) => void;

/**
 * Two shapes, between which the heights decide: the Gaussian exp(-r^2 / l^2), whose fields have all derivatives, and
 * Matern's of order 5/2 (Stein, Interpolation of Spatial Data, 1999, section 2.7; quoted from memory), whose bends change
 * within the length, as at the foot of a shelf.
 */
export const covarianceOf = ({ shape, length, grade }: UnevenField): Covariance => {
  const perSquare = 1 / (length * length);
  if (shape === 'smooth') {
    // The variance of a derivative is -2 k'(0) = 2 sd^2 / l^2.
    const variance = (grade * length) ** 2 / 2;
    return (s, out) => {
      const k = variance * Math.exp(-s * perSquare);
      out[0] = k;
      out[1] = -k * perSquare;
      out[2] = k * perSquare * perSquare;
    };
  }
  // The length is that of the Gaussian with the same fall near the origin: a^2 = 6 / l^2, variance of a derivative sd^2 a^2 / 3.
  const a = Math.sqrt(6) / length;
  const variance = (3 * grade * grade) / (a * a);
  return (s, out) => {
    const ar = a * Math.sqrt(s);
    const e = variance * Math.exp(-ar);
    out[0] = e * (1 + ar + (ar * ar) / 3);
    out[1] = (-e * a * a * (1 + ar)) / 6;
    out[2] = (e * wholePower(a, 4)) / 12;
  };
};

/** Variance of the slope along one direction, and, by misplacing a slope by one metre along each, of what it changes by. */
export const slopeVariance = (field: UnevenField): number => field.grade * field.grade;

export const bendVariance = (field: UnevenField): number => {
  const out = new Float64Array(3);
  covarianceOf(field)(0, out);
  // Variances of the second derivatives: 12 k'' along, 4 k'' across.
  return 16 * out[2];
};
