import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { withCheck } from '../../src/book/check-apart.js';
import { checkedProducts, checkHere, type ProductCheck } from '../../src/book/product-check.js';
import type { PassedFile } from '../../src/book/unchecked-file.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { ownLayout, samplePages } from '../print/sample-pages.js';

const folder = mkdtempSync(join(tmpdir(), 'runnel-check-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const layout = ownLayout('pocket');
const words = { fonts: openFonts(), title: 'Links', language: 'en' };
const book = await writePdf(samplePages(layout, 2), layout, { ...words, edition: 'press' });
const broken = new TextEncoder().encode('no PDF at all');

/** What a check says of a good file, a broken one and the good one again, and what it keeps. */
const answersOf = (threads: number): Promise<unknown[]> => {
  const cache = { folder: join(folder, `of-${threads}`) };
  return withCheck({ cache, of: ['links', 'pocket'] }, threads, async (check) => {
    const said = ['a', 'b', 'c'].map((name, i) =>
      check.read({ file: `${name}.pdf`, bytes: i === 1 ? broken : book }),
    );
    const passed = (await Promise.allSettled(said)).map((one) =>
      one.status === 'fulfilled' ? one.value : String(one.reason),
    );
    await check.keep();
    return [...passed, readdirSync(cache.folder)];
  });
};

describe('the check of products', () => {
  test('says the same and keeps the same on a thread of its own', { tags: 'long' }, async () => {
    const here = await answersOf(0);
    expect(here).toMatchObject([
      { pages: 4 },
      expect.stringContaining('b.pdf'),
      { pages: 4 },
      [{}],
    ]);
    expect(await answersOf(1)).toEqual(here);
  });

  test('holds a file to its use on a thread, too', { tags: 'long' }, async () => {
    const held = { use: 'committee', layout: 'pocket' } as const;
    const file = { file: 'pocket.pdf', bytes: book, held };
    const saidOf = (threads: number): Promise<unknown> =>
      withCheck({ cache: { folder: null }, of: [] }, threads, ({ read }) => read(file)).then(
        (passed) => passed,
        (error) => [error.constructor.name, String(error)],
      );
    const here = await saidOf(0);
    expect(here).toMatchObject(['InputFault', expect.stringContaining('does not fit')]);
    expect(await saidOf(1)).toEqual(here);
  });

  test('gives products in their order, whenever they are read, and the fault of the first that fails', async () => {
    const answers = new Map<string, (error?: Error) => void>();
    const check: ProductCheck = {
      ...checkHere(),
      read: ({ file }) =>
        new Promise<PassedFile>((resolve, reject) => {
          answers.set(file, (error) =>
            error === undefined ? resolve({ pages: 1, rules: [] }) : reject(error),
          );
        }),
      mostWaiting: 10,
    };
    const { add, all } = checkedProducts<string>(check);
    const bytes = new Uint8Array(4);
    for (const file of ['a.pdf', 'b.pdf']) await add({ file, bytes }, () => file);
    // A third one would be too much: the first has to be read before.
    let isTaken = false;
    const third = add({ file: 'c.pdf', bytes }, () => 'c').then(() => {
      isTaken = true;
    });
    answers.get('b.pdf')?.(new Error('b fails'));
    await new Promise((resolve) => setTimeout(resolve, 5));
    expect(isTaken).toBe(false);
    answers.get('a.pdf')?.();
    await third;
    answers.get('c.pdf')?.(new Error('c fails'));
    await expect(all()).rejects.toThrow('b fails');
  });

  test('tells first what is made late, and its fault before those of what was read sooner', async () => {
    const order: string[] = [];
    const check: ProductCheck = {
      ...checkHere(),
      read: async ({ file }) => {
        order.push(file);
        if (file.startsWith('bad')) throw new Error(`${file} fails`);
        return { pages: 1, rules: [] };
      },
      mostWaiting: 100,
    };
    const bytes = new Uint8Array(4);
    const started = (files: readonly string[]): ReturnType<typeof checkedProducts<string>> => {
      const products = checkedProducts<string>(check);
      for (const file of files) {
        products.add({ file, bytes }, () => file, file.includes('late') ? 'first' : 'last');
      }
      return products;
    };
    expect(await started(['a.pdf', 'b.pdf', 'late.pdf']).all()).toEqual([
      'late.pdf',
      'a.pdf',
      'b.pdf',
    ]);
    expect(order).toEqual(['a.pdf', 'b.pdf', 'late.pdf']);
    const both = started(['bad.pdf', 'bad-late.pdf']).all();
    await expect(both).rejects.toThrow('bad-late.pdf fails');
  });

  test('does not read what is no PDF, and gives what it made of each', async () => {
    const { add, all } = checkedProducts<unknown>(checkHere());
    await add({ file: 'licences.txt', bytes: broken }, (passed) => passed);
    await add({ file: 'book.pdf', bytes: book }, (passed) => passed?.pages);
    expect(await all()).toEqual([null, 4]);
    await expect(add({ file: 'b.pdf', bytes: broken }, () => 0)).rejects.toThrow('b.pdf');
  });
});
