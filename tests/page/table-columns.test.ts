import { describe, expect, it } from 'vitest';
import type { Layout } from '../../src/layout/layout.js';
import { loadLayout } from '../../src/layout/layout-file.js';
import { cellOf } from '../../src/page/kit/grid.js';
import { textMarksOf } from '../../src/page/marks/mark-texts.js';
import type { Mark, TextMark } from '../../src/page/marks/marks.js';
import { requireSpeedsFit } from '../../src/page/putts/speeds-fit.js';
import { figureColumns } from '../../src/page/putts/table-columns.js';
import { tableHeight, tableMarks } from '../../src/page/putts/table-module.js';
import { tableColumns, tableStyle } from '../../src/page/putts/table-style.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import type { BreakTable, TableCell } from '../../src/putt/putt.js';
import { QUADRANTS, tablesAtSpeeds } from '../../src/putt/table.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { ownLayoutNames } from '../print/sample-pages.js';
import { circleRing, plane } from '../surface/analytic.js';

describe('the columns of a break table', () => {
  it('are aim and pace where there is room for no more', () => {
    expect(figureColumns(21, 7.5, 1).map(({ kind }) => kind)).toEqual(['aim', 'pace']);
  });

  it('add the side of entry and the spread on a wide page, each to the right of the last', () => {
    const columns = figureColumns(41, 10, 2);
    expect(columns.map(({ kind }) => kind)).toEqual(['aim', 'aim', 'pace', 'entry', 'spread']);
    columns.slice(1).forEach(({ end }, i) => {
      expect(end).toBeGreaterThan(columns[i].end + 3);
    });
    expect(columns.at(-1)!.end).toBeLessThanOrEqual(41 - 0.7 + 1e-9);
  });

  it('leave out speeds that find no room, never the own one', () => {
    expect(figureColumns(41, 10, 6).filter(({ kind }) => kind === 'aim').length).toBeLessThan(6);
    expect(figureColumns(4, 10, 3)[0]).toMatchObject({ kind: 'aim', table: 0 });
  });

  it('show the aims of two green speeds side by side: a faster green breaks more', () => {
    const surface = plane(circleRing(14), 0, 0.02);
    const lengths = [feetToMetres(10)];
    const stimps = [10, 12].map(feetToMetres);
    const [own, fast] = tablesAtSpeeds(surface, [0, 0], lengths, stimps, inchesToMetres(12));
    const style = { units: 'imperial', pace: 'level', tableSize: 10, smallSize: 9 } as const;
    const cell = { x: 0, y: 0, width: 172, height: tableHeight(own, style) };
    const location = { name: 'A', at: [0, 0], on: 9, in: 6, side: 'left' } as const;
    const words = textMarksOf(tableMarks(location, own, cell, style, [fast])).map(
      ({ text }) => text,
    );
    expect(words.filter((word) => word === '10').length).toBeGreaterThanOrEqual(4);
    expect(words.filter((word) => word === '12').length).toBeGreaterThanOrEqual(4);
    const side = (table: typeof own): number =>
      Math.abs(table.cells.find(({ quadrant }) => quadrant === 'left')!.putt!.aimOffset);
    expect(side(fast)).toBeGreaterThan(side(own));
    // Facts of the project: 11.8 in of aim from the side at 10 ft, grade 2 %, green speed 10 ft.
    expect(words).toContain('12″');
    expect(words).toContain(`${Math.round(side(fast) / 0.0254)}″`);
    expect(tableColumns(cell).groups).toHaveLength(4);
  });
});

const textsOf = (marks: readonly Mark[]): TextMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' ? textsOf(mark.marks) : mark.kind === 'text' ? [mark] : [],
  );

/** The widest that a table prints: every aim doubtful, just short of a lag, the pace longer than the length by far. */
const widest = (lengths: readonly number[], stimp: number, aimOffset: number): BreakTable =>
  ({
    hole: [0, 0],
    settings: { stimp, past: 0.3 },
    fall: [0, -1],
    grade: 0.033,
    lengths,
    cells: QUADRANTS.flatMap((quadrant) =>
      lengths.map(
        (length): TableCell =>
          ({
            ...{ quadrant, length, outcome: 'solved', aimSd: 1 },
            putt: { aimOffset, pace: length + 11.5, length, entryClock: 11 },
          }) as unknown as TableCell,
      ),
    ),
  }) as unknown as BreakTable;

describe.each(['pocket', 'pocket-wire', 'a6', 'practice-large'])('the tables of %s', (name) => {
  const layout = loadLayout(name);
  const measure = measureWith(openFonts());
  it.each(['metric', 'imperial'] as const)('keep their widest figures apart, %s', (units) => {
    const style = tableStyle(layout, { units });
    const place = layout.pages.tables!.find(({ module }) => module === 'tables')!;
    const { lengths, speedSteps } = layout.tables;
    const speeds = [3, ...speedSteps.map((step) => 3 + step)];
    // Both sides: the letter stands behind each aim whose side is another than the first one's.
    for (const turns of [1, -1]) {
      const tables = speeds.map((stimp, i) => widest(lengths, stimp, i % 2 ? 5.9 : 5.9 * turns));
      const location = { name: 'A', at: [0, 0], on: 33, in: 22, side: 'right' } as const;
      const [own, ...others] = tables;
      const marks = tableMarks(location, own, cellOf(layout, 'left', place), style, others);
      const texts = textsOf(marks);
      for (const base of new Set(texts.map(({ at }) => at[1]))) {
        const row = texts.filter(({ at }) => at[1] === base);
        const spans = row
          .map(({ at, text, face, size, align }) => {
            const width = measure(text, face, size);
            const left =
              align === 'right' ? at[0] - width : align === 'centre' ? at[0] - width / 2 : at[0];
            return { text, left, right: left + width };
          })
          .sort((a, b) => a.left - b.left);
        spans.slice(1).forEach(({ text, left }, i) => {
          expect(left, `${spans[i].text} | ${text}`).toBeGreaterThan(spans[i].right + 0.2);
        });
      }
    }
  });
});

describe('green speeds for which the tables have no room', () => {
  it('are refused with the width that they need; ours have room for theirs', () => {
    for (const name of ownLayoutNames())
      expect(() => requireSpeedsFit(loadLayout(name))).not.toThrow();
    const pocket = loadLayout('pocket');
    const three = { ...pocket, tables: { ...pocket.tables, speedSteps: [-0.3, 0.3] } };
    expect(() => requireSpeedsFit(three)).toThrow(
      /the aims at 3 green speeds need tables \d+\.\d mm wide, and these are 93\.\d mm/,
    );
    // With just that width they are shown, and with less they are not.
    const needed = Number(/tables (\d+\.\d) mm/.exec(String(refusalOf(three)))![1]);
    const shown = (width: number): number =>
      figureColumns(tableColumns({ x: 0, width }, 3).groups[0].width, 7.5, 3).filter(
        ({ kind }) => kind === 'aim',
      ).length;
    expect([shown(needed + 0.06), shown(needed - 0.06)]).toEqual([3, 2]);
  });
});

const refusalOf = (layout: Layout): unknown => {
  try {
    requireSpeedsFit(layout);
    return null;
  } catch (error) {
    return error;
  }
};
