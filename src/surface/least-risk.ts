import {
  LEAST_EXPONENT,
  lowestOf,
  MOST_EXPONENT,
  type Problem,
  type Solved,
  solveAt,
} from './smoothing.js';

/**
 * The smoothing of least risk, by one fit for each smoothing that is tried: the risk takes the degrees of freedom, and
 * they are the slope of a determinant that each fit gives anyway.
 */

/**
 * A choice adapted to the data spends degrees of freedom that the trace does not count; cross-validation
 * so takes each for a little more than one, as Kim & Gu, J. R. Statist. Soc. B 66 (2004) 337-356, do
 * (they take 1.2 to 1.4; this is less, since a flat tier does more harm than a little noise).
 */
const DEGREE_COST = 1.1;

/** What the smoothing leaves alone: planes. */
const PLANE = 3;
/** Degrees over a plane's are never taken for less. */
const LEAST_OVER = 1e-6;

/** What a fit tells of its smoothing. */
type Told = Pick<Solved, 'square'> & { readonly logDeterminant: number };

/** log (sinh v / v). */
const logSinhOver = (v: number): number =>
  Math.abs(v) < 1e-4 ? (v * v) / 6 : Math.log(Math.sinh(v) / v);

/**
 * Degrees of freedom at smoothings that stand evenly apart, from the logarithm of the determinant at each. With
 * A = B'WB + s E, trace(A^-1 B'WB) is the number of unknowns less d log|A| / d log s, so that each difference tells the
 * mean over an interval. What is over a plane's goes about with a power of the smoothing: its logarithm is laid through
 * the means (through the middles of the two or three intervals that are nearest), less what a mean is over its middle.
 *
 * @param logs of the determinants, at least three; `apart` the step in the natural logarithm of the smoothing.
 */
export const degreesFrom = (logs: readonly number[], size: number, apart: number): number[] => {
  const means = logs
    .slice(1)
    .map((log, k) => Math.log(Math.max(LEAST_OVER, size - PLANE - (log - logs[k]) / apart)));
  return logs.map((_, k) => {
    // The middle of the mean i lies at i + 1/2.
    const first = Math.max(0, Math.min(means.length - 3, k - 2 + (k > logs.length / 2 ? 0 : 1)));
    const [a, b, c] = means.slice(first, first + 3);
    const second = c === undefined ? 0 : c - 2 * b + a;
    const t = k - first - 1;
    // Through a at -1/2, b at 1/2 and c at 3/2, counted from the end of the first interval.
    const rise = b - a + second * t;
    const level = (a + b) / 2 + (b - a) * t + (second / 2) * (t * t - 0.25);
    return PLANE + Math.exp(level - logSinhOver(rise / 2) - second / 24);
  });
};

/** Where the smoothing is looked for, and by which accuracy of a point, metres (null: by cross-validation). */
export interface Choice {
  readonly start: number;
  /** Step of the search, in powers of ten. */
  readonly width: number;
  readonly accuracy: number | null;
}

/**
 * What the smoothing is to make least: generalised cross-validation (Craven & Wahba, Numer. Math. 31
 * (1979) 377-403), or, where the survey states its accuracy, the unbiased estimate of the risk
 * (Mallows' C_p; Wahba 1990, section 4.7).
 */
const riskOf = (n: number, square: number, told: number, accuracy: number | null): number => {
  const degrees = DEGREE_COST * told;
  if (accuracy !== null) return (square + 2 * accuracy ** 2 * degrees) / n;
  const free = n - degrees;
  return free <= 0.02 * n ? Infinity : (n * square) / (free * free);
};

/**
 * The smoothing of least risk: walked downhill by steps of `width` from `start`, then set by the parabola through the
 * three last values.
 */
export const smoothingOfLeastRisk = (
  problem: Problem,
  energy: Float64Array,
  { start, width, accuracy }: Choice,
): number => {
  const middle = Math.log10(start);
  const tellAt = (k: number): Told => {
    const { square, factor } = solveAt(problem, energy, 10 ** (middle + width * k));
    return { square, logDeterminant: factor.logDeterminant };
  };
  let first = -1;
  const told = [tellAt(-1), tellAt(0), tellAt(1)];
  for (;;) {
    const degrees = degreesFrom(
      told.map(({ logDeterminant }) => logDeterminant),
      problem.grid.size,
      width * Math.LN10,
    );
    const risks = told.map(({ square }, k) => riskOf(problem.mass, square, degrees[k], accuracy));
    const least = Math.min(...risks);
    // Where no point is left for the noise the smoothing is too small.
    const best = least === Infinity ? told.length - 1 : risks.indexOf(least);
    const at = middle + width * (first + best);
    if (best === 0 && at >= LEAST_EXPONENT) {
      first -= 1;
      told.unshift(tellAt(first));
    } else if (best === told.length - 1 && at <= MOST_EXPONENT) {
      told.push(tellAt(first + told.length));
    } else {
      const [low, least, high] = [
        risks[best - 1] ?? Infinity,
        risks[best],
        risks[best + 1] ?? Infinity,
      ];
      return 10 ** (at + width * lowestOf(low, least, high));
    }
  }
};
