import { expect, it } from 'vitest';
import type { Polygon } from '../../src/geometry.js';
import type { GreenContent } from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import { sectionKeyMarks } from '../../src/page/green/section-key.js';
import type { PageContext } from '../../src/page/kit/page-modules.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { Section } from '../../src/terrain/reading.js';
import { ownLayout } from '../print/sample-pages.js';
import { blankGreen } from './blank-greens.js';

const layout = ownLayout('committee');
const measure = measureWith(openFonts());
const CELL = { x: 0, y: 0, width: 90, height: 5 };

/** Level ground of a square, metres: x from and to, y from and to. */
const square = (x0: number, x1: number, y0: number, y1: number): Polygon => [
  [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ],
];

const section = (kind: Section['kind'], polygon: Polygon): Section => ({
  ...{ kind, name: kind, polygons: [polygon], area: 50, meanGrade: 0.02 },
});

const wordsOf = (sections: readonly Section[]): string[] => {
  const blank = blankGreen({ id: '1', name: 'Alder', locations: 1 }, layout);
  const green: GreenContent = {
    ...blank,
    outline: square(-10, 10, 0, 30)[0],
    reading: { ...blank.reading, sections },
  };
  const book = { title: 'Trees', setting: '', use: layout.use, units: 'imperial', greens: [green] };
  const context = { layout, measure, book, side: 'left', label: '1' } as unknown as PageContext;
  return sectionKeyMarks(context, green, CELL).flatMap((mark) =>
    mark.kind === 'text' ? [mark.text] : [],
  );
};

const FACE = section('face', square(-10, 10, 14, 18));

// A tier from edge to edge behind a face has no line of its own on the page.
it('tells of no broken line where a tier lies between a face and the edge of the green', () => {
  expect(wordsOf([FACE, section('tier', square(-10, 10, 18, 30))])).toEqual(['face']);
});

it('tells of the broken lines that are seen, each kind once', () => {
  const swale = section('swale', square(-3, 3, 2, 12));
  const free = section('tier', square(-10, 10, 20, 30));
  expect(wordsOf([FACE, swale, free, section('tier', square(-10, 10, 0, 14))])).toEqual([
    'swale, tier',
    'face',
  ]);
});

it('has the key to the maps beside the first hole where a page would be left there', () => {
  const hole = { id: '1', name: 'Alder', par: 4, tees: [] };
  const book = {
    ...{ title: 'Trees', setting: '', use: layout.use, units: 'imperial', stimp: 3, past: 0.3 },
    ...{ greens: [blankGreen({ id: '1', name: 'Alder', locations: 1 }, layout)], holes: [hole] },
  };
  const kinds = planBook(book as never, layout, measure).map(({ kind }) => kind);
  expect(kinds).toEqual(['cover', 'card', 'conversions', 'hole', 'green']);
});
