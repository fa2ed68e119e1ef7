import { describe, expect, test } from 'vitest';
import { judgeSurvey } from '../../src/appraisal/judge-survey.js';
import { surveyByHand } from '../../src/course/survey-by-hand.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import type { BookContent, GreenContent } from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import { composeSurveysPage } from '../../src/page/survey/surveys-page.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
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

/** What the page says where it has no room for all. */
const MORE = 'the run that made this book told all of it';

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
      expect(words).not.toContain(MORE);
    },
  );

  test('says so where not all of it finds room', () => {
    expect(wordsFor('a6', 18)).toContain(MORE);
  });

  test.each(['pocket', 'a6', 'practice-large'])(
    'of %s goes on, so that all of it finds room',
    (name) => {
      const layout = loadLayout(name);
      const greens = Array.from({ length: 18 }, (_, i) => poorGreen(i + 1, 0.2));
      const book: BookContent = {
        ...{ title: 'Links', setting: '', use: 'practice', units: 'imperial', stimp: 3, past: 0.3 },
        greens,
      };
      const pages = planBook(book, layout, measure).filter(({ kind }) => kind === 'surveys');
      const words = pages.map(({ compose }) =>
        textMarksOf(compose().marks)
          .map(({ text }) => text)
          .join(' '),
      );
      for (let id = 1; id <= 18; id += 1) {
        expect(words.filter((page) => page.includes(`found: ${id}.3 ft`))).toHaveLength(1);
      }
      expect(words.join(' ')).not.toContain(MORE);
      // Alike greens share their words and their page.
      const alike = greens.map((green) => ({ ...green, worth: greens[0].worth }));
      const one = planBook({ ...book, greens: alike }, layout, measure);
      expect(one.filter(({ kind }) => kind === 'surveys').length).toBeLessThanOrEqual(
        Math.min(2, pages.length),
      );
    },
  );

  test('calls each green as its own page does', () => {
    const layout = loadLayout('pocket');
    const greens = ['7', 'A1', 'practice'].map((holeId, i) => ({
      ...poorGreen(i + 1, 0.2),
      holeId,
    }));
    const book: BookContent = {
      ...{ title: 'Links', setting: '', use: 'practice', units: 'imperial', stimp: 3, past: 0.3 },
      greens,
    };
    const page = composeSurveysPage({
      ...{ layout, measure, book, greens, side: 'left', label: '9', part: 0 },
    });
    const texts = textMarksOf(page.marks).map(({ text }) => text);
    expect(texts.filter((words) => ['7', 'A1', 'P'].includes(words))).toEqual(['7', 'A1', 'P']);
    expect(texts.join(' ')).toMatch(/A1: .*rover, walked on day 2.*P: .*rover, walked on day 3/);
    expect(texts.join(' ')).not.toContain('practice:');
  });

  test('tells of surveys by hand as such, and that no more places would make tables of them', {
    tags: 'long',
  }, () => {
    const layout = loadLayout('pocket');
    const places = Array.from({ length: 60 }, (_, i) => {
      const [on, within] = [1 + 3 * Math.floor(i / 6), 2 + 3 * (i % 3)];
      return `${on},${within},${i % 6 < 3 ? 'left' : 'right'},2.0,6`;
    });
    const outline = Array.from({ length: 40 }, (_, i): [number, number] => {
      const t = (2 * Math.PI * i) / 40;
      return [11 * Math.sin(t), 15 - 15 * Math.cos(t)];
    });
    const frame = { origin: [0, 0], forward: [0, 1] } as const;
    const text = `on,in,side,grade,clock\n${places.join('\n')}\n`;
    const survey = surveyByHand(text, 'sheet.csv', null, outline, frame);
    const { surface, report } = fitSurface({ ...groundOfSurvey(survey), outline });
    const worth = judgeSurvey({ survey, outline, surface, report, reading: null }, 'imperial');
    expect(worth.judged).toBe('arrows');
    expect(worth.reasons.join('; ')).toContain(
      'asked: heights by an instrument; found: a sheet by hand',
    );
    expect(worth.reasons.join('; ')).not.toMatch(/step/);
    expect(worth.mend.join('; ')).toContain('a sheet by hand is worth arrows at most');
    const greens = ['4', '5'].map((holeId, i) => ({ ...poorGreen(i, 0.2), holeId, worth }));
    const book: BookContent = {
      ...{ title: 'Links', setting: '', use: 'practice', units: 'imperial', stimp: 3, past: 0.3 },
      greens,
    };
    const page = composeSurveysPage({
      ...{ layout, measure, book, greens, side: 'left', label: '9', part: 0 },
    });
    const words = textMarksOf(page.marks)
      .map(({ text: one }) => one)
      .join(' ');
    expect(words).toContain('by hand, in paces');
    expect(words).not.toMatch(/when and how not told|error stated/);
  });

  test('rounds the share of doubtful aims as commands do', () => {
    expect(wordsFor('pocket', 1, 0.537)).toContain('54 %');
  });
});
