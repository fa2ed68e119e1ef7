import { tenTo } from '../power.js';
import { degreesFrom } from './degrees-of-freedom.js';
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

/** What a fit tells of its smoothing. */
type Told = Pick<Solved, 'square'> & { readonly logDeterminant: number };

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
    const { square, factor } = solveAt(problem, energy, tenTo(middle + width * k));
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
      return tenTo(at + width * lowestOf(low, least, high));
    }
  }
};
