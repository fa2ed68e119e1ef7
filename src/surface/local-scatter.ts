import { boxOfCoordinates } from '../geometry.js';

/**
 * What points round a point say of its error. A gross error stands alone, and draws the surface from its
 * neighbours to its own side; where some of them are off to the same side too, the surface is wrong, as on a
 * steep face that a first fit has rounded off.
 */

/** The ring round a point whose points are asked, metres, or so many spacings where that is more. */
const FROM = 0.6;
const TO = 1.8;
/** Points asked round each, taken evenly from those that are there. */
const MOST = 12;
/** So many of them must be off to the same side as the point itself, and by what they are off it is measured. */
const FELLOWS = 4;
/** The standard deviation that they stand for, as a share of the least of them. */
const SHARE = 0.7;

/** Indices of points by squares as wide as the ring reaches; those of a square and its neighbours. */
const squaresOf = (x: Float64Array, y: Float64Array, side: number) => {
  const box = boxOfCoordinates(x, y);
  const columns = Math.floor((box.maxX - box.minX) / side) + 3;
  const squares = new Map<number, number[]>();
  const keyOf = (p: number): number =>
    (Math.floor((y[p] - box.minY) / side) + 1) * columns + Math.floor((x[p] - box.minX) / side) + 1;
  for (let p = 0; p < x.length; p++) {
    const held = squares.get(keyOf(p));
    if (held === undefined) squares.set(keyOf(p), [p]);
    else held.push(p);
  }
  const offsets = [-1, 0, 1].flatMap((row) => [-1, 0, 1].map((column) => row * columns + column));
  return (p: number): number[][] => offsets.map((offset) => squares.get(keyOf(p) + offset) ?? []);
};

/** Adds those of some points that lie in the ring round a point. */
const addWithin = (
  found: number[],
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  p: number,
  some: readonly number[],
  unit: number,
): void => {
  const [from, to] = [(FROM * unit) ** 2, (TO * unit) ** 2];
  for (let n = 0; n < some.length; n++) {
    const q = some[n];
    const square = (x[q] - x[p]) ** 2 + (y[q] - y[p]) ** 2;
    if (square >= from && square <= to) found.push(q);
  }
};

/** Up to `MOST` points in the ring round each point, -1 past the last. */
export const pointsRound = (x: Float64Array, y: Float64Array, spacing: number): Int32Array => {
  const unit = Math.max(1, spacing);
  const around = squaresOf(x, y, TO * unit);
  const out = new Int32Array(MOST * x.length).fill(-1);
  const found: number[] = [];
  for (let p = 0; p < x.length; p++) {
    found.length = 0;
    for (const square of around(p)) addWithin(found, { x, y }, p, square, unit);
    const count = Math.min(MOST, found.length);
    for (let k = 0; k < count; k++) {
      out[MOST * p + k] = found[Math.floor(((k + 0.5) * found.length) / count)];
    }
  }
  return out;
};

/**
 * The standard deviation against which each value is held: that of all, or more where points round it are off
 * to the same side.
 *
 * @param source the point of each value; `round` as `pointsRound` gives it.
 */
export const localScales = (
  values: Float64Array,
  source: Int32Array,
  round: Int32Array,
  scale: number,
): Float64Array => {
  const byPoint = new Float64Array(round.length / MOST);
  source.forEach((p, k) => {
    byPoint[p] = values[k];
  });
  const held = new Float64Array(MOST);
  return values.map((value, k) => {
    let count = 0;
    for (let m = MOST * source[k]; m < MOST * (source[k] + 1) && round[m] >= 0; m++) {
      const other = byPoint[round[m]];
      if (other * value > 0) held[count++] = Math.abs(other);
    }
    if (count < FELLOWS) return scale;
    return Math.max(scale, SHARE * held.subarray(0, count).sort()[count - FELLOWS]);
  });
};
