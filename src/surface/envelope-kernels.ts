import {
  BLOCK,
  type Block,
  downward,
  each,
  entryOf,
  FOUR,
  FOURS,
  factorBlock,
  from,
  gather,
  less,
  load,
  move,
  place,
  plus,
  type Streams,
  scatter,
  setTo,
  solveDown,
  solveUp,
  store,
} from './block-code.js';
import { lowerAlone, upperAlone } from './lone-column-kernels.js';
import {
  type Code,
  f64,
  get,
  i32,
  type Local,
  type Locals,
  moduleOf,
  pair,
  routine,
  set,
  unless,
  whileTrue,
} from './wasm-code.js';

/**
 * The inner loops of the banded solver on blocks of four by four numbers, taken in pairs: several times as fast as loops
 * over typed arrays, and the same bits on every machine, since each product and each sum is rounded by itself.
 *
 * Addresses are bytes. The matrix lies as `Envelope` says: a block row's columns one after the other, four numbers each.
 * Right-hand sides lie in fours, too, row after row. A table holds three whole numbers a block row: where its column 0
 * would lie in the matrix, how far on its first column lies, and how far on the last block row lies that holds its columns.
 */

/** factor(table, rows, a): the Cholesky factor in the place of a; 0 where a pivot is not positive. */
const factor = routine('factor', 3, ([table, rows, a], locals) => {
  const { whole, pairs } = locals;
  const way = { p: whole(), q: whole(), end: whole() };
  const [i, here, own, first] = [whole(), whole(), whole(), whole()];
  const [j, column, other, start, at, pivot] = FOURS.concat(4, 5).map(whole);
  const block = pairs(8);
  const tile = [
    ...set(other, plus(a, entryOf(table, j).base)),
    ...set(start, get(first)),
    ...unless(i32.less(entryOf(table, j).first, get(first)), set(start, entryOf(table, j).first)),
    ...set(at, plus(own, column)),
    ...set(pivot, plus(other, column)),
    ...load(block, at),
    ...from(way, { p: plus(other, start), q: plus(own, start), end: get(pivot) }),
    ...gather(block, way, locals, 'sub'),
    ...solveDown(block, pivot),
    ...store(block, at),
    ...move(j, 1),
    ...move(column, BLOCK),
  ];
  const row = [
    ...set(own, plus(a, entryOf(table, i).base)),
    ...set(first, entryOf(table, i).first),
    ...set(column, get(first)),
    ...set(j, i32.over(get(first), i32.of(BLOCK))),
    ...whileTrue(less(column, here), tile),
    ...set(at, plus(own, here)),
    ...load(block, at),
    ...from(way, { p: plus(own, first), q: plus(own, first), end: get(at) }),
    ...gather(block, way, locals, 'sub'),
    ...store(block, at),
    ...factorBlock(at),
    ...move(i, 1),
    ...move(here, BLOCK),
  ];
  return [...whileTrue(less(i, rows), row), ...i32.of(1)];
});

interface HalfSolve extends Record<'i' | 'here' | 'at' | 'pivot', Local> {
  readonly block: Block;
  readonly way: Streams;
  readonly locals: Locals;
  readonly enter: Code;
  readonly before: Code;
}

/** What both halves of a solve (table, rows, l, v) have: the block of V at block row i, and the walk along row i of L over V. */
const halfSolve = (
  name: string,
  write: (half: HalfSolve, rows: Local) => Code,
): ReturnType<typeof routine> =>
  routine(name, 4, ([table, rows, l, v], locals) => {
    const { whole, pairs } = locals;
    const way = { p: whole(), q: whole(), end: whole() };
    const [i, here, own, at, pivot] = FOURS.concat(4).map(whole);
    const block = pairs(8);
    const enter = [
      ...set(own, plus(l, entryOf(table, i).base)),
      ...set(at, plus(v, here)),
      ...set(pivot, plus(own, here)),
      ...load(block, at),
    ];
    const before = from(way, {
      p: plus(own, entryOf(table, i).first),
      q: plus(v, entryOf(table, i).first),
      end: get(pivot),
    });
    const half = { i, here, at, pivot, block, way, locals, enter, before };
    return [...write(half, rows), ...i32.of(1)];
  });

/** lower(table, rows, l, v): solves L X = V in place of V, four columns. */
const lower = halfSolve('lower', (half, rows) => {
  const { i, here, at, pivot, block, way, locals, enter, before } = half;
  const row = [
    ...enter,
    ...before,
    ...gather(block, way, locals, 'sub'),
    ...solveDown(block, pivot),
    ...store(block, at),
    ...move(i, 1),
    ...move(here, BLOCK),
  ];
  return whileTrue(less(i, rows), row);
});

