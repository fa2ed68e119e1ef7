import { beforeAll, describe, expect, it } from 'vitest';
import { contentOf } from '../../src/book/course-book.js';
import { comparedWords, comparePlayed } from '../../src/book/played-putts.js';
import type { GreenOfBook } from '../../src/book/prepare-green.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readNotes } from '../../src/event/notes-file.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { composeGreenPage } from '../../src/page/green/green-page.js';
import { composeHolePage } from '../../src/page/hole/hole-page.js';
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
    expect(comparedWords(found[3], { units: 'imperial' })).toMatch(
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

  it('is told on the hole’s page in full where the green’s own has no line for it', {
    tags: 'long',
  }, () => {
    const played = [left(solved), left(solved + 1.2 * doubt + 1), left(solved - 1)];
    const notes = notesWith(played);
    const tall = { ...layout.pages };
    const crowded = {
      ...layout,
      pages: {
        ...tall,
        // So low that the green fills it: there is no line over it or under it.
        green: tall.green!.map((one) =>
          one.module === 'green-image' || one.module === 'free-room'
            ? { ...one, rows: [5, 17] as const }
            : one,
        ),
      },
    };
    const of = (which: typeof layout) => {
      const holes = courseFigures(course, null);
      const book = contentOf(course, which, 'imperial', greens, { notes, holes });
      return { layout: which, measure: measureWith(openFonts()), book, label: '1' } as const;
    };
    const wordsFor = (which: typeof layout) => {
      const context = of(which);
      const hole = context.book.holes!.find(({ id }) => id === notes.holes[0].holeId)!;
      return {
        green: textsIn(
          composeGreenPage({ ...context, side: 'right', green: context.book.greens[0] }).marks,
        ).filter((one) => /held; book/.test(one)),
        hole: textsIn(composeHolePage({ ...context, side: 'left', hole }).marks).join(' '),
      };
    };
    const roomy = wordsFor(layout);
    expect(roomy.green.length).toBeGreaterThan(0);
    const told = wordsFor(crowded);
    expect(told.green).toEqual([]);
    expect(told.hole.match(/held; book [^ ]+/g)).toHaveLength(played.length);
    expect(told.hole).toMatch(/±/);
    // With room for a part only, the page shows that part and says how much more stands on the page of notes.
    const full = {
      ...crowded,
      pages: {
        ...crowded.pages,
        hole: tall.hole!.map((one) =>
          one.module === 'note-lines' ? { ...one, rows: [31, 32] as const } : one,
        ),
      },
    };
    const part = wordsFor(full).hole;
    const shown = (part.match(/held; book/g) ?? []).length;
    expect(shown).toBeLessThan(played.length);
    expect(part).toContain(`and ${played.length - shown} more: see the page of notes`);
    // Whatever one page has no line for stands on the other.
    const both = roomy.green.length + (roomy.hole.match(/held; book/g) ?? []).length;
    expect(both).toBe(played.length);
  });
});
