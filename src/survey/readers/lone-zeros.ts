import type { PointStore } from './point-store.js';

/**
 * Heights of exactly nothing where nothing was measured: instruments and exports write 0 for a height that they
 * lack. Judged by how far nothing lies from all heights that are something (common practice, no source).
 */

/** No ground of a green is nearer to nothing than this and apart from it, metres. */
const APART = 5;

/** What was taken out: how many, and the heights that are left, metres. */
interface LoneZeros {
  readonly count: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Takes the points of height 0 out of a store where they lie apart from all others: more than five metres, and more
 * than the others differ among themselves. Null, and nothing changed, where they do not.
 */
export const takeOutLoneZeros = (store: PointStore): LoneZeros | null => {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let count = 0;
  for (let k = 0; k < store.count; k++) {
    const z = store.z[k];
    if (z === 0) {
      count += 1;
      continue;
    }
    if (z < low) low = z;
    if (z > high) high = z;
  }
  if (count === 0 || store.count - count < 3) return null;
  const gap = low > 0 ? low : -high;
  if (!(gap > APART && gap > high - low)) return null;
  let to = 0;
  for (let k = 0; k < store.count; k++) {
    if (store.z[k] === 0) continue;
    store.x[to] = store.x[k];
    store.y[to] = store.y[k];
    store.z[to] = store.z[k];
    if (store.sigma !== null) store.sigma[to] = store.sigma[k];
    if (store.time !== null) store.time[to] = store.time[k];
    if (store.session !== null) store.session[to] = store.session[k];
    to += 1;
  }
  store.count = to;
  return { count, low, high };
};

export const zerosNote = (zeros: LoneZeros | null): string[] =>
  zeros === null
    ? []
    : [
        `passed over: ${zeros.count} of height 0, which stands apart from all others (${zeros.low.toFixed(1)} to ${zeros.high.toFixed(1)} m) and is taken for no data`,
      ];
