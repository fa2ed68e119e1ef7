import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { setAside } from '../../src/book/shelved-pages.js';
import { withValue } from '../../src/fetched-record.js';
import type { Page } from '../../src/page/marks/marks.js';
import { shortenedWords } from '../../src/page/shortened-words.js';

const root = mkdtempSync(join(tmpdir(), 'aside-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const page = (label: string, words: string): Page => ({
  ...{ id: `page-${label}`, title: 'A page', label, width: 100, height: 150 },
  marks: [
    { kind: 'text', at: [10, 10], text: words, face: 'text', size: 8, align: 'left', paint: null },
    { kind: 'text', at: [10, 20], text: 'whole', face: 'text', size: 8 },
  ] as unknown as Page['marks'],
});

describe('pages that are set aside', () => {
  it('bring their marks, and tell what was cut on them without', () => {
    const pages = [page('1', 'The ferrywoman’s lo…'), page('2', 'Salt Cup')];
    const aside = pages.map(setAside(root, 0));
    expect(aside.map(({ marks }) => marks)).toEqual(pages.map(({ marks }) => marks));
    const untouched = aside.map((one) =>
      withValue(one, 'marks', () => {
        throw new Error('marks were brought');
      }),
    );
    expect(() => untouched[0].marks).toThrow('marks were brought');
    expect(shortenedWords(untouched)).toEqual(shortenedWords(pages));
    expect(shortenedWords(pages)).toHaveLength(1);
  });
});
