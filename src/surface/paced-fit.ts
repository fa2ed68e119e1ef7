import { insideRing, type Ring } from '../geometry.js';
import type { PacedReadings } from '../survey/survey.js';
import { solveLowerDense } from './dense.js';
import { groundCovariance, LOST, type PacedGround, readingsOf } from './paced-places.js';
import { againstOthers, likelyFields, type Weighted } from './paced-posterior.js';
import { planeThrough } from './plane.js';

/** Ground between few places that were paced, as a random field that the readings hold: its heights at knots. */

export interface Places {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Heights at some places: their mean, metres, and a root R of their covariance R R', row after row, `rank` numbers a place. */
export interface HeightsHeld {
  readonly mean: Float64Array;
  readonly root: Float64Array;
  readonly rank: number;
}

/** A place whose reading does not agree with the others: how far off its height is, metres. */
export interface PlaceOff {
  readonly index: number;
  readonly residual: number;
}

export interface PacedField {
  readonly ground: PacedGround;
  readonly fields: readonly Weighted[];
  readonly off: readonly PlaceOff[];
  /** The level that was taken off the heights. */
  readonly level: number;
}

/** A reading this many standard deviations from what the others say does not count, ... */
const OFF_AT = 4;
/** ... but never more of the places than this: then it is the ground. */
const MOST_OFF = 0.1;

/** How many places that agree least with the others are tried, each left out. */
const TRIED = 3;

/** A place, by how much its reading is off what others say of it, and in how many standard deviations. */
interface Disagreement {
  readonly place: number;
  readonly by: number;
  readonly off: number;
}

/** Places that agree least with the others first; one for each, by the worse of its readings. */
const byAgreement = ({ readings, lost }: PacedGround, likeliest: Weighted): Disagreement[] => {
  const { off, by } = againstOthers(likeliest);
  const worst = new Map<number, Disagreement>();
  readings.place.forEach((place, i) => {
    const known = Math.abs(worst.get(place)?.by ?? 0);
    if (!lost.has(place) && Math.abs(by[i]) > known)
      worst.set(place, { place, by: by[i], off: off[i] });
  });
  return [...worst.values()].sort((a, b) => Math.abs(b.by) - Math.abs(a.by));
};

/** The same of a place that did not count for its fields: its own error is that of any other. */
const agreementOf = (
  { readings }: PacedGround,
  likeliest: Weighted,
  place: number,
): Disagreement => {
  const { off, by } = againstOthers(likeliest);
  let worst: Disagreement = { place, by: 0, off: 0 };
  readings.place.forEach((own, i) => {
    if (own !== place || by[i] === 0) return;
    const sd = Math.sqrt(Math.max(1e-12, (off[i] / by[i]) ** 2 - LOST));
    if (Math.abs(off[i] / sd) > Math.abs(worst.by)) worst = { place, by: off[i] / sd, off: off[i] };
  });
  return worst;
};

/** Distance from a place to the nearest other, metres. */
const nearestTo = ({ x, y }: Places, place: number): number =>
  x.reduce((least, px, k) => {
    const reach = Math.hypot(px - x[place], y[k] - y[place]);
    return k !== place && reach > 0 && reach < least ? reach : least;
  }, Infinity);

/** The fields that the readings of a survey by hand allow, without those readings that the others belie. */
export const pacedField = (
  { x, y, z }: Places & { readonly z: Float64Array },
  errors: PacedReadings,
): PacedField => {
  const n = x.length;
  const level = z.reduce((sum, one) => sum + one / n, 0);
  const flat = z.map((one) => one - level);
  const [, b, c] = planeThrough(x, y, flat);
  const mean = (all: Float64Array): number => all.reduce((sum, one) => sum + one / n, 0);
  let ground: PacedGround = {
    readings: readingsOf({ x, y, z: flat }, errors),
    errors,
    steepness: Math.hypot(b, c),
    middle: [mean(x), mean(y)],
    lost: new Set(),
  };
  let fields = likelyFields(ground);
  const off: PlaceOff[] = [];
  // One wrong reading makes all the ground seem uneven, and hides itself so: each is judged by fields that do not know it.
  while (off.length < MOST_OFF * n) {
    const found = byAgreement(ground, fields[0])
      .slice(0, TRIED)
      .map(({ place }) => {
        const without = { ...ground, lost: new Set([...ground.lost, place]) };
        const others = likelyFields(without);
        return { ...agreementOf(without, others[0], place), without, others };
      })
      .reduce((a, b) => (Math.abs(b.by) > Math.abs(a.by) ? b : a));
    if (Math.abs(found.by) <= OFF_AT) break;
    // A fall that is wrong makes the height at the next place wrong.
    const reach = errors.falls === null ? 1 : nearestTo({ x, y }, found.place);
    off.push({ index: found.place, residual: found.off * reach });
    ground = found.without;
    fields = found.others;
  }
  return { ground, fields, off, level };
};

/** Mean and covariance of the heights under one field. */
const heightsUnder = (
  ground: PacedGround,
  { possible, factor, solved }: Weighted,
  { x, y }: Places,
) => {
  const m = x.length;
  const { readings } = ground;
  const n = solved.length;
  const between = groundCovariance(possible.field, ground);
  const heights = { x, y, kind: new Uint8Array(m) };
  const mean = new Float64Array(m);
  const rows = Array.from({ length: m }, (_, p) => {
    const row = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      row[i] = between(heights, p, readings, i);
      mean[p] += row[i] * solved[i];
    }
    solveLowerDense(factor, n, row);
    return row;
  });
  const covariance = (p: number, q: number): number => {
    let s = between(heights, p, heights, q);
    const [a, b] = [rows[p], rows[q]];
    for (let i = 0; i < n; i++) s -= a[i] * b[i];
    return s;
  };
  return { mean, covariance };
};

