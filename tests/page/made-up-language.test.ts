import { describe, expect, it } from 'vitest';
import { contentOf } from '../../src/book/course-book.js';
import { openCourseCache } from '../../src/book/course-cache.js';
import { loadNotes } from '../../src/book/load-notes.js';
import { type GreenOfBook, greensOfBook, prepareGreens } from '../../src/book/prepare-green.js';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import { checkRules } from '../../src/check/rules-check.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { composeBook } from '../../src/page/book-pages.js';
import { composeDay } from '../../src/page/day/day-pages.js';
import type { Page } from '../../src/page/marks/marks.js';
import { ENGLISH } from '../../src/page/words/english.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { atDepth } from '../depth.js';
import { SHARED_OUT } from '../fitted-demo.js';
import { MADE_UP } from './made-up-language.js';
import { inForeignHands, strangers } from './strangers.js';

const DEMO = 'course-data/vellamoor';
const fonts = openFonts();
const measure = measureWith(fonts);
const course = loadCourse(DEMO);
let holes: readonly HoleFigures[] = [];

const figures = async (): Promise<readonly HoleFigures[]> => {
  if (holes.length === 0) holes = courseFigures(course, await readGround(course));
  return holes;
};

/** What would keep a book from being written. */
const failures = async (pages: readonly Page[], name: string): Promise<string[]> => {
  const layout = loadLayout(name);
  const words = { fonts, title: 'Full', language: 'art', edition: 'screen' } as const;
  const bytes = await writePdf(pages, layout, words);
  const book = await readBook(bytes, name);
  const found = preflight(book)
    .filter(({ verdict }) => verdict === 'fail')
    .map(({ rule, page, words: found }) => `${pages[(page ?? 1) - 1].id}, ${rule}: ${found}`);
  // What says that a page is for practice is told from all else in any language.
  return [...found, ...checkRules(book).conditions[layout.use].reasons];
};

describe('a made-up language', () => {
  it('is two fifths longer than English, letter by letter', () => {
    const letters = (table: object): number =>
      Object.values(table).reduce(
        (sum, words: string) => sum + (words.match(/\p{L}+/gu) ?? []).join('').length,
        0,
      );
    // The names of places for figures are no words of a page.
    expect(letters(MADE_UP) / letters(ENGLISH)).toBeGreaterThan(1.35);
  });

  it('fits the pages that need no survey, and no English stands among it', {
    tags: 'long',
  }, async () => {
    const layout = loadLayout('pocket');
    const { green: _, ...rest } = layout.pages;
    const some = (await figures()).slice(0, 3);
    const content = inForeignHands(
      contentOf(course, layout, 'imperial', [], { holes: some, words: MADE_UP }),
    );
    const pages = composeBook({ ...content, outlines: [] }, { ...layout, pages: rest }, measure);
    expect(pages.length).toBeGreaterThan(6);
    expect(await failures(pages, 'pocket')).toEqual([]);
    expect(strangers(pages)).toEqual([]);
  });

  const BOOKS = [
    ['a6', 'metric'],
    ['drill-cards', 'metric'],
    ['fold-up', 'imperial'],
    ['pocket', 'imperial'],
    ['committee', 'imperial'],
    ['quiz', 'imperial'],
    ['pocket-wire', 'metric'],
    ['practice-large', 'metric'],
  ] as const;
  it.each(BOOKS.slice(0, atDepth(0, 3, BOOKS.length)))(
    'fits the book of the demo: %s, %s',
    { tags: 'long', timeout: 600_000 },
    async (name, units) => {
      const layout = loadLayout(name);
      const cache = openCourseCache(SHARED_OUT, 'vellamoor');
      const greens: GreenOfBook[] = await prepareGreens(
        course,
        greensOfBook(course),
        layout,
        cache,
        {
          units,
        },
      );
      const notes = loadNotes(course, fonts);
      await figures();
      const content = inForeignHands(
        contentOf(course, layout, units, greens, { holes, notes, words: MADE_UP }),
      );
      const pages = composeBook(content, layout, measure);
      expect(await failures(pages, name)).toEqual([]);
      expect(strangers(pages)).toEqual([]);
      if (name !== 'pocket') return;
      const day = composeDay(
        {
          ...content,
          greens: content.greens.map((green) => ({
            ...green,
            locations: green.locations.slice(0, 1),
          })),
          day: 2,
          today: { date: null, wind: null, distances: new Map(), bearings: new Map() },
        },
        loadLayout('day'),
        measure,
      );
      expect(await failures(day, 'day')).toEqual([]);
      expect(strangers(day)).toEqual([]);
    },
  );
});
