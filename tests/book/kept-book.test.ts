import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type BookParts, keptBook, keyOfBook, type MadeBook } from '../../src/book/kept-book.js';
import { SAMPLE_RECORD } from './sample-record.js';

/** Parts of a book, as far as keeping looks at them. */
const PARTS = {
  course: { title: 'Links', holes: [{ id: '1', name: 'First', par: 4 }] },
  layout: { name: 'pocket', page: { width: 107 } },
  units: 'imperial',
  language: 'en',
  words: undefined,
  faces: '',
  greens: [{ digest: 'one' }, { digest: 'two' }],
  holes: [{ length: 312.5, reach: new Map([['tee', 1]]), bends: Float64Array.of(1, 2) }],
  notes: undefined,
  since: null,
} as unknown as BookParts;

const changed = (change: object): BookParts => ({ ...PARTS, ...change }) as BookParts;

describe('a book that is kept', () => {
  let folder: string;
  let made: number;
  const make = async (): Promise<MadeBook> => {
    made += 1;
    const bytes = Uint8Array.of(made, 2, 3);
    return {
      pages: [{ id: 'cover', title: 'Links', label: '1' }],
      products: [{ file: 'pocket.pdf', what: 'the book', bytes }],
      record: SAMPLE_RECORD,
      changes: null,
      shortened: [],
    };
  };
  const of = (parts: BookParts): Promise<MadeBook> => keptBook({ folder }, keyOfBook(parts), make);
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'kept-'));
    made = 0;
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it('is made once of the same parts, and comes back as it was', async () => {
    const first = await of(PARTS);
    const again = await of(structuredClone(PARTS));
    expect(made).toBe(1);
    expect(again.pages).toEqual(first.pages);
    expect([...again.products[0].bytes]).toEqual([1, 2, 3]);
  });

  it('is made anew when any part changes, what JSON leaves out among it', async () => {
    const { course, layout, holes } = PARTS as unknown as Record<string, object>;
    const changes = [
      { course: { ...course, title: 'Moor' } },
      { layout: { ...layout, page: { width: 108 } } },
      { language: 'de' },
      { greens: [{ digest: 'two' }, { digest: 'one' }] },
      { greens: [{ digest: 'one' }] },
      { since: SAMPLE_RECORD },
      { notes: { felt: [] } },
      { notes: { past: Number.NaN } },
      { notes: { past: null } },
      { notes: { past: Number.POSITIVE_INFINITY } },
      { holes: [{ ...(holes as object[])[0], reach: new Map([['tee', 2]]) }] },
      { holes: [{ ...(holes as object[])[0], reach: new Set(['tee']) }] },
      { holes: [{ ...(holes as object[])[0], bends: Float64Array.of(1, 3) }] },
    ];
    await of(PARTS);
    for (const [i, change] of changes.entries()) {
      await of(changed(change));
      expect(made, JSON.stringify(change)).toBe(i + 2);
    }
  });

  it('is made anew when what is kept is damaged, and always without a cache', async () => {
    await of(PARTS);
    const [name] = readdirSync(folder);
    const bytes = readFileSync(join(folder, name));
    bytes[bytes.length - 1] ^= 1;
    writeFileSync(join(folder, name), bytes);
    await of(PARTS);
    expect(made).toBe(2);
    await keptBook({ folder: null }, keyOfBook(PARTS), make);
    await keptBook({ folder: null }, keyOfBook(PARTS), make);
    expect(made).toBe(4);
  });
});
