import { factorDense, logDeterminantDense, solveLowerDense, solveUpperDense } from './dense.js';
import { covarianceOfReadings, type PacedGround } from './paced-places.js';
import { type Possible, possibleFields } from './uneven-prior.js';

/** One possible field, conditioned on the readings. */
interface Conditioned {
  readonly possible: Possible;
  /** Logarithm of prior times likelihood, but for a term that all have in common. */
  readonly logWeight: number;
  /** Cholesky factor of the readings' covariance, and that covariance's inverse times the readings. */
  readonly factor: Float64Array;
  readonly solved: Float64Array;
}

export interface Weighted extends Conditioned {
  readonly weight: number;
}

/** Fields that have less than this share together are left out; never more than so many are kept. */
const NEGLIGIBLE = 0.02;
const MOST_FIELDS = 40;
/** More readings than this do not tell more of the kind of field: every second place, or third, is asked. */
const ASKED = 200;

const conditioned = (ground: PacedGround, possible: Possible): Conditioned | null => {
  const { value } = ground.readings;
  const n = value.length;
  const factor = covarianceOfReadings(ground, possible);
  if (!factorDense(factor, n)) return null;
  const solved = value.slice();
  solveLowerDense(factor, n, solved);
  const square = solved.reduce((sum, v) => sum + v * v, 0);
  solveUpperDense(factor, n, solved);
  const logWeight = possible.logPrior - 0.5 * (square + logDeterminantDense(factor, n));
  return { possible, logWeight, factor, solved };
};

/** The ground by every k-th place. */
const thinned = (ground: PacedGround): PacedGround => {
  const { x, y, kind, value, place } = ground.readings;
  const every = Math.ceil(value.length / ASKED);
  if (every === 1) return ground;
  const kept = Array.from(place.keys()).filter((i) => place[i] % every === 0);
  return {
    ...ground,
    readings: {
      x: Float64Array.from(kept, (i) => x[i]),
      y: Float64Array.from(kept, (i) => y[i]),
      kind: Uint8Array.from(kept, (i) => kind[i]),
      value: Float64Array.from(kept, (i) => value[i]),
      place: Int32Array.from(kept, (i) => place[i]),
    },
  };
};

/** Fields that the readings allow, the likeliest first, with weights that add up to one. */
export const likelyFields = (ground: PacedGround): Weighted[] => {
  const asked = thinned(ground);
  const all = possibleFields()
    .flatMap((possible) => conditioned(asked, possible) ?? [])
    .sort((a, b) => b.logWeight - a.logWeight);
  if (all.length === 0) throw new Error('no field can be conditioned on the readings by hand');
  const shares = all.map((one) => Math.exp(one.logWeight - all[0].logWeight));
  const enough = (1 - NEGLIGIBLE) * shares.reduce((sum, share) => sum + share, 0);
  let held = 0;
  let count = 0;
  while (count < Math.min(all.length, MOST_FIELDS) && held < enough) held += shares[count++];
  return all.slice(0, count).flatMap((one, k) => {
    const whole = asked === ground ? one : conditioned(ground, one.possible);
    return whole === null ? [] : [{ ...whole, weight: shares[k] / held }];
  });
};

/**
 * Each reading against what the others say of it: the difference, and that in its standard deviations (Rasmussen &
 * Williams, Gaussian Processes for Machine Learning, 2006, equations 5.10 to 5.12; quoted from memory).
 */
export const againstOthers = ({
  factor,
  solved,
}: Conditioned): { off: Float64Array; by: Float64Array } => {
  const n = solved.length;
  const off = new Float64Array(n);
  const by = new Float64Array(n);
  const unit = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    unit.fill(0);
    unit[i] = 1;
    solveLowerDense(factor, n, unit);
    const precision = unit.reduce((sum, v) => sum + v * v, 0);
    off[i] = solved[i] / precision;
    by[i] = solved[i] / Math.sqrt(precision);
  }
  return { off, by };
};
