import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { afterAll, describe, expect, it } from 'vitest';
import { openCache } from '../../src/book/cache.js';
import { fileDigest } from '../../src/book/file-digest.js';
import { keeperOf, productOf } from '../../src/book/product.js';
import { openByteShelf, openShelf } from '../../src/book/shelf.js';
import { byteLengthOf, digestOf, piecesOf } from '../../src/book/stored-bytes.js';
import { bookOfCourse } from '../../src/cli/book-of-course.js';
import { onePiece } from '../../src/file-bytes.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';

/** How many of these the collector leaves; what brings them is held meanwhile. */
const leftOf = async (made: () => readonly [value: object, bring: unknown][]): Promise<number> => {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  const [told, brings] = ((): [WeakRef<object>[], unknown[]] => {
    const all = made();
    return [all.map(([value]) => new WeakRef(value)), all.map(([, bring]) => bring)];
  })();
  await setImmediate();
  for (let i = 0; i < 3; i++) collect();
  const left = told.filter((one) => one.deref() !== undefined).length;
  expect(brings.length).toBe(told.length);
  return left;
};

describe('a shelf', () => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-shelf-'));
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('brings back what was put, whether in memory or not, and leaves no file behind', () => {
    const folder = join(root, 'values');
    const shelf = openShelf(folder, 2);
    const values = Array.from({ length: 30 }, (_, i) => ({
      name: `green ${i}`,
      heights: Float64Array.from({ length: 1 + 100 * i }, (__, k) => k / (i + 1)),
      more: [new Map([[i, undefined]]), null, Number.NaN],
    }));
    const put = values.map((value) => shelf.put(value));
    expect(put.filter(({ isHeld }) => isHeld).length).toBe(2);
    expect(readdirSync(folder)).toEqual([]);
    for (const i of [29, 2, 0, 15, 2, ...values.keys()]) expect(put[i].bring()).toEqual(values[i]);
    // What was asked for last comes as the same value, which what is drawn of it may rest on.
    expect(put[29].bring()).toBe(put[29].bring());
  });

  it('holds nothing of what lies in its file', async () => {
    const folder = join(root, 'let-go');
    const [shelf, bytes] = [openShelf(folder, 2), openByteShelf(folder, 100)];
    const values = (): [object, unknown][] =>
      Array.from({ length: 9 }, (_, i) => {
        const value = { heights: [i] };
        return [value, shelf.put(value)];
      });
    const blocks = (): [object, unknown][] =>
      Array.from({ length: 9 }, () => {
        const block = new Uint8Array(50);
        return [block, bytes(block)];
      });
    expect(await leftOf(values)).toBe(2);
    expect(await leftOf(blocks)).toBe(2);
  });

  it('keeps all in memory where there is no folder', () => {
    const shelf = openShelf(null, 0);
    expect(shelf.put({ a: 1 }).isHeld).toBe(true);
  });

  it('makes the same book, to the byte, of greens and pages that lie on it', async () => {
    const course = join(root, 'links');
    writeTinyCourse(course, '10');
    const layout = writeTinyLayout(root);
    const made = async (inMemory: number) => {
      const asked = {
        ...{ course, layout, out: root, folder: 'links', use: undefined, units: undefined },
        ...{ outside: false, svg: true, png: undefined, since: undefined },
      };
      const cache = openCache(join(root, `cache-${inMemory}`));
      const book = await bookOfCourse(asked, { tell: () => {}, threads: 0, inMemory, cache });
      return book.made;
    };
    const [held, shelved] = [await made(36), await made(0)];
    expect(shelved.pages).toEqual(held.pages);
    expect(shelved.record).toEqual(held.record);
    expect(shelved.products.map(({ file }) => file)).toEqual(held.products.map(({ file }) => file));
    for (const [i, { file, bytes }] of held.products.entries()) {
      expect(Buffer.from(shelved.products[i].bytes).equals(Buffer.from(bytes)), file).toBe(true);
    }
  });
});

describe('a shelf of bytes', () => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-bytes-'));
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('holds so many bytes and brings all others from its file, which no name leads to', () => {
    const folder = join(root, 'bytes');
    const put = openByteShelf(folder, 100);
    const values = [60, 60, 40, 3000, 0].map((length, i) => new Uint8Array(length).fill(i + 1));
    const brought = values.map(put);
    expect(readdirSync(folder)).toEqual([]);
    for (const i of [3, 0, 1, 2, 4, 1]) {
      expect(Buffer.compare(brought[i](), values[i])).toBe(0);
      // The first and the third have room; what lies in the file comes as new bytes each time.
      expect(brought[i]() === values[i], `${i}`).toBe(i === 0 || i === 2 || i === 4);
    }
  });
});

describe('products that are put away', () => {
  const root = mkdtempSync(join(tmpdir(), 'runnel-products-'));
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('bring their bytes when they are asked for, and none is held over the bound', () => {
    const keep = keeperOf(join(root, 'room'));
    const size = 3 * 1024 ** 2;
    const kept = [1, 2, 3, 4].map((fill) =>
      productOf(
        { file: `${fill}.pdf`, what: 'a file' },
        keep(onePiece(new Uint8Array(size).fill(fill))),
      ),
    );
    expect(kept.map(({ bytes }) => bytes[size - 1])).toEqual([1, 2, 3, 4]);
    const [once, again] = [kept, kept].map((all) => all.map(({ bytes }) => bytes));
    expect(once.map((bytes, i) => bytes === again[i])).toEqual([true, true, false, false]);
    expect(kept[3]).toMatchObject({ file: '4.pdf', what: 'a file' });
    for (const product of kept) {
      const { bytes } = product;
      expect(byteLengthOf(product)).toBe(bytes.length);
      expect(digestOf(product)).toBe(fileDigest(bytes));
      const pieces = Array.from(piecesOf(product).pieces(), (piece) => Buffer.from(piece));
      expect(fileDigest(Buffer.concat(pieces))).toBe(fileDigest(bytes));
      // What goes to other threads and runs is plain data, and its bytes.
      const sent = structuredClone(product);
      expect(Object.keys(sent)).toEqual(['file', 'what', 'bytes']);
      expect(fileDigest(sent.bytes)).toBe(fileDigest(bytes));
    }
    expect(Math.max(...Array.from(piecesOf(kept[3]).pieces(), ({ length }) => length))).toBe(
      2 ** 18,
    );
  });
});
