import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openCache } from '../../src/book/cache.js';
import { openShelf } from '../../src/book/shelf.js';
import { bookOfCourse } from '../../src/cli/book-of-course.js';
import { writeTinyCourse } from '../cli/tiny-course.js';
import { writeTinyLayout } from '../cli/tiny-layout.js';

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
