import { describe, expect, it, vi } from 'vitest';
import { type PageMemories, pageKeys, startPageMemories } from '../../src/book/remembered-pages.js';
import { composerOf } from '../../src/book/shelved-pages.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import { withLinks } from '../../src/page/book-links.js';
import { planBook } from '../../src/page/book-pages.js';
import type { Page } from '../../src/page/marks/marks.js';
import { shortenedWords } from '../../src/page/shortened-words.js';
import { ENGLISH } from '../../src/page/words/english.js';
import { startStreams, streamsAsked } from '../../src/print/deflated.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { blankGreen } from '../page/blank-greens.js';
import { ownLayout } from '../print/sample-pages.js';

const fonts = openFonts();
const measure = measureWith(fonts);
const pocket = ownLayout('pocket');
const words = { fonts, title: 'Links', language: 'en' };

const greens = ['1', '2', '3'].map((id) =>
  blankGreen({ id, name: `Green ${id}`, locations: 2 }, pocket),
);
const book = (more: Partial<BookContent> = {}): BookContent => ({
  title: 'Links',
  setting: '',
  use: 'practice',
  units: 'imperial',
  stimp: 3.05,
  past: 0.3,
  greens,
  ...more,
});

const DIGESTS = new Map(greens.map(({ holeId }) => [holeId, `made of ${holeId}`]));

/** Composes a book with what another run left; which of its pages were composed for it. */
const compose = (
  content: BookContent,
  memories: PageMemories,
  { digests = DIGESTS, faces = '', layout = pocket } = {},
): { readonly pages: Page[]; readonly composed: string[] } => {
  const composed: string[] = [];
  const planned = planBook(content, layout, measure).map((page) => ({
    ...page,
    compose: () => {
      const made = page.compose();
      composed.push(made.id);
      return made;
    },
  }));
  const keys = pageKeys(planned, digests, faces);
  expect(new Set(keys).size).toBe(keys.length);
  return { pages: planned.map((page, i) => memories.page(page, keys[i])), composed };
};

const allFiles = async (pages: readonly Page[]): Promise<Uint8Array[]> => {
  const inked = { ...pocket.sheets[0], inks: 'press' as const };
  return [
    await writePdf(withLinks(pages), pocket, { ...words, edition: 'screen' }),
    await writePdf(pages, pocket, { ...words, edition: 'press' }),
    ...(await Promise.all(
      [...pocket.sheets.slice(0, 2), inked].map((plan) => writeSheets(pages, pocket, plan, words)),
    )),
  ];
};

/** What a run leaves, all of it packed as the cache packs it. */
const left = async (content: BookContent) => {
  startStreams(new Map());
  const memories = startPageMemories();
  const { pages } = compose(content, memories);
  const files = await allFiles(pages);
  return structuredClone({ pages: memories.give()!, streams: streamsAsked()!, files });
};

const changed = (id: string, change: Partial<GreenContent>): GreenContent[] =>
  greens.map((green) => (green.holeId === id ? { ...green, ...change } : green));

describe('pages that no binding holds', () => {
  it('are counted before one of them is composed', async () => {
    const binding = { ...pocket.binding, method: 'wire-o' as const, paper: 10 };
    const page = vi.fn();
    const setting = { measure, faces: '', greens: [], greensInMemory: 20, cache: null as never };
    const compose = composerOf({
      ...setting,
      layout: { ...pocket, binding },
      memories: { ...startPageMemories(), page },
    });
    await expect(compose(book())).rejects.toThrow(/pages are \d+ mm thick: wire-o holds 28 mm/);
    expect(page).not.toHaveBeenCalled();
  });
});

describe('pages that were composed before', () => {
  it('are in all files what they were, without being composed', async () => {
    const before = await left(book());
    startStreams(before.streams);
    const memories = startPageMemories(before.pages);
    const { pages, composed } = compose(book(), memories);
    const files = await allFiles(pages);
    expect(composed).toEqual([]);
    expect(files.map((file) => Buffer.from(file).toString('base64'))).toEqual(
      before.files.map((file) => Buffer.from(file).toString('base64')),
    );
    expect(memories.give()).toBeNull();
    const fresh = planBook(book(), pocket, measure).map((page) => page.compose());
    expect(shortenedWords(pages)).toEqual(shortenedWords(fresh));
    expect(pages.map(({ marks }) => marks)).toEqual(fresh.map(({ marks }) => marks));
  });

  it('are drawn again where their packed contents are lost', async () => {
    const before = await left(book());
    for (const { memory } of before.pages.values()) {
      for (const drawing of Object.keys(memory.drawings)) {
        Object.assign(memory.drawings, { [drawing]: 'of no stream' });
      }
    }
    const { pages, composed } = compose(book(), startPageMemories(before.pages));
    const [screen] = await allFiles(pages);
    expect(composed).toHaveLength(pages.length);
    expect(Buffer.from(screen).equals(Buffer.from(before.files[0]))).toBe(true);
  });

  it.each([
    ['what is made of its green', {}, { digests: new Map([...DIGESTS, ['2', 'another']]) }],
    ['the name of its hole', { greens: changed('2', { name: 'Another' }) }, {}],
    ['its outline', { greens: changed('2', { outline: greens[0].outline.slice(1) }) }, {}],
    ['its speed', { greens: changed('2', { stimp: 3.2 }) }, {}],
  ])(
    'are composed where %s changes, and those of the whole book with them',
    async (_, more, of) => {
      const { pages: before } = await left(book());
      const { composed } = compose(book(more), startPageMemories(before), of);
      expect(composed.some((id) => id.includes('-2'))).toBe(true);
      expect(composed).toContain('cover');
      expect(composed.filter((id) => /-[13]/.test(id))).toEqual([]);
    },
  );

  it.each([
    ['the units', { units: 'metric' as const }, {}],
    ['the faces', {}, { faces: 'others' }],
    ['the layout', {}, { layout: { ...pocket, name: 'other' } }],
    ['the words', { words: { ...ENGLISH, 'card.title': 'Another card' } }, {}],
  ])('are all composed where %s change', async (_, more, of) => {
    const { pages: before } = await left(book());
    const { pages, composed } = compose(book(more), startPageMemories(before), of);
    expect(composed).toEqual(pages.map(({ id }) => id));
  });

  it('are composed where a page comes before them', async () => {
    const { pages: before } = await left(book());
    const more = blankGreen({ id: '0', name: 'Green 0', locations: 2 }, pocket);
    const { composed } = compose(book({ greens: [more, ...greens] }), startPageMemories(before));
    for (const id of ['green-0', 'green-1', 'green-2', 'green-3']) expect(composed).toContain(id);
  });
});
