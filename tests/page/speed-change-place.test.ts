import { describe, expect, it } from 'vitest';
import type { HoleNotes } from '../../src/event/notes-file.js';
import type { Layout } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import {
  type BookContent,
  bareLocation,
  type GreenContent,
  type LocationContent,
} from '../../src/page/book-content.js';
import { planBook } from '../../src/page/book-pages.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { BreakTable, TableCell } from '../../src/putt/putt.js';
import { QUADRANTS } from '../../src/putt/table.js';
import { roundGreen } from '../event/grounds.js';
import { FIT_FOR_TABLES } from '../fit-for-tables.js';

const measure = measureWith(openFonts());

const tableOf = (lengths: readonly number[], stimp: number): BreakTable =>
  ({
    hole: [0, 9],
    settings: { stimp, past: 0.3 },
    fall: [0, -1],
    grade: 0.02,
    lengths,
    cells: QUADRANTS.flatMap((quadrant) =>
      lengths.map(
        (length): TableCell =>
          ({
            ...{ quadrant, length, outcome: 'solved', aimSd: null },
            putt: { aimOffset: 0.1 * stimp * length, pace: length + 1, length, entryClock: 1 },
          }) as unknown as TableCell,
      ),
    ),
  }) as unknown as BreakTable;

const locationsOf = (layout: Layout, count: number): LocationContent[] =>
  Array.from({ length: count }, (_, i) => ({
    ...bareLocation({ name: 'ABCDEFGH'[i], on: 9, in: 8, side: 'left', at: [i - 3, 9] }),
    table: tableOf(layout.tables.lengths, 3),
    atSpeeds: layout.tables.speedSteps.map((step) => tableOf(layout.tables.lengths, 3 + step)),
  }));

const NO_LINES = { bands: [], contours: [], critical: [], divides: [], outlets: [], streams: [] };

const greenOf = (radius: number, locations: readonly LocationContent[]): GreenContent => ({
  holeId: '7',
  name: 'Gull',
  par: 3,
  outline: roundGreen(radius).map(([x, y]) => [0.75 * x, y]),
  reading: {
    ...{ ...NO_LINES, area: 452, arrows: [], sections: [], doubtful: [] },
    bands: [{ from: 0, to: Infinity, polygons: [] }],
  } as unknown as GreenContent['reading'],
  worth: FIT_FOR_TABLES,
  drains: [],
  locations,
  stimp: 3,
  past: 0.3,
});

const pagesOf = (
  layout: Layout,
  green: GreenContent,
  holes: readonly HoleNotes[] = [],
  next: readonly GreenContent[] = [],
): { kind: string; page: Page }[] => {
  const book: BookContent = {
    ...{ title: 'Links', setting: '', use: layout.use, units: 'metric', stimp: 3, past: 0.3 },
    greens: [green, ...next],
    ...(holes.length === 0 ? {} : { notes: { by: null, holes } }),
  };
  return planBook(book, layout, measure)
    .filter(({ kind }) => ['green', 'tables', 'notes'].includes(kind))
    .map((planned) => ({ kind: planned.kind, page: planned.compose() }));
};

const flat = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' || mark.kind === 'clip' ? [mark, ...flat(mark.marks)] : [mark],
  );
const textsOf = ({ marks }: Page) => flat(marks).filter((mark) => mark.kind === 'text');
const hasChange = ({ marks }: Page): boolean =>
  flat(marks).some((mark) => mark.kind === 'group' && /^What .* faster/.test(mark.alt ?? ''));
const tablesOn = ({ marks }: Page): number =>
  flat(marks).filter((mark) => mark.kind === 'group' && /^Breaks to/.test(mark.alt ?? '')).length;

describe.each(['a6', 'pocket'])('what a step of green speed changes, in %s', (name) => {
  const layout = loadLayout(name);
  const shown = (radius: number, count: number) =>
    pagesOf(layout, greenOf(radius, locationsOf(layout, count)))
      .filter(({ kind }) => kind !== 'notes')
      .map(({ kind, page }) => [kind, tablesOn(page), hasChange(page)]);

  it('stands by the green where it leaves room, and nowhere else', () => {
    expect(shown(8, 2)).toEqual([
      ['green', 0, true],
      ['tables', 2, false],
    ]);
  });

  it('else stands below the tables, and on a page of its own where they fill theirs', () => {
    expect(shown(24, 1)).toEqual([
      ['green', 0, false],
      ['tables', 1, true],
    ]);
    const pages = shown(24, 4);
    expect(pages).toEqual([
      ['green', 0, false],
      ['tables', 4, false],
      ['tables', 0, true],
    ]);
  });

  it('keeps clear of the tables above it and inside its page', () => {
    for (const count of [1, 3, 4, 7]) {
      for (const { page } of pagesOf(layout, greenOf(24, locationsOf(layout, count)))) {
        const { height, margins } = { height: page.height, margins: layout.page.margins };
        for (const { at } of textsOf(page)) expect(at[1]).toBeLessThan(height - margins.bottom + 1);
        const tables = flat(page.marks).filter(
          (mark) => mark.kind === 'group' && mark.role === 'table',
        );
        const spans = tables.map((mark) =>
          flat([mark]).flatMap((one) => (one.kind === 'text' ? [one.at[1]] : [])),
        );
        spans.slice(1).forEach((rows, i) => {
          expect(Math.min(...rows) - Math.max(...spans[i])).toBeGreaterThan(2.5);
        });
      }
    }
  });
});

describe('what the notes found on a green', () => {
  const found = Array.from({ length: 8 }, (_, i) => `from ${'abcdefgh'[i]}: 14″ L held; book 9″ L`);
  const noted: HoleNotes = { holeId: '7', text: null, marks: [], putts: [], measured: [], found };
  const told = (pages: readonly { page: Page }[]): string[] => {
    const words = pages.flatMap(({ page }) =>
      textsOf(page)
        .filter(({ face }) => face === 'note')
        .map(({ text }) => text),
    );
    return found.map((line) => `${words.join(' ').split(line).length - 1}`);
  };

  it('stands on pages of notes as far as no other page has room for it, each line once', () => {
    const layout = loadLayout('a6');
    for (const [radius, isLast] of [
      [8, true],
      [24, false],
    ] as const) {
      const green = greenOf(radius, locationsOf(layout, 2));
      const next = { ...green, holeId: '8', name: 'Tern' };
      const pages = pagesOf(layout, green, [noted], isLast ? [] : [next]);
      expect(told(pages)).toEqual(found.map(() => '1'));
      // The next hole begins on the left, as ever.
      const begin = pages.find(({ page }) => page.id === 'green-8')?.page.label ?? 0;
      expect(Number(begin) % 2).toBe(0);
    }
  });

  it('goes on to a second page of notes, and is refused where such a page holds none of it', () => {
    const layout = loadLayout('a6');
    const low = (rows: readonly [number, number]): Layout => ({
      ...layout,
      pages: {
        ...layout.pages,
        notes: layout.pages.notes!.map((one) => (one.module === 'lines' ? { ...one, rows } : one)),
      },
    });
    const green = greenOf(24, locationsOf(layout, 2));
    const pages = pagesOf(low([4, 6]), green, [noted]);
    expect(pages.filter(({ kind }) => kind === 'notes').length).toBeGreaterThan(1);
    expect(told(pages)).toEqual(found.map(() => '1'));
    expect(() => pagesOf(low([4, 4]), green, [{ ...noted, found: ['word '.repeat(40)] }])).toThrow(
      'notes.yaml, hole 7: the note is longer than its room on the page',
    );
  });
});
