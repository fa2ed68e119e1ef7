import { PDFiumLibrary } from '@hyzyla/pdfium';
import { beforeAll, describe, expect, it } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { FacingPages, Layout } from '../../src/layout/layout.js';
import { parseLayout } from '../../src/layout/load-layout.js';
import type { BookContent } from '../../src/page/book-content.js';
import { composeBook, planBook } from '../../src/page/book-pages.js';
import type { Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { ownLayout } from '../print/sample-pages.js';
import { type BlankGreen, blankGreen } from './blank-greens.js';

const fonts = openFonts();
const measure = measureWith(fonts);
let holes: readonly HoleFigures[] = [];
beforeAll(async () => {
  const course = loadCourse('course-data/vellamoor');
  holes = courseFigures(course, await readGround(course));
});

/** Greens of the first holes, and one that belongs to none; of some the tables take a second page. */
const GREENS: readonly BlankGreen[] = [
  { id: '1', name: 'Alder', locations: 2 },
  { id: '2', name: 'Birch', locations: 5 },
  { id: '3', name: 'Cedar', locations: 1 },
  { id: 'practice', name: 'Dogwood', locations: 3 },
];

const NOWHERE: readonly BlankGreen[] = [{ id: '4', name: 'Elder', locations: 0 }];

const bookOf = (layout: Layout, greens: readonly BlankGreen[] = GREENS): BookContent => ({
  ...{ title: 'Trees', setting: '', use: layout.use, units: 'imperial', stimp: 3.05, past: 0.3 },
  greens: greens.map((green) => blankGreen(green, layout)),
  holes: holes
    .slice(0, 4)
    .map((hole) => ({ ...hole, name: greens.find(({ id }) => id === hole.id)?.name ?? hole.name })),
});

const faced = (name: string, facing: FacingPages | undefined): Layout => {
  const { facing: _, ...layout } = ownLayout(name);
  return facing === undefined ? layout : { ...layout, facing };
};

/** The texts of a made PDF's pages, by a reader of another house. */
const textsOf = async (layout: Layout, book: BookContent): Promise<string[]> => {
  const pages = composeBook(book, layout, measure);
  const words = { fonts, title: 'Trees', language: 'en', edition: 'plain' } as const;
  const bytes = await writePdf(pages, layout, words);
  const library = await PDFiumLibrary.init();
  const document = await library.loadDocument(bytes);
  const texts = [...document.pages()].map((page) => page.getText());
  document.destroy();
  library.destroy();
  return texts;
};

/** Where the first page of a kind about a hole stands, from 1, by what is printed on it. */
const placeOf = (texts: readonly string[], name: string, kind: RegExp): number =>
  texts.findIndex((text) => text.includes(name) && kind.test(text)) + 1;

const GREEN = /grade of the ground/;
const TABLES = /falls 2\.0 %/;
const HOLE = /landmarks: front/;

/** An opening is an even page and the odd one after it: page 1 is the right-hand page behind the front cover's edge. */
const isOpening = (left: number, right: number): boolean =>
  left > 0 && left % 2 === 0 && right === left + 1;

const OTHERS = ['pocket-glued', 'pocket-wire', 'a6', 'practice-large'];

describe('pages that lie open side by side', () => {
  const greenFacesTables = async (name: string): Promise<void> => {
    const layout = faced(name, 'green and tables');
    const texts = await textsOf(layout, bookOf(layout));
    for (const green of GREENS) {
      const [left, right] = [GREEN, TABLES].map((kind) => placeOf(texts, green.name, kind));
      expect(isOpening(left, right), `${green.name}: ${left}, ${right}`).toBe(true);
    }
  };

  const holeFacesGreen = async (name: string): Promise<void> => {
    const layout = faced(name, 'hole and green');
    const texts = await textsOf(layout, bookOf(layout));
    for (const { name: of, id } of GREENS) {
      const [hole, green, tables] = [HOLE, GREEN, TABLES].map((kind) => placeOf(texts, of, kind));
      if (id === 'practice') expect([hole, green % 2]).toEqual([0, 0]);
      else expect(isOpening(hole, green), `${of}: ${hole}, ${green}`).toBe(true);
      expect(tables).toBe(green + 1);
    }
  };

  it('are green and tables, as the made PDF shows them', () => greenFacesTables('pocket'));
  it('are hole and green, as the made PDF shows them', () => holeFacesGreen('pocket'));
  it.each(OTHERS)('are so in %s', { tags: 'long' }, async (name) => {
    await greenFacesTables(name);
    await holeFacesGreen(name);
  });

  /** What the check finds of facing pages in the made book: page by page, and on sheets to be stapled. */
  const foundFacing = async (pages: readonly Page[], layout: Layout): Promise<string[]> => {
    const words = { fonts, title: 'Trees', language: 'en' };
    const [staple] = layout.sheets.filter(({ scheme }) => scheme === 'saddle');
    const files = [
      await writePdf(pages, layout, { ...words, edition: 'plain' }),
      await writeSheets(pages, layout, staple, words),
    ];
    const found = await Promise.all(
      files.map(async (bytes) => preflight(await readBook(bytes, 'x'))),
    );
    return found.flatMap((all) =>
      all.flatMap(({ rule, verdict, words: told }) =>
        rule === 'facing pages' ? [`${verdict}: ${told}`] : [],
      ),
    );
  };

  it('are looked for by the check, in the made book and on its sheets', async () => {
    const whole = faced('pocket', 'green and tables');
    const { green, tables, notes } = whole.pages;
    const layout: Layout = { ...whole, pages: { green, tables, notes } as Layout['pages'] };
    const pages = composeBook(bookOf(layout), layout, measure);
    expect(await foundFacing(pages, layout)).toEqual(
      Array(2).fill('pass: 4 greens lie open beside their tables'),
    );
    const [first] = pages;
    expect(first.id).toMatch(/^notes/);
    const [alone, , , , onSheet] = await foundFacing(pages.slice(1), layout);
    expect(alone).toBe(
      'fail: green 1 on page 1 and its tables on page 2 are one leaf, not two pages side by side',
    );
    expect(onSheet).toBe(alone);
    const at = pages.findIndex(({ id }) => id.startsWith('tables-2'));
    const parted = [...pages.slice(0, at), first, ...pages.slice(at)];
    expect((await foundFacing(parted, layout))[0]).toBe(
      `fail: the tables on page ${at + 2} have no green before them`,
    );
    // A layout that does not ask is not held to it.
    expect(await foundFacing(pages.slice(1), faced('pocket', undefined))).toEqual([]);
  });

  it('are not mistaken for a side of a sheet that no page is placed on', async () => {
    const whole = faced('pocket', 'green and tables');
    const { green, tables, notes } = whole.pages;
    const layout: Layout = { ...whole, pages: { green, tables, notes } as Layout['pages'] };
    const pages = composeBook(bookOf(layout), layout, measure);
    const [plan] = layout.sheets.filter(({ scheme }) => scheme === 'leaves');
    // Five pages on two sheets: the fourth side is bare, and the fourth page a green.
    const five = pages.slice(0, 5);
    const words = { fonts, title: 'Trees', language: 'en' };
    const read = await readBook(await writeSheets(five, layout, plan, words), 'x');
    expect(five[3].id).toBe('green-2');
    expect(read.pages.map(({ drawn }) => drawn.placed.length)).toEqual([2, 2, 1, 0]);
    const found = preflight(read).filter(({ rule }) => rule === 'facing pages');
    expect(found.map(({ words: told }) => told)).toEqual(['2 greens lie open beside their tables']);
  });

  it('are looked for of maps and greens, too', async () => {
    const whole = faced('pocket', 'hole and green');
    const { hole, green, tables, notes } = whole.pages;
    const layout: Layout = { ...whole, pages: { hole, green, tables, notes } as Layout['pages'] };
    const pages = composeBook(bookOf(layout), layout, measure);
    // The practice green has no map, and is not asked for one.
    expect(await foundFacing(pages, layout)).toEqual(
      Array(2).fill('pass: 3 holes lie open beside their greens'),
    );
    const [first] = pages;
    expect(first.id).toMatch(/^notes/);
    const [alone, , , onSheet] = await foundFacing(pages.slice(1), layout);
    expect(alone).toBe(
      'fail: the map of hole 1 on page 1 and its green on page 2 are one leaf, not two pages side by side',
    );
    expect(onSheet).toBe(alone);
    const at = pages.findIndex(({ id }) => id === 'green-2');
    const parted = [...pages.slice(0, at), first, ...pages.slice(at)];
    expect((await foundFacing(parted, layout))[0]).toBe(
      `fail: green 2 on page ${at + 2} has no map of its hole before it`,
    );
    // The green of another hole is not the one that belongs there.
    const [one, two] = ['green-1', 'green-2'].map((id) => pages.findIndex((p) => p.id === id));
    const swapped = pages.with(one, pages[two]).with(two, pages[one]);
    expect((await foundFacing(swapped, layout)).slice(0, 2)).toEqual([
      `fail: green 2 on page ${one + 1} has no map of its hole before it`,
      `fail: green 1 on page ${two + 1} has no map of its hole before it`,
    ]);
  });

  const kindsOf = (layout: Layout, book: BookContent): string =>
    planBook(book, layout, measure)
      .map(({ kind }) => kind)
      .join(' ');

  it('take a page of notes about the hole, and none where the pages fall right by themselves', () => {
    const layout = faced('pocket', 'green and tables');
    const planned = planBook(bookOf(layout), layout, measure);
    // The tables of the second hole end on a left-hand page: the third begins beside them.
    expect(planned.map(({ kind, holeId }) => `${kind} ${holeId ?? '-'}`).slice(3, 15)).toEqual([
      ...['hole 1', 'notes 1', 'green 1', 'tables 1'],
      ...['hole 2', 'notes 2', 'green 2', 'tables 2', 'tables 2'],
      ...['hole 3', 'green 3', 'tables 3'],
    ]);
    expect(planned.every(({ compose }, i) => compose().label === `${i + 1}`)).toBe(true);
  });

  it('take a blank page where the layout has none for notes', async () => {
    const { pages, ...layout } = faced('pocket', 'green and tables');
    const { notes: _, ...rest } = pages;
    const without = { ...layout, pages: rest };
    const texts = await textsOf(without, bookOf(without));
    expect(isOpening(placeOf(texts, 'Alder', GREEN), placeOf(texts, 'Alder', TABLES))).toBe(true);
    expect(texts[placeOf(texts, 'Alder', HOLE)].trim()).toBe('');
  });

  it('leave a green without tables opposite its hole', () => {
    const layout = faced('pocket', 'green and tables');
    expect(kindsOf(layout, bookOf(layout, NOWHERE))).toContain('hole green');
  });

  it('are as they were where a layout does not ask', () => {
    const layout = faced('pocket', undefined);
    const book = bookOf(layout);
    expect(kindsOf(layout, book)).toBe(kindsOf(faced('pocket', 'hole and green'), book));
  });
});

describe('a layout that asks for pages side by side', () => {
  const MINIMAL = `name: mine
title: Mine
page: { width: 100, height: 170, margins: { top: 6, bottom: 6, inner: 9, outer: 6 } }
grid: { columns: 4, rows: 20 }
pages:
  green: []
  tables: []
`;
  const refusal = (more: string): string => {
    try {
      parseLayout(MINIMAL + more, 'mine.yaml');
    } catch (fault) {
      return (fault as Error).message;
    }
    return 'taken';
  };

  it.each([
    ['saddle stitch', 'green and tables', 'taken'],
    ['wire-o', 'green and tables', 'taken'],
    ['perfect', 'green and tables', 'taken'],
    ['loose', 'green and tables', 'loose leaves have no two pages that lie side by side'],
    ['fold-up', 'green and tables', 'a fold-up sheet has no two pages that lie side by side'],
    ['perfect', 'hole and green', 'the layout has no pages of the kind "hole"; add pages.hole'],
    ['perfect', 'green and water', '"green and water" is not one of "hole and green"'],
  ])('%s, %s: %s', (method, facing, words) => {
    const said = refusal(`facing: ${facing}\nbinding: { method: ${method} }\n`);
    expect(said).toContain(words);
    if (words !== 'taken') expect(said).toMatch(/^mine\.yaml, line 8, facing: [^\n]+$/);
  });
});