/** upper(table, rows, l, v): solves L' X = V in place of V, four columns. */
const upper = halfSolve('upper', (half, rows) => {
  const { i, here, at, pivot, block, way, enter, before } = half;
  const row = [
    ...enter,
    ...solveUp(block, pivot),
    ...store(block, at),
    ...before,
    ...scatter(block, way, 'sub'),
  ];
  return downward(i, here, rows, row);
});

/**
 * inverse(table, rows, l, z, room): the inverse within the envelope (Takahashi), block by block. Of a block column, Y is
 * L below the diagonal times the inverse of its pivot, S the known part of the inverse times Y: what is wanted is -S, and
 * on the diagonal the pivot's own inverse plus Y'S. The room holds a block, then Y, then S, row after row.
 */
const inverse = routine('inverse', 5, ([table, rows, l, z, room], locals) => {
  const { whole, pairs } = locals;
  const way = { p: whole(), q: whole(), end: whole() };
  const [i, here, next, last, k, there, at, own, y, s] = FOURS.concat(4, 5, 6, 7, 8, 9).map(whole);
  const block = pairs(8);
  const below = (body: Code): Code => [
    ...set(k, plus(i, i32.of(1))),
    ...set(there, get(next)),
    ...whileTrue(less(there, last), [...body, ...move(k, 1), ...move(there, BLOCK)]),
  ];
  const rowOfY = (r: number, h: number): Code =>
    FOURS.slice(1).reduce<Code>(
      (sum, m) =>
        pair.add(sum, pair.times(pair.loadTwice(get(own), place(r, m)), get(block[2 * m + h]))),
      pair.times(pair.loadTwice(get(own), place(r, 0)), get(block[h])),
    );
  const startY = [
    ...set(own, plus(l, i32.add(entryOf(table, k).base, get(here)))),
    ...set(at, plus(y, there)),
    ...each((r, h) => pair.store(get(at), FOUR * r + 16 * h, rowOfY(r, h))),
    ...set(at, plus(s, there)),
    ...each((r, h) => pair.store(get(at), FOUR * r + 16 * h, pair.of(0, 0))),
  ];
  const addRow = [
    ...set(own, plus(z, entryOf(table, k).base)),
    ...set(at, plus(s, there)),
    ...load(block, at),
    ...from(way, {
      p: plus(own, next),
      q: plus(y, next),
      end: plus(own, i32.add(get(there), i32.of(BLOCK))),
    }),
    ...gather(block, way, locals, 'add'),
    ...store(block, at),
    ...set(at, plus(y, there)),
    ...load(block, at),
    ...from(way, { p: plus(own, next), q: plus(s, next), end: plus(own, there) }),
    ...scatter(block, way, 'add'),
  ];
  const settle = [
    ...set(own, plus(z, i32.add(entryOf(table, k).base, get(here)))),
    ...set(at, plus(s, there)),
    ...FOURS.flatMap((r) =>
      FOURS.flatMap((c) =>
        f64.store(get(own), place(r, c), f64.negative(f64.load(get(at), FOUR * r + 8 * c))),
      ),
    ),
  ];
  const column = [
    ...set(next, plus(here, i32.of(BLOCK))),
    ...set(last, i32.add(entryOf(table, i).last, i32.of(BLOCK))),
    ...set(own, plus(l, i32.add(entryOf(table, i).base, get(here)))),
    ...setTo(block, (r, c) => (r === c ? 1 : 0)),
    ...solveDown(block, own),
    ...store(block, room),
    ...below(startY),
    ...below(addRow),
    ...below(settle),
    ...setTo(block, () => 0),
    ...from(way, { p: get(room), q: get(room), end: plus(room, i32.of(BLOCK)) }),
    ...gather(block, way, locals, 'add'),
    ...from(way, { p: plus(y, next), q: plus(s, next), end: plus(y, last) }),
    ...gather(block, way, locals, 'add'),
    ...set(at, plus(z, i32.add(entryOf(table, i).base, get(here)))),
    ...store(block, at),
  ];
  return [
    ...set(y, plus(room, i32.of(BLOCK))),
    ...set(s, plus(y, i32.times(get(rows), i32.of(BLOCK)))),
    ...downward(i, here, rows, column),
    ...i32.of(1),
  ];
});

/** products(rows, v, w, out): the block V'W of four columns each. */
const products = routine('products', 4, ([rows, v, w, out], locals) => {
  const { whole, pairs } = locals;
  const way = { p: whole(), q: whole(), end: whole() };
  const block = pairs(8);
  return [
    ...setTo(block, () => 0),
    ...from(way, { p: get(v), q: get(w), end: plus(v, i32.times(get(rows), i32.of(BLOCK))) }),
    ...gather(block, way, locals, 'add'),
    ...store(block, out),
    ...i32.of(1),
  ];
});

export const envelopeModule = (): Uint8Array<ArrayBuffer> =>
  moduleOf([factor, lower, upper, inverse, products, lowerAlone, upperAlone]);
