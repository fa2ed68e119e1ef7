import { PDFDocument } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { readBook } from '../../src/check/read-book.js';
import { checkRules } from '../../src/check/rules-check.js';
import { refuseUnfit } from '../../src/check/use-check.js';
import type { Layout } from '../../src/layout/layout.js';
import { fillPath, rectSteps, text } from '../../src/page/kit/draw.js';
import {
  DARK,
  type GroupMark,
  type Mark,
  type Page,
  type Shown,
} from '../../src/page/marks/marks.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { blob, ownLayout, sampleGreen, samplePage } from '../print/sample-pages.js';

const fonts = openFonts();
const words = { fonts, title: 'Test', language: 'en' };
const pocket = ownLayout('pocket');

const bookOf = async (pages: readonly Page[], layout: Layout = pocket) =>
  readBook(await writePdf(pages, layout, { ...words, edition: 'plain' }), 'test.pdf');

const greenPages = (scale: number, count = 2): Page[] =>
  Array.from({ length: count }, (_, i) =>
    samplePage(i, 107.95, 177.8, [sampleGreen(String(i + 1), scale)]),
  );

describe('the Rules check', () => {
  it.each([1000, 640, 480, 479.5, 400, 240])('measures a green drawn at 1:%d', async (scale) => {
    // The layout says 1:480 all the while: only what is drawn counts.
    const { images, conditions } = checkRules(await bookOf(greenPages(scale)));
    expect(images.map((image) => image.green)).toEqual(['1', '2']);
    for (const image of images) expect(Math.abs(image.scale / scale - 1)).toBeLessThan(1e-5);
    expect(conditions.play.met).toBe(scale >= 480);
  });

  it('takes the larger direction of an image that is stretched', async () => {
    const ground = blob(30, 22);
    const stretched = sampleGreen('1', 480, ground) as GroupMark;
    // Says that the ground is wider than it is: drawn too large along, too small across.
    const lying: Mark = { ...stretched, ground: { ...stretched.ground!, width: 30 } };
    const { images } = checkRules(await bookOf([samplePage(0, 107.95, 177.8, [lying])]));
    expect(images[0].scale).toBeCloseTo(480, 2);
    // And the other way about.
    const tall: Mark = { ...stretched, ground: { ...stretched.ground!, height: 60 } };
    const { images: others } = checkRules(await bookOf([samplePage(0, 107.95, 177.8, [tall])]));
    expect(others[0].scale).toBeCloseTo(480, 2);
  });

  it('takes an image whose outline it cannot find for one that is too large', async () => {
    const book = await bookOf(greenPages(600, 1));
    const pages = book.pages.map((page) => ({
      ...page,
      drawn: {
        ...page.drawn,
        grounds: page.drawn.grounds.map((ground) => ({ ...ground, outline: null })),
      },
    }));
    const { images, conditions } = checkRules({ ...book, pages });
    expect(images.map(({ green, withinLimit }) => [green, withinLimit])).toEqual([['1', false]]);
    expect(conditions.play.met).toBe(false);
  });

  it('takes an image that is drawn as a mere point for one without a scale', async () => {
    const book = await bookOf(greenPages(600, 1));
    const pages = book.pages.map((page) => ({
      ...page,
      drawn: {
        ...page.drawn,
        grounds: page.drawn.grounds.map((ground) => ({
          ...ground,
          outline: { minX: 5, minY: 5, maxX: 5, maxY: 5 },
        })),
      },
    }));
    expect(checkRules({ ...book, pages }).images[0]).toMatchObject({
      scale: 0,
      withinLimit: false,
    });
  });

  it('lists the pages that are too large, six of them and how many more', async () => {
    const layout: Layout = { ...pocket, page: { ...pocket.page, width: 120, height: 180 } };
    const reasons = async (count: number) => {
      const pages = Array.from({ length: count }, (_, i) => samplePage(i, 120, 180));
      return checkRules(await bookOf(pages, layout)).conditions.play.reasons;
    };
    expect(await reasons(6)).toEqual(['pages larger than 4 1/4 x 7 in: 1, 2, 3, 4, 5, 6']);
    expect(await reasons(8)).toEqual([
      'pages larger than 4 1/4 x 7 in: 1, 2, 3, 4, 5, 6 and 2 more',
    ]);
  });

  it('leaves out the sheet that is printed first, which holds no page of the book', async () => {
    const foldUp = ownLayout('fold-up');
    const panels = Array.from({ length: 10 }, (_, i) => samplePage(i, 55.5, 104.5));
    const first = ({ width, height }: { width: number; height: number }): Page[] => [
      samplePage(0, width, height),
      samplePage(1, width, height),
    ];
    const [plan] = foldUp.sheets;
    const measured = async (pdf: Uint8Array) =>
      checkRules(await readBook(pdf, 'sheets.pdf')).pages.length;
    const without = await measured(await writeSheets(panels, foldUp, plan, words));
    expect(without).toBeGreaterThan(0);
    expect(await measured(await writeSheets(panels, foldUp, plan, { ...words, first }))).toBe(
      without,
    );
  });

  it('sees through a page that was enlarged after it was made', async () => {
    const pdf = await writePdf(greenPages(480), pocket, { ...words, edition: 'plain' });
    const document = await PDFDocument.load(pdf);
    for (const page of document.getPages()) page.scaleContent(1.2, 1.2);
    const { images, conditions } = checkRules(
      await readBook(await document.save(), 'enlarged.pdf'),
    );
    for (const image of images) expect(Math.abs(image.scale - 400)).toBeLessThan(0.01);
    expect(conditions.play.met).toBe(false);
    expect(conditions.play.reasons[0]).toContain('the largest 1:400.0');
  });

  it.each([
    [107.95, 177.8, true],
    [177.8, 107.95, true],
    [108.1, 177.8, false],
    [107.95, 178, false],
    [196, 260, false],
  ])('a page of %f x %f mm: within 4 1/4 x 7 in %s', async (width, height, within) => {
    const layout: Layout = { ...pocket, page: { ...pocket.page, width, height } };
    const { pages, conditions } = checkRules(await bookOf([samplePage(0, width, height)], layout));
    expect(pages[0].width).toBeCloseTo(width, 3);
    expect(pages[0].height).toBeCloseTo(height, 3);
    expect(conditions.play.met).toBe(within);
  });

  it('measures pages on a sheet, turned or not', async () => {
    for (const plan of [...pocket.sheets, ...ownLayout('committee').sheets]) {
      const pdf = await writeSheets(greenPages(480, 6), pocket, plan, words);
      const { pages, images, conditions } = checkRules(await readBook(pdf, 'sheets.pdf'));
      expect(pages.length).toBe(6);
      expect(images.length).toBe(6);
      for (const page of pages) expect(page.width).toBeCloseTo(107.95, 3);
      for (const image of images) expect(image.scale).toBeCloseTo(480, 2);
      expect(conditions.play.met).toBe(true);
    }
  });

  it('lets a sheet of nine greens or more be larger, but not their images', async () => {
    const foldUp = ownLayout('fold-up');
    const panels = (count: number, scale: number): Page[] =>
      Array.from({ length: count }, (_, i) =>
        samplePage(i, 55.5, 104.5, [sampleGreen(String(i + 1), scale, blob(20, 14))]),
      );
    const check = async (count: number, scale: number) =>
      checkRules(
        await readBook(
          await writeSheets(panels(count, scale), foldUp, foldUp.sheets[0], words),
          'f',
        ),
      );
    const whole = await check(20, 600);
    expect(whole.conditions.play.met).toBe(true);
    expect(whole.notes[0]).toContain(
      'as a hole-location sheet of nine or more holes may be: pages 1, 2',
    );
    expect((await check(20, 400)).conditions.play.met).toBe(false);
    // Both sides of a sheet that is not cut are one paper: eleven greens, ten of them on one side.
    expect((await check(11, 600)).conditions.play.met).toBe(true);
    // Of a second sheet that shows five the first sheet's are none.
    expect((await check(25, 600)).conditions.play.reasons).toEqual([
      'pages larger than 4 1/4 x 7 in: 3',
    ]);
    // Eight greens are too few for the exception.
    const few = await check(8, 600);
    expect(few.conditions.play.met).toBe(false);
    expect(few.notes).toEqual([]);
  });

  it('counts the exception from nine greens on one page on: eight are too few', async () => {
    const sheetOf = async (count: number) =>
      checkRules(
        await bookOf([
          samplePage(
            0,
            196,
            260,
            Array.from({ length: count }, (_, i) => sampleGreen(String(i + 1), 600)),
          ),
        ]),
      ).conditions.play.met;
    expect(await sheetOf(8)).toBe(false);
    expect(await sheetOf(9)).toBe(true);
  });

  const showing = (...shows: (Shown | null)[]): Page => {
    const green = sampleGreen('1', 480) as GroupMark;
    const marks: Mark[] = shows.map((what) => {
      const mark = fillPath(rectSteps(25, 40, 4, 4), DARK);
      return what === null ? mark : { kind: 'group', role: 'figure', shows: what, marks: [mark] };
    });
    const [, outline] = green.marks;
    return samplePage(0, 107.95, 177.8, [{ ...green, marks: [outline, ...marks] }]);
  };

  it('a committee edition holds outline, sections, paces grid and hole locations only', async () => {
    const allowed = await bookOf([showing('sections', 'paces-grid', 'hole-locations', 'notes')]);
    expect(checkRules(allowed).conditions.committee.met).toBe(true);
    for (const what of ['slope', 'contours', 'fall', 'drainage', 'spots', 'putts'] as const) {
      const { committee } = checkRules(await bookOf([showing('sections', what)])).conditions;
      expect(committee.met).toBe(false);
      expect(committee.reasons[0]).toContain(`(${what}) on pages 1`);
    }
    const unnamed = checkRules(await bookOf([showing('sections', null)])).conditions.committee;
    expect(unnamed.reasons[0]).toContain('do not say what they show');
  });

  it('a page that breaks a limit must say that it is for practice', async () => {
    const bare = await bookOf(greenPages(240));
    expect(checkRules(bare).conditions.practice.met).toBe(false);
    const saying = async (words: string, shows?: Shown): Promise<boolean | null> => {
      const marks: Mark[] = [text([20, 170], words, 'text', 7)];
      const said: Mark[] =
        shows === undefined ? marks : [{ kind: 'group', role: 'paragraph', shows, marks }];
      const pages = greenPages(240).map((page) => ({ ...page, marks: [...page.marks, ...said] }));
      return checkRules(await bookOf(pages)).conditions.practice.met;
    };
    expect(await saying('for practice only', 'for-practice')).toBe(true);
    expect(await saying('nur zum Üben', 'for-practice')).toBe(true);
    // A name is no such line.
    expect(await saying('Practice green')).toBe(false);
  });

  it('cannot tell of a file that does not say who made it, but for what it breaks', async () => {
    const met = (pages: readonly Page[]): Promise<(boolean | null)[]> =>
      bookOf(pages).then((book) => {
        const { practice, play, committee } = checkRules({ ...book, facts: null }).conditions;
        return [practice, play, committee].map((one) => one.met);
      });
    // The marks of some pages are there, those of others may be lost.
    expect(await met(greenPages(480))).toEqual([null, null, false]);
    expect(await met([showing('sections')])).toEqual([null, null, null]);
    expect(await met(greenPages(240))).toEqual([null, false, false]);
  });

  it('always says that the Committee decides', async () => {
    expect(checkRules(await bookOf(greenPages(480))).sentence).toBe(
      'Whether this book may be carried in a competition is the Committee’s decision under the Rules in force.',
    );
  });

  it('refuses a book for a use that it does not fit', async () => {
    const pdf = await writePdf(greenPages(240), pocket, { ...words, edition: 'screen' });
    await expect(refuseUnfit(pdf, 'play', 'pocket')).rejects.toThrow(
      'layout pocket: does not fit play under Rule 4.3a: green images larger than 1:480 on pages 1, 2',
    );
    await expect(refuseUnfit(pdf, 'practice', 'pocket')).rejects.toThrow('not marked for practice');
    const fit = await writePdf(greenPages(480), pocket, { ...words, edition: 'screen' });
    await expect(refuseUnfit(fit, 'play', 'pocket')).resolves.toBeDefined();
  });
});
