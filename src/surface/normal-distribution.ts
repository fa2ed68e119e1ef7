/** 95 % of a normal distribution lies within this many standard deviations of its mean (1.959964, rounded as tables do). */
export const TWO_SIDED_95 = 1.96;

/** Upper tail of the standard normal, from erfc by Abramowitz & Stegun 7.1.26 (error below 1.5e-7). */
export const upperTail = (z: number): number => {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const half = 0.5 * series * Math.exp(-x * x);
  return z >= 0 ? half : 1 - half;
};

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, c) => sum * x + c, 0);

const CENTRE = [
  [
    3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946,
    45921.95393154987, 67265.7709270087, 33430.57558358813, 2509.0809287301227,
  ],
  [
    1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597,
    39307.89580009271, 28729.085735721943, 5226.495278852854,
  ],
] as const;

const SHOULDER = [
  [
    1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045,
    1.2704582524523684, 0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
  ],
  [
    1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008,
    0.015198666563616457, 0.0005475938084995345, 1.0507500716444169e-9,
  ],
] as const;

const TAIL = [
  [
    6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487,
    0.026532189526576124, 0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
  ],
  [
    1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133,
    1.8463183175100548e-5, 1.421511758316446e-7, 2.0442631033899397e-15,
  ],
] as const;

const ratio = ([top, bottom]: readonly [readonly number[], readonly number[]], x: number): number =>
  polynomial(top, x) / polynomial(bottom, x);

/**
 * Quantile of the standard normal distribution at probability p in (0, 1), to about 1e-15 relative.
 * Source: Wichura, algorithm AS 241 (PPND16), Appl. Statist. 37 (1988) 477-484; coefficients from memory,
 * checked against SciPy (tests/event/recorded).
 */
export const normalQuantile = (p: number): number => {
  if (!(p > 0 && p < 1)) throw new RangeError(`no quantile at probability ${p}`);
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * ratio(CENTRE, 0.180625 - q * q);
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const size = r <= 5 ? ratio(SHOULDER, r - 1.6) : ratio(TAIL, r - 5);
  return q < 0 ? -size : size;
};