/**
 * Mean and covariance of the heights over all fields that are kept: the mean of their covariances, and the scatter of their
 * means. The lower half of the covariance counts.
 */
const heightsOver = ({ ground, fields }: PacedField, places: Places) => {
  const m = places.x.length;
  const mean = new Float64Array(m);
  const covariance = new Float64Array(m * m);
  const means = fields.map((field) => {
    const own = heightsUnder(ground, field, places);
    for (let p = 0; p < m; p++) {
      mean[p] += field.weight * own.mean[p];
      for (let q = 0; q <= p; q++) covariance[p * m + q] += field.weight * own.covariance(p, q);
    }
    return own.mean;
  });
  fields.forEach(({ weight }, k) => {
    for (let p = 0; p < m; p++) {
      const by = weight * (means[k][p] - mean[p]);
      for (let q = 0; q <= p; q++) covariance[p * m + q] += by * (means[k][q] - mean[q]);
    }
  });
  return { mean, covariance };
};

/** Root of a covariance by Cholesky factors of the largest variances first, until no place has more left than this. */
const rootOf = (
  covariance: Float64Array,
  m: number,
  left: number,
): { root: Float64Array; rank: number } => {
  const columns: Float64Array[] = [];
  const variance = Float64Array.from({ length: m }, (_, p) => covariance[p * m + p]);
  while (columns.length < m) {
    const pivot = variance.reduce((best, one, p) => (one > variance[best] ? p : best), 0);
    if (variance[pivot] <= left) break;
    const scale = 1 / Math.sqrt(variance[pivot]);
    const column = new Float64Array(m);
    for (let p = 0; p < m; p++) {
      let s = covariance[Math.max(p, pivot) * m + Math.min(p, pivot)];
      for (const before of columns) s -= before[p] * before[pivot];
      column[p] = s * scale;
      variance[p] = Math.max(0, variance[p] - column[p] * column[p]);
    }
    variance[pivot] = 0;
    columns.push(column);
  }
  const rank = columns.length;
  const root = new Float64Array(m * rank);
  columns.forEach((column, c) => {
    for (let p = 0; p < m; p++) root[p * rank + c] = column[p];
  });
  return { root, rank };
};

/** Takes the mean of the rows of some places off all. */
const lessMean = (values: Float64Array, width: number, among: readonly number[]): void => {
  for (let c = 0; c < width; c++) {
    const mean = among.reduce((sum, p) => sum + values[p * width + c] / among.length, 0);
    for (let at = c; at < values.length; at += width) values[at] -= mean;
  }
};

/**
 * Heights at some places. Of falls the level is that of the whole green, whose mean is taken for nought: they tell heights
 * against that only.
 *
 * @param left variance of a height that need not be in the root, square metres.
 */
export const pacedHeights = (
  held: PacedField,
  places: Places,
  outline: Ring,
  left: number,
): HeightsHeld => {
  const { mean, covariance } = heightsOver(held, places);
  const m = mean.length;
  const { root, rank } = rootOf(covariance, m, left);
  if (held.ground.errors.falls !== null) {
    const on = Array.from(mean.keys()).filter((p) => insideRing(outline, places.x[p], places.y[p]));
    if (on.length > 0) {
      lessMean(mean, 1, on);
      lessMean(root, rank, on);
    }
  }
  for (let p = 0; p < m; p++) mean[p] += held.level;
  return { mean, root, rank };
};
