import { beforeAll, describe, expect, it } from 'vitest';
import { contentOf } from '../../src/book/course-book.js';
import { comparedWords, comparePlayed } from '../../src/book/played-putts.js';
import type { GreenOfBook } from '../../src/book/prepare-green.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readNotes } from '../../src/event/notes-file.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { composeGreenPage } from '../../src/page/green/green-page.js';
import type { Mark } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { solvePutt } from '../../src/putt/solve.js';
import { spreadOfPutt } from '../../src/putt/spread.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import { feetToMetres, metresToInches } from '../../src/units.js';
import { prepareDemo } from '../fitted-demo.js';

const course = loadCourse('course-data/vellamoor');
const layout = loadLayout('pocket');
const { past } = layout.tables;

const notesWith = (aims: readonly string[]) =>
  readNotes(
    `notes:\n  - hole: 2\n    putts:\n${aims
      .map((aim) => `      - { from: { on: 8, left: 9 }, to: A, aim: ${aim}, speed: 9ft }\n`)
      .join('')}`,
    'notes.yaml',
    course,
  );

const textsIn = (marks: readonly Mark[]): string[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip'
      ? textsIn(mark.marks)
      : mark.kind === 'text' && mark.face === 'note'
        ? [mark.text]
        : [],
  );

describe('a putt that was holed', () => {
  let greens: GreenOfBook[];
  /** Inches, positive left: what the solver says at the speed noted, and half its interval of 95 %. */
  let solved: number;
  let doubt: number;
  const left = (inches: number): string =>
    `${Math.abs(inches).toFixed(2)} in ${inches < 0 ? 'right' : 'left'}`;
  beforeAll(async () => {
    greens = await prepareDemo(['2']);
    const [{ ball, hole }] = notesWith(['straight']).holes[0].putts;
    const settings = { stimp: feetToMetres(9), past };
    const surface = surfaceOfStored(greens[0].fit.surface);
    const putt = solvePutt(surface, ball, hole, settings);
    expect(putt.status).toBe('holed');
    solved = metresToInches(putt.aimOffset);
    doubt = 1.96 * metresToInches(spreadOfPutt(surface, putt, settings)!.aimSd);
  });

  it('is compared with the solved one at the same speed, and with the survey’s interval', () => {
    const aims = [solved, solved + 0.9 * doubt, solved - 0.9 * doubt, solved + 1.2 * doubt + 1];
    const found = comparePlayed(notesWith(aims.map(left)), greens, past);
    expect(found.map(({ within }) => within)).toEqual([true, true, true, false]);
    for (const one of found) {
      expect(metresToInches(one.solved!)).toBeCloseTo(solved, 2);
      expect(metresToInches(one.doubt!)).toBeCloseTo(doubt, 2);
    }
    expect(comparedWords(found[3], 'imperial')).toMatch(
      /^\d+″ [LR] held; book (0|\d+″ [LR]) ± \d+″?, outside$/,
    );
  });

  it('is printed in the hand: its mark at the ball, and both aims on the lines of the green’s page', () => {
    const notes = notesWith([left(solved + 1.2 * doubt + 1)]);
    const book = contentOf(course, layout, 'imperial', greens, { notes });
    const page = (of: typeof layout) =>
      composeGreenPage({
        layout: of,
        measure: measureWith(openFonts()),
        book,
        side: 'left',
        label: '1',
        green: book.greens[0],
      });
    const words = textsIn(page(layout).marks);
    expect(words).toHaveLength(2);
    expect(words.some((one) => /, book /.test(one))).toBe(true);
    expect(words.some((one) => /^8 on, 9 left to A: .* held; book .*, outside$/.test(one))).toBe(
      true,
    );
    expect(textsIn(page({ ...layout, use: 'committee' }).marks)).toEqual([]);
  });
});
