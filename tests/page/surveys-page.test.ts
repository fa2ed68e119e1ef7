import { describe, expect, test } from 'vitest';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import { composeSurveysPage } from '../../src/page/survey/surveys-page.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';
import { blankGreen } from './blank-greens.js';

const measure = measureWith(openFonts());

const poorGreen = (id: number, doubtful: number): GreenContent => ({
  ...blankGreen({ id: `${id}`, name: `Hole ${id}`, locations: 0 }, loadLayout('pocket')),
  worth: {
    ...FIT_FOR_TABLES,
    ...{ worth: 'arrows', judged: 'arrows', doubtfulCells: doubtful },
    surveyed: `rover, walked on day ${id}`,
    reasons: [
      `asked: points no more than 7.2 ft apart; found: ${id}.3 ft, and more of the same kind`,
    ],
    mend: ['points no more than 6.6 ft apart'],
  },
});

const wordsFor = (layoutName: string, count: number, doubtful = 0.2): string => {
  const layout = loadLayout(layoutName);
  const greens = Array.from({ length: count }, (_, i) => poorGreen(i + 1, doubtful));
  const book: BookContent = {
    ...{ title: 'Links', setting: '', use: 'practice', units: 'imperial', stimp: 3, past: 0.3 },
    greens,
  };
  const page = composeSurveysPage({
    ...{ layout, measure, book, greens, side: 'left', label: '9', part: 0 },
  });
  return textMarksOf(page.marks)
    .map(({ text }) => text)
    .join(' ');
};

describe('the page of surveys', () => {
  test.each(['pocket', 'pocket-glued', 'a6', 'practice-large'])(
    'of %s has room under few rows for what each green lacks',
    (layout) => {
      const words = wordsFor(layout, 6);
      for (let id = 1; id <= 6; id += 1) expect(words).toContain(`found: ${id}.3 ft`);
      expect(words).not.toContain('runnel book tells more');
    },
  );

  test('says so where not all of it finds room', () => {
    expect(wordsFor('a6', 18)).toContain('runnel book tells more');
  });

  test('rounds the share of doubtful aims as commands do', () => {
    expect(wordsFor('pocket', 1, 0.537)).toContain('54 %');
  });
});
