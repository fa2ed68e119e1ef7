import { BLOCK, downward, entryOf, FOUR, FOURS, less, move, place, plus } from './block-code.js';
import {
  type Code,
  f64,
  get,
  i32,
  type Local,
  pair,
  type Routine,
  routine,
  set,
  unless,
  whileTrue,
} from './wasm-code.js';

/**
 * Both halves of a solve for a column that comes alone, one number a row: a quarter of what four columns together take.
 * Sums run in two halves side by side, so that none waits for the one before. Addresses and tables as in envelope-kernels.ts.
 */

/** Bytes of four numbers of the column, for a block of the matrix. */
const STEP = 32;
const NUMBER = 8;

/** How far on a row of the column lies, by how far on its column of the matrix does. */
const inColumn = (v: Local, far: Code): Code => plus(v, i32.over(far, i32.of(BLOCK / STEP)));

/** An entry of the block of the diagonal. */
const entry = (pivot: Local, r: number, c: number): Code => f64.load(get(pivot), place(r, c));

const addresses = (whole: () => Local) => {
  const [i, here, own, pivot, start, p, q] = FOURS.concat(4, 5, 6).map(whole);
  return { i, here, own, pivot, start, p, q };
};

/** lowerAlone(table, rows, l, v, from): solves L x = v in place of v, which is nought before the block row `from`. */
export const lowerAlone: Routine = routine(
  'lowerAlone',
  5,
  ([table, rows, l, v, from], { whole, numbers, pairs }) => {
    const { i, here, own, pivot, start, p, q } = addresses(whole);
    const least = whole();
    const x = numbers(4);
    // Two rows, the other two, and the same for every second column.
    const sums = pairs(4);
    const along = FOURS.flatMap((c) =>
      [0, 1].flatMap((h) => {
        const sum = sums[2 * (c % 2) + h];
        const product = pair.times(
          pair.load(get(p), FOUR * c + 16 * h),
          pair.loadTwice(get(q), NUMBER * c),
        );
        return set(sum, pair.sub(get(sum), product));
      }),
    );
    const solved = FOURS.flatMap((r) => {
      const own = pair.add(get(sums[r >> 1]), get(sums[2 + (r >> 1)]));
      const left = FOURS.slice(0, r).reduce<Code>(
        (sum, c) => f64.sub(sum, f64.times(entry(pivot, r, c), get(x[c]))),
        pair.half(own, r % 2 === 0 ? 0 : 1),
      );
      return set(x[r], f64.over(left, entry(pivot, r, r)));
    });
    const row = [
      ...set(own, plus(l, entryOf(table, i).base)),
      ...set(pivot, plus(own, here)),
      ...set(start, entryOf(table, i).first),
      ...unless(i32.less(get(least), get(start)), set(start, get(least))),
      ...set(q, inColumn(v, get(here))),
      ...[0, 1].flatMap((h) => set(sums[h], pair.load(get(q), 16 * h))),
      ...[2, 3].flatMap((h) => set(sums[h], pair.of(0, 0))),
      ...set(p, plus(own, start)),
      ...set(q, inColumn(v, get(start))),
      ...whileTrue(less(p, pivot), [...along, ...move(p, BLOCK), ...move(q, STEP)]),
      ...solved,
      ...FOURS.flatMap((r) => f64.store(get(q), NUMBER * r, get(x[r]))),
      ...move(i, 1),
      ...move(here, BLOCK),
    ];
    return [
      ...set(i, get(from)),
      ...set(here, i32.times(get(from), i32.of(BLOCK))),
      ...set(least, get(here)),
      ...whileTrue(less(i, rows), row),
      ...i32.of(1),
    ];
  },
);

/** upperAlone(table, rows, l, v): solves L' x = v in place of v. */
export const upperAlone: Routine = routine(
  'upperAlone',
  4,
  ([table, rows, l, v], { whole, numbers, pairs }) => {
    const { i, here, own, pivot, p, q } = addresses(whole);
    const x = numbers(4);
    const [first, second, sum] = pairs(3);
    const solved = FOURS.toReversed().flatMap((r) => {
      const left = FOURS.slice(r + 1).reduce<Code>(
        (sum, c) => f64.sub(sum, f64.times(entry(pivot, c, r), get(x[c]))),
        f64.load(get(q), NUMBER * r),
      );
      return set(x[r], f64.over(left, entry(pivot, r, r)));
    });
    const along = FOURS.flatMap((c) => [
      ...set(
        sum,
        pair.add(
          pair.times(pair.load(get(p), FOUR * c), get(first)),
          pair.times(pair.load(get(p), FOUR * c + 16), get(second)),
        ),
      ),
      ...f64.store(
        get(q),
        NUMBER * c,
        f64.sub(
          f64.load(get(q), NUMBER * c),
          f64.add(pair.half(get(sum), 0), pair.half(get(sum), 1)),
        ),
      ),
    ]);
    const row = [
      ...set(own, plus(l, entryOf(table, i).base)),
      ...set(pivot, plus(own, here)),
      ...set(q, inColumn(v, get(here))),
      ...solved,
      ...FOURS.flatMap((r) => f64.store(get(q), NUMBER * r, get(x[r]))),
      ...set(first, pair.load(get(q), 0)),
      ...set(second, pair.load(get(q), 16)),
      ...set(p, plus(own, entryOf(table, i).first)),
      ...set(q, inColumn(v, entryOf(table, i).first)),
      ...whileTrue(less(p, pivot), [...along, ...move(p, BLOCK), ...move(q, STEP)]),
    ];
    return [...downward(i, here, rows, row), ...i32.of(1)];
  },
);
