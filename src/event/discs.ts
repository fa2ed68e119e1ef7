import { boxOf, insideRing, type Point, type Ring } from '../geometry.js';
import type { BinnedPoints } from './binned-points.js';
import { LEAST_POINTS } from './confirm-movement.js';

/** Radii that are tried, metres, rising, and the distance between middles. */
export const RADII = [1, 1.5, 2.25, 3, 4.5];
const MIDDLES_APART = 0.5;

/** A survey's bins about a middle, the nearest first. */
interface Near {
  readonly bins: Int32Array;
  /** For each radius how many of them lie within it, and how many points those hold. */
  readonly ends: readonly number[];
  readonly points: readonly number[];
}

/** The discs about one middle, of the smallest radii on: those that hold enough points of both surveys. */
interface Nest {
  readonly middle: Point;
  readonly older: Near;
  readonly newer: Near;
  /** Index of the first radius of which there is a disc. */
  readonly first: number;
}

/** Round pieces of ground all over a green. */
export interface Discs {
  readonly all: readonly {
    readonly middle: Point;
    readonly radius: number;
    /** Index of the radius in `RADII`. */
    readonly size: number;
  }[];
  /** By how much each one's mean height differs, newer less older, of heights at the bins of both surveys. */
  readonly changes: (older: Float64Array, newer: Float64Array) => Float64Array;
}

const nearOf = ({ points: { x, y }, count }: BinnedPoints, [cx, cy]: Point): Near => {
  const widest = RADII[RADII.length - 1];
  const near: { readonly bin: number; readonly away: number }[] = [];
  for (let i = 0; i < x.length; i++) {
    const away = (x[i] - cx) ** 2 + (y[i] - cy) ** 2;
    if (away <= widest * widest) near.push({ bin: i, away });
  }
  near.sort((a, b) => a.away - b.away || a.bin - b.bin);
  const within = RADII.map((radius) => near.filter(({ away }) => away <= radius * radius));
  return {
    bins: Int32Array.from(near, ({ bin }) => bin),
    ends: within.map((own) => own.length),
    points: within.map((own) => own.reduce((sum, { bin }) => sum + count[bin], 0)),
  };
};

const timesCount = (values: Float64Array, { count }: BinnedPoints): Float64Array =>
  values.map((value, i) => value * count[i]);

/** Discs of several sizes about middles all over a green, as far as both surveys have points in them. */
export const discsOn = (ring: Ring, older: BinnedPoints, newer: BinnedPoints): Discs => {
  const box = boxOf(ring);
  const nests: Nest[] = [];
  for (let y = box.minY + MIDDLES_APART / 2; y < box.maxY; y += MIDDLES_APART) {
    for (let x = box.minX + MIDDLES_APART / 2; x < box.maxX; x += MIDDLES_APART) {
      if (!insideRing(ring, x, y)) continue;
      const middle: Point = [x, y];
      const [before, since] = [nearOf(older, middle), nearOf(newer, middle)];
      const first = RADII.findIndex(
        (_, k) => Math.min(before.points[k], since.points[k]) >= LEAST_POINTS,
      );
      if (first >= 0) nests.push({ middle, older: before, newer: since, first });
    }
  }
  const all = nests.flatMap(({ middle, first }) =>
    RADII.slice(first).map((radius, k) => ({ middle, radius, size: first + k })),
  );
  // Each disc holds the one before it: every bin is added once a middle.
  const changes = (was: Float64Array, is: Float64Array): Float64Array => {
    const [a, b] = [timesCount(was, older), timesCount(is, newer)];
    const out = new Float64Array(all.length);
    let disc = 0;
    for (const { older: before, newer: since, first } of nests) {
      let [i, j, sumA, sumB] = [0, 0, 0, 0];
      for (let k = 0; k < RADII.length; k++) {
        for (; i < before.ends[k]; i++) sumA += a[before.bins[i]];
        for (; j < since.ends[k]; j++) sumB += b[since.bins[j]];
        if (k >= first) out[disc++] = sumB / since.points[k] - sumA / before.points[k];
      }
    }
    return out;
  };
  return { all, changes };
};
