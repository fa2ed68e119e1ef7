import type { ApproachFigures } from '../../course/approach-figures.js';
import { metresToPaces, pointsToMm } from '../../units.js';
import { columnWidths } from '../kit/column-widths.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { asRoomAllows, moreRow } from '../kit/location-words.js';
import type { GreenPageContext, PageContext, PageModule } from '../kit/page-modules.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { Mark } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';

const paces = (metres: number): string => `${Math.round(metresToPaces(metres))}`;

const COLUMNS: readonly {
  readonly head: 'front' | 'back' | 'left' | 'right' | 'past';
  /** Of the width. */
  readonly share: number;
  readonly value: (row: ApproachFigures, tell: Worded) => string;
}[] = [
  { head: 'front', share: 1, value: (row) => paces(row.front) },
  { head: 'back', share: 1, value: (row) => paces(row.back) },
  { head: 'left', share: 1, value: (row) => paces(row.left) },
  { head: 'right', share: 1, value: (row) => paces(row.right) },
  {
    head: 'past',
    share: 2,
    value: ({ hazard }, tell) =>
      hazard === null
        ? '–'
        : phrase(tell, `approach.${hazard.kind}`, { paces: paces(hazard.beyond) }),
  },
];

/** Between two heads, millimetres. */
const HEAD_GAP = 0.4;
/** The head of the table, in lines. */
const HEAD = 1.1;

/**
 * The approach table: for each hole location the paces from the front, to the back and to either side,
 * and from the far edge of the last hazard (the carry is the distance to the hole less that).
 */
export const approachMarks = (
  rows: readonly ApproachFigures[],
  cell: Cell,
  { layout, book, measure }: PageContext,
): Mark[] => {
  const { table: tableSize, small: smallSize } = layout.type;
  const room = (pitch: number): number => Math.max(1, Math.floor(cell.height / pitch - HEAD));
  const least = pointsToMm(tableSize) * 1.06;
  const { shown, more } = asRoomAllows(rows, room(least));
  const lines = shown.length + (more > 0 ? 1 : 0);
  const step = Math.min(pointsToMm(tableSize) * 1.36, cell.height / (lines + HEAD));
  const nameWidth = 5;
  const columns = rows.some((row) => row.hazard !== null) ? COLUMNS : COLUMNS.slice(0, -1);
  const wide = (words: string): number => measure(words, 'text-italic', smallSize);
  const first = wide(phrase(book, 'approach.paces')) - nameWidth;
  const widths = columnWidths(
    cell.width - nameWidth,
    columns.map(({ share }) => share),
    columns.map(({ head }, i) => {
      const room = i === 0 ? Math.max(0, first) : 0;
      return wide(phrase(book, `approach.${head}`)) + HEAD_GAP + room;
    }),
  );
  const right = (i: number): number =>
    cell.x + nameWidth + widths.slice(0, i + 1).reduce((sum, one) => sum + one, 0);
  const headText = (i: number) => {
    const words = phrase(book, `approach.${columns[i].head}`);
    const room = widths[i] - HEAD_GAP - (i === 0 ? Math.max(0, first) : 0);
    const style = { face: 'text-italic', size: smallSize, least: 6 } as const;
    const { text: said, size } = fitOrShorten(words, room + 0.01, style, measure);
    return text([right(i), cell.y + step * 0.7], said, 'text-italic', size, { align: 'right' });
  };
  const marks: Mark[] = [
    cellGroup(
      { row: 0, column: 0, heads: 'Column' },
      text([cell.x, cell.y + step * 0.7], phrase(book, 'approach.paces'), 'text-italic', smallSize),
    ),
    ...columns.map((_, i) => cellGroup({ row: 0, column: i + 1, heads: 'Column' }, headText(i))),
    rule(cell.x, cell.y + step * 0.92, cell.x + cell.width, cell.y + step * 0.92, stroke(0.12)),
    ...shown.flatMap((row, r) => {
      const base = cell.y + step * (r + 1.75);
      return [
        cellGroup(
          { row: r + 1, column: 0, heads: 'Row' },
          text([cell.x, base], row.name, 'text-bold', tableSize),
        ),
        ...columns.map((column, i) =>
          cellGroup(
            { row: r + 1, column: i + 1 },
            text([right(i), base], column.value(row, book), 'text', tableSize, { align: 'right' }),
          ),
        ),
      ];
    }),
    ...moreRow([cell.x, cell.y + step * (shown.length + 1.75)], more, smallSize, book).map((mark) =>
      cellGroup({ row: shown.length + 1, column: 0, columns: columns.length + 1 }, mark),
    ),
  ];
  return [{ kind: 'group', role: 'table', alt: phrase(book, 'approach.alt'), marks }];
};

/** The approach table of a green's page. */
export const approachModule: PageModule<GreenPageContext> = (context, cell) => {
  const rows = context.green.locations.flatMap(({ approach }) =>
    approach === null ? [] : [approach],
  );
  return rows.length === 0 ? [] : approachMarks(rows, cell, context);
};
