import type { ApproachFigures } from '../../course/approach-figures.js';
import { metresToPaces, pointsToMm } from '../../units.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { asRoomAllows, moreRow } from '../kit/location-words.js';
import type { GreenPageContext, PageModule } from '../kit/page-modules.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { Mark } from '../marks/marks.js';

const paces = (metres: number): string => `${Math.round(metresToPaces(metres))}`;

const COLUMNS: readonly {
  readonly head: string;
  /** Of the width. */
  readonly share: number;
  readonly value: (row: ApproachFigures) => string;
}[] = [
  { head: 'front', share: 1, value: (row) => paces(row.front) },
  { head: 'back', share: 1, value: (row) => paces(row.back) },
  { head: 'left', share: 1, value: (row) => paces(row.left) },
  { head: 'right', share: 1, value: (row) => paces(row.right) },
  {
    head: 'past hazard',
    share: 2,
    value: (row) => (row.hazard === null ? '–' : `${row.hazard.kind} ${paces(row.hazard.beyond)}`),
  },
];

/** The head of the table, in lines. */
const HEAD = 1.1;

/**
 * The approach table: for each hole location the paces from the front, to the back and to either side,
 * and from the far edge of the last hazard (the carry is the distance to the hole less that).
 */
export const approachMarks = (
  rows: readonly ApproachFigures[],
  cell: Cell,
  tableSize: number,
  smallSize: number,
): Mark[] => {
  const room = (pitch: number): number => Math.max(1, Math.floor(cell.height / pitch - HEAD));
  const least = pointsToMm(tableSize) * 1.06;
  const { shown, more } = asRoomAllows(rows, room(least));
  const lines = shown.length + (more > 0 ? 1 : 0);
  const step = Math.min(pointsToMm(tableSize) * 1.36, cell.height / (lines + HEAD));
  const nameWidth = 5;
  const columns = rows.some((row) => row.hazard !== null) ? COLUMNS : COLUMNS.slice(0, -1);
  const shares = columns.reduce((sum, column) => sum + column.share, 0);
  const unit = (cell.width - nameWidth) / shares;
  const right = (i: number): number =>
    cell.x +
    nameWidth +
    unit * columns.slice(0, i + 1).reduce((sum, column) => sum + column.share, 0);
  const marks: Mark[] = [
    cellGroup(
      { row: 0, column: 0, heads: 'Column' },
      text([cell.x, cell.y + step * 0.7], 'paces', 'text-italic', smallSize),
    ),
    ...columns.map((column, i) =>
      cellGroup(
        { row: 0, column: i + 1, heads: 'Column' },
        text([right(i), cell.y + step * 0.7], column.head, 'text-italic', smallSize, {
          align: 'right',
        }),
      ),
    ),
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
            text([right(i), base], column.value(row), 'text', tableSize, { align: 'right' }),
          ),
        ),
      ];
    }),
    ...moreRow([cell.x, cell.y + step * (shown.length + 1.75)], more, smallSize).map((mark) =>
      cellGroup({ row: shown.length + 1, column: 0, columns: columns.length + 1 }, mark),
    ),
  ];
  return [{ kind: 'group', role: 'table', alt: 'The approach to each hole location', marks }];
};

/** The approach table of a green's page. */
export const approachModule: PageModule<GreenPageContext> = ({ layout, green }, cell) => {
  const rows = green.locations.flatMap(({ approach }) => (approach === null ? [] : [approach]));
  return rows.length === 0 ? [] : approachMarks(rows, cell, layout.type.table, layout.type.small);
};
