import {
  type Code,
  f64,
  get,
  i32,
  type Local,
  type Locals,
  leaveWith,
  pair,
  set,
  unless,
  whileTrue,
} from './wasm-code.js';

/** Code on blocks of four by four numbers, which lie in eight pairs; see envelope-kernels.ts. Addresses are bytes. */

export const FOUR = 32;
export const BLOCK = 4 * FOUR;
export const FOURS = [0, 1, 2, 3];
const HALVES = [0, 1];

export const plus = (a: Local, b: Local | Code): Code =>
  i32.add(get(a), typeof b === 'number' ? get(b) : b);
export const move = (a: Local, by: number): Code => set(a, i32.add(get(a), i32.of(by)));
export const less = (a: Local, b: Local): Code => i32.less(get(a), get(b));

/** Bytes of a table's block row. */
const ENTRY = 12;

/** What a table says of the block row `row`. */
export const entryOf = (table: Local, row: Local) => {
  const at = plus(table, i32.times(get(row), i32.of(ENTRY)));
  return { base: i32.load(at, 0), first: i32.load(at, 4), last: i32.load(at, 8) };
};

/** Counts block rows down from the last; `here` is how far on the row lies. */
export const downward = (i: Local, here: Local, rows: Local, body: Code): Code => [
  ...set(i, get(rows)),
  ...set(here, i32.times(get(rows), i32.of(BLOCK))),
  ...whileTrue(i32.less(i32.of(0), get(i)), [...move(i, -1), ...move(here, -BLOCK), ...body]),
];

/** Registers of a block: the row (or column) r has 2 r and 2 r + 1. */
export type Block = readonly Local[];

export const each = (write: (r: number, h: number) => Code): Code =>
  FOURS.flatMap((r) => HALVES.flatMap((h) => write(r, h)));

export const load = (block: Block, at: Local): Code =>
  each((r, h) => set(block[2 * r + h], pair.load(get(at), FOUR * r + 16 * h)));

export const store = (block: Block, at: Local): Code =>
  each((r, h) => pair.store(get(at), FOUR * r + 16 * h, get(block[2 * r + h])));

export const setTo = (block: Block, value: (r: number, c: number) => number): Code =>
  each((r, h) => set(block[2 * r + h], pair.of(value(r, 2 * h), value(r, 2 * h + 1))));

/** Two streams of fours, and the end of the first. */
export interface Streams {
  readonly p: Local;
  readonly q: Local;
  readonly end: Local;
}

type Sign = 'add' | 'sub';

export const from = ({ p, q, end }: Streams, at: { p: Code; q: Code; end: Code }): Code => [
  ...set(p, at.p),
  ...set(q, at.q),
  ...set(end, at.end),
];

const along = ({ p, q, end }: Streams, body: Code): Code =>
  whileTrue(less(p, end), [...body, ...move(p, FOUR), ...move(q, FOUR)]);

/** block[r] plus (or minus) p[r] q, summed over the streams. */
export const gather = (block: Block, way: Streams, { pairs }: Locals, sign: Sign): Code => {
  const halves = pairs(2);
  return along(way, [
    ...HALVES.flatMap((h) => set(halves[h], pair.load(get(way.q), 16 * h))),
    ...each((r, h) => {
      const product = pair.times(pair.loadTwice(get(way.p), 8 * r), get(halves[h]));
      return set(block[2 * r + h], pair[sign](get(block[2 * r + h]), product));
    }),
  ]);
};

/** q plus (or minus) the sum over r of p[r] block[r], at each place of the streams. */
export const scatter = (block: Block, way: Streams, sign: Sign): Code => {
  const sumOf = (h: number): Code =>
    FOURS.reduce<Code>(
      (sum, r) =>
        pair[sign](sum, pair.times(pair.loadTwice(get(way.p), 8 * r), get(block[2 * r + h]))),
      pair.load(get(way.q), 16 * h),
    );
  return along(
    way,
    HALVES.flatMap((h) => pair.store(get(way.q), 16 * h, sumOf(h))),
  );
};

/** Where the entry (r, c) of a block of the matrix lies in it. */
export const place = (r: number, c: number): number => FOUR * c + 8 * r;

/** A row of a block takes off (an entry of a triangle) times another, then is divided by the entry of the diagonal. */
const solveRows = (
  block: Block,
  order: readonly number[],
  triangle: Local,
  at: (row: number, other: number) => number,
): Code =>
  order.flatMap((r, n) =>
    HALVES.flatMap((h) => {
      const left = order.slice(0, n).reduce<Code>(
        (sum, m) => {
          const entry = pair.loadTwice(get(triangle), at(r, m));
          return pair.sub(sum, pair.times(entry, get(block[2 * m + h])));
        },
        get(block[2 * r + h]),
      );
      return set(block[2 * r + h], pair.over(left, pair.loadTwice(get(triangle), at(r, r))));
    }),
  );

/** L X = block, and with the rows of the block standing for columns X L' = block. */
export const solveDown = (block: Block, triangle: Local): Code =>
  solveRows(block, FOURS, triangle, place);

/** L' X = block. */
export const solveUp = (block: Block, triangle: Local): Code =>
  solveRows(block, FOURS.toReversed(), triangle, (r, m) => place(m, r));

/** Cholesky factor of a block of the diagonal in place, nought above it; leaves with 0 where there is none. */
export const factorBlock = (at: Local): Code => {
  const entry = (r: number, c: number): Code => f64.load(get(at), place(r, c));
  return FOURS.flatMap((c) => {
    const left = (r: number): Code =>
      FOURS.slice(0, c).reduce<Code>(
        (sum, m) => f64.sub(sum, f64.times(entry(r, m), entry(c, m))),
        entry(r, c),
      );
    return [
      ...f64.store(get(at), place(c, c), left(c)),
      ...unless(f64.greater(entry(c, c), f64.of(0)), leaveWith(i32.of(0))),
      ...f64.store(get(at), place(c, c), f64.root(entry(c, c))),
      ...FOURS.slice(c + 1).flatMap((r) => [
        ...f64.store(get(at), place(r, c), f64.over(left(r), entry(c, c))),
        ...f64.store(get(at), place(c, r), f64.of(0)),
      ]),
    ];
  });
};
