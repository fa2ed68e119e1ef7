import type { Point } from '../geometry.js';
import type { PacedFalls, PacedReadings } from '../survey/survey.js';
import { bendVariance, covarianceOf, slopeVariance, type UnevenField } from './uneven-field.js';
import type { Possible } from './uneven-prior.js';

/** Places at which heights or falls were read by hand, and how their errors and the ground between them hang together. */

/** What is read on the ground, one number each: where, its kind (0: height; 1, 2: slope along x, y), and the number, metres or a part of one. */
export interface PlaceReadings {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly kind: Uint8Array;
  readonly value: Float64Array;
  /** The place that each belongs to. */
  readonly place: Int32Array;
}

type Kinds = Pick<PlaceReadings, 'x' | 'y' | 'kind'>;

/** How falls, or heights, are read at their places. */
export const readingsOf = (
  { x, y, z }: { readonly x: Float64Array; readonly y: Float64Array; readonly z: Float64Array },
  { falls }: PacedReadings,
): PlaceReadings => {
  if (falls === null) {
    return { x, y, kind: new Uint8Array(x.length), value: z, place: Int32Array.from(x.keys()) };
  }
  const place = Int32Array.from({ length: 2 * x.length }, (_, k) => k >> 1);
  return {
    x: Float64Array.from(place, (p) => x[p]),
    y: Float64Array.from(place, (p) => y[p]),
    kind: Uint8Array.from(place, (_, k) => 1 + (k & 1)),
    value: Float64Array.from(place, (p, k) => (k & 1 ? falls.y[p] : falls.x[p])),
    place,
  };
};

/** The plane under the field: how steep it may be, along any one direction (set; greens lie at one to four per cent). */
const PLANE_GRADE = 0.03;
/** The level is not known at all, metres. */
const LEVEL = 10;

/**
 * Covariance of two readings of plane and field: heights by k(s), slopes by its derivatives (Rasmussen & Williams,
 * Gaussian Processes for Machine Learning, 2006, section 9.4; quoted from memory).
 * The level of all is unknown; of falls it is left out, since they say nothing of it.
 */
export const groundCovariance = (
  field: UnevenField,
  { middle, errors }: Pick<PacedGround, 'middle' | 'errors'>,
): ((a: Kinds, i: number, b: Kinds, j: number) => number) => {
  const k = covarianceOf(field);
  const out = new Float64Array(3);
  const plane = PLANE_GRADE * PLANE_GRADE;
  const level = errors.falls === null ? LEVEL * LEVEL : 0;
  return (a, i, b, j) => {
    const d = [a.x[i] - b.x[j], a.y[i] - b.y[j]] as const;
    k(d[0] * d[0] + d[1] * d[1], out);
    const [m, n] = [a.kind[i], b.kind[j]];
    if (m > 0 && n > 0) {
      const along = m === n ? plane - 2 * out[1] : 0;
      return along - 4 * d[m - 1] * d[n - 1] * out[2];
    }
    const u = [a.x[i] - middle[0], a.y[i] - middle[1]] as const;
    const v = [b.x[j] - middle[0], b.y[j] - middle[1]] as const;
    if (m > 0) return 2 * d[m - 1] * out[1] + plane * v[m - 1];
    if (n > 0) return -2 * d[n - 1] * out[1] + plane * u[n - 1];
    return out[0] + level + plane * (u[0] * v[0] + u[1] * v[1]);
  };
};

/** Readings by hand of one green, as they are looked at together. */
export interface PacedGround {
  readonly readings: PlaceReadings;
  readonly errors: PacedReadings;
  /** Slope of the plane through the heights, a part of one: what a misplaced height costs. */
  readonly steepness: number;
  /** Where the plane under the field has its level. */
  readonly middle: Point;
  /** Places that do not count. */
  readonly lost: ReadonlySet<number>;
}

/** Variance that is added to a reading that does not count. */
export const LOST = 100;

/** Adds the errors of heights. */
const addHeightErrors = (
  a: Float64Array,
  ground: PacedGround,
  { field, factor }: Possible,
): void => {
  const { readings, errors, steepness, lost } = ground;
  const n = readings.value.length;
  const own = (factor * errors.heightSd) ** 2;
  const astray = errors.placeSd ** 2 * (steepness ** 2 + 2 * slopeVariance(field));
  for (let i = 0; i < n; i++)
    a[i * n + i] += own + astray + (lost.has(readings.place[i]) ? LOST : 0);
};

/** Adds the errors of falls: of the grade, of the direction at each place, and of the one from which all are counted. */
const addFallErrors = (
  a: Float64Array,
  { readings, errors, lost }: PacedGround,
  { gradeSd, turnSd, sightSd }: PacedFalls,
  { field, factor }: Possible,
): void => {
  const { value, place } = readings;
  const n = value.length;
  const own = (factor * gradeSd) ** 2 + errors.placeSd ** 2 * bendVariance(field);
  const turn = (factor * turnSd) ** 2;
  const across = new Float64Array(n);
  for (let i = 0; i < n; i += 2) {
    across[i] = -value[i + 1];
    across[i + 1] = value[i];
    for (const p of [i, i + 1]) {
      a[p * n + p] += own + (lost.has(place[p]) ? LOST : 0);
      for (const q of [i, i + 1]) a[p * n + q] += turn * across[p] * across[q];
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) a[i * n + j] += sightSd ** 2 * across[i] * across[j];
  }
};

/** Covariance of the readings of ground with this field, errors and all, row after row. */
export const covarianceOfReadings = (ground: PacedGround, possible: Possible): Float64Array => {
  const { readings } = ground;
  const n = readings.value.length;
  const between = groundCovariance(possible.field, ground);
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      a[i * n + j] = between(readings, i, readings, j);
      a[j * n + i] = a[i * n + j];
    }
  }
  const { falls } = ground.errors;
  if (falls === null) addHeightErrors(a, ground, possible);
  else addFallErrors(a, ground, falls, possible);
  return a;
};
