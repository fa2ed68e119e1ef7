import { describe, expect, it } from 'vitest';
import type { Mark } from '../../src/page/marks/marks.js';
import { figureColumns } from '../../src/page/putts/table-columns.js';
import { tableColumns, tableHeight, tableMarks } from '../../src/page/putts/table-module.js';
import { tablesAtSpeeds } from '../../src/putt/table.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { circleRing, plane } from '../surface/analytic.js';

const wordsOf = (marks: readonly Mark[]): string[] =>
  marks.flatMap((mark) =>
    mark.kind === 'group' ? wordsOf(mark.marks) : mark.kind === 'text' ? [mark.text] : [],
  );

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
    const words = wordsOf(tableMarks(location, own, cell, style, [fast]));
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
