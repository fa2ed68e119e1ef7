import { describe, expect, test } from 'vitest';
import { trueGreens } from '../../course-data/vellamoor/truth.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent, OutlinedGreen } from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import { frameOnPage } from '../../src/page/green/green-image.js';
import { atOneScale } from '../../src/page/green/one-scale.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import type { Mark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { yardsToMetres } from '../../src/units.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';

const outlines = trueGreens.map(
  ({ id, outline }): OutlinedGreen => ({
    holeId: id,
    name: id,
    par: null,
    outline,
    locations: [],
    worth: null,
    approaches: [],
    northUp: false,
    hazards: [],
  }),
);

const bookOf = (greens: readonly OutlinedGreen[]): BookContent => ({
  title: 'One scale',
  setting: 'made up',
  use: 'play',
  units: 'imperial',
  stimp: 3,
  past: 0.3,
  greens: [],
  outlines: greens,
});

const foldUp = loadLayout('fold-up');
const scaleOf = (layout: typeof foldUp, green: OutlinedGreen): number =>
  frameOnPage(green, layout, 'left')!.scale;

const wordsIn = (marks: readonly Mark[]): string[] => textMarksOf(marks).map(({ text }) => text);

describe('greens of a book at one scale', () => {
  const book = bookOf(outlines);
  const layout = atOneScale(book, foldUp);

  test('the scale takes four in five, none of them drawn larger than it fits', () => {
    const scales = outlines.map((green) => scaleOf(layout, green));
    const { scale } = layout.green;
    expect(scale).toBeGreaterThan(foldUp.green.scale);
    expect(scales.filter((one) => one === scale).length).toBeGreaterThanOrEqual(
      0.8 * scales.length,
    );
    outlines.forEach((green, i) => {
      expect(scales[i]).toBe(Math.max(scale, scaleOf(foldUp, green)));
    });
    expect(atOneScale(book, layout)).toEqual(layout);
  });

  test('is the layout’s own where all fit, and is nobody’s who does not ask', () => {
    const small = outlines.filter((green) => scaleOf(foldUp, green) === foldUp.green.scale);
    expect(small.length).toBeGreaterThan(0);
    expect(atOneScale(bookOf(small), foldUp)).toEqual(foldUp);
    const pocket = loadLayout('pocket');
    expect(atOneScale(book, pocket)).toBe(pocket);
  });

  test('the key on the cover tells it, with the length of its bar, and the greens drawn smaller', () => {
    const measure = measureWith(openFonts());
    const [cover] = planBook(book, foldUp, measure);
    const words = wordsIn(cover.compose().marks).join(' ');
    const { scale } = layout.green;
    const inches = ((yardsToMetres(20) / scale) * 1000) / 25.4;
    expect(words).toContain(`20 yd = ${Number(inches.toFixed(2))} in on paper, 1:${scale}`);
    const smaller = outlines.filter((green) => scaleOf(layout, green) !== scale);
    expect(smaller.length).toBeGreaterThan(0);
    for (const green of smaller) {
      const sign = green.holeId === 'practice' ? 'P' : green.holeId;
      expect(words).toContain(`${sign} at 1:${Math.round(scaleOf(layout, green))}`);
    }
    expect(wordsIn(planBook(bookOf([outlines[0]]), foldUp, measure)[0].compose().marks)).toContain(
      'All greens are drawn at this scale.',
    );
  });

  test('the key tells what figures and signs mean where the book has no page for it, as far as they are shown', () => {
    const measure = measureWith(openFonts());
    const main = (kept: number) => ({ main: true, outlet: { kept } });
    const green = (worth: 'tables' | 'arrows', streams: readonly object[] = [main(0.9)]) =>
      ({
        ...{ ...outlines[0], worth: { ...FIT_FOR_TABLES, worth } },
        reading: { bands: [{ from: 0, to: Infinity, polygons: [] }], outlets: [{}], streams },
      }) as unknown as BookContent['greens'][number];
    const wordsOf = (greens: BookContent['greens'], of = foldUp): string => {
      const held = { ...bookOf(greens.length === 0 ? outlines : []), greens };
      return wordsIn(planBook(held, of, measure)[0].compose().marks).join(' ');
    };
    const words = (kinds: readonly ('tables' | 'arrows')[], of = foldUp): string =>
      wordsOf(
        kinds.map((worth) => green(worth)),
        of,
      );
    const heights = 'Figure at a point: height above the lowest, in inches.';
    expect(words(['tables'])).toContain(
      `Heavy line: main drainage. Arrow: downhill; longer: steeper. Dots: putts run straight. Square: best leave of an approach. ${heights}`,
    );
    const tint = 'In tint: one of many alike.';
    expect(words(['tables', 'arrows'])).not.toContain(tint);
    expect(wordsOf([green('tables'), green('arrows', [main(0.5)])])).toContain(tint);
    // Nobody knows yet how the line of a green will be drawn that is not fitted.
    expect(wordsOf([green('tables', [])])).toContain(tint);
    expect(words(['arrows'])).toContain(heights);
    expect(words(['arrows'])).not.toContain('Dots:');
    expect(words([])).not.toContain('Figure at');
    const told = { ...foldUp, pages: { ...foldUp.pages, 'how-to-read': [] } };
    expect(words(['tables'], told)).not.toContain('Figure at');
  });
});
