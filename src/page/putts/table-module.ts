import type { HoleLocation } from '../../course/course.js';
import type { BreakTable } from '../../putt/putt.js';
import { lengthReading } from '../../putt/rounding.js';
import { QUADRANTS } from '../../putt/table.js';
import { fallArrow } from '../green/fall-arrow.js';
import { fillPath, rectSteps, rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { locationWords } from '../kit/location-words.js';
import { captionGroup, cellGroup } from '../kit/read-aloud.js';
import type { Mark } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { decimal, phrase } from '../words/words.js';
import { bareFigure, quadrantFigures, shownColumns } from './table-figures.js';
import { quadrantHeadings, speedHeads } from './table-heads.js';
import { rowPitch, type TableColumns, type TableStyle, tableColumns } from './table-style.js';

const HAIRLINE = 0.12;
/** Height of a table's own heading, millimetres. */
const HEAD = 5;

/** Height of one location's table, millimetres. */
export const tableHeight = (table: BreakTable, style: TableStyle): number =>
  HEAD + rowPitch(style) * (table.lengths.length + 2);

const headingMarks = (
  location: HoleLocation,
  table: BreakTable,
  cell: Cell,
  style: TableStyle,
): Mark[] => {
  const size = style.tableSize + 1;
  const base = cell.y + 3.3;
  const right = cell.x + cell.width;
  const place = locationWords(location, style);
  const falls = phrase(style, 'tables.falls', { percent: (table.grade * 100).toFixed(1) });
  return [
    fillPath(rectSteps(cell.x, cell.y, 4.6, 4.2), DARK),
    captionGroup(`${location.name}: ${place}, ${falls}`, [
      text([cell.x + 2.3, base - 0.1], location.name, 'text-bold', size, {
        align: 'centre',
        paint: PAPER,
      }),
      text([cell.x + 6, base], place, 'text-bold', size),
      text([right - 5.4, base], falls, 'text', size, { align: 'right' }),
    ]),
    fallArrow([right - 2.3, cell.y + 2.2], [table.fall[0], -table.fall[1]], 0.045),
  ];
};

/** A row a length, the figures of a quadrant side by side, between the rules of `cell`; `tables`: at each green speed, own first. */
export const tableRows = (
  tables: readonly [BreakTable, ...BreakTable[]],
  columns: TableColumns,
  cell: Pick<Cell, 'x' | 'y' | 'width'>,
  style: TableStyle,
  firstRow: number,
): readonly Mark[] => {
  const [table] = tables;
  const shown = shownColumns(columns, style);
  const pitch = rowPitch(style);
  const right = cell.x + cell.width;
  const bottom = cell.y + pitch * table.lengths.length;
  const marks: Mark[] = [];
  table.lengths.forEach((length, i) => {
    const row = firstRow + i;
    const y = cell.y + pitch * i;
    const base = y + pitch * 0.76;
    const words = decimal(bareFigure(lengthReading(length, style.units)), style);
    marks.push(
      rule(cell.x, y, right, y, stroke(HAIRLINE)),
      cellGroup(
        { row, column: 0, heads: 'Row' },
        text([columns.length, base], words, 'text', style.tableSize, { align: 'right' }),
      ),
    );
    QUADRANTS.forEach((quadrant, q) => {
      const found = tables.flatMap(({ cells }) =>
        cells.filter((c) => c.quadrant === quadrant && c.length === length),
      );
      if (found.length === 0) return;
      const place = { base, row, first: 1 + q * shown.length, shown };
      marks.push(...quadrantFigures(found, columns.groups[q], place, style));
    });
  });
  marks.push(rule(cell.x, bottom, right, bottom, stroke(0.3)));
  return marks;
};

/** The break table of one hole location, with its aims at other green speeds: its heading, the quadrants, a row a length. */
export const tableMarks = (
  location: HoleLocation,
  table: BreakTable,
  cell: Cell,
  style: TableStyle,
  others: readonly BreakTable[],
): Mark[] => {
  const columns = tableColumns(cell, 1 + others.length);
  const pitch = rowPitch(style);
  const top = cell.y + HEAD;
  const bottom = top + pitch * (table.lengths.length + 2);
  const marks: Mark[] = [
    ...headingMarks(location, table, cell, style),
    rule(cell.x, top, cell.x + cell.width, top, stroke(0.3)),
    ...columns.groups.map(({ x }) => rule(x, top + 0.6, x, bottom, stroke(HAIRLINE))),
    ...quadrantHeadings(columns, top, style, speedHeads([table, ...others], style)),
    ...tableRows([table, ...others], columns, { ...cell, y: top + 2 * pitch }, style, 2),
  ];
  return [
    {
      kind: 'group',
      role: 'table',
      alt: phrase(style, 'tables.alt', { name: location.name }),
      shows: 'putts',
      marks,
    },
  ];
};
