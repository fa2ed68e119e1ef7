import { HOLE_RADIUS } from '../../putt/capture.js';
import type { ArrivingPutt, BreakTable, Side, TableCell } from '../../putt/putt.js';
import { aimReading, paceChangeReading, paceReading } from '../../putt/rounding.js';
import { QUADRANTS } from '../../putt/table.js';
import { TWO_SIDED_95 } from '../../surface/normal-distribution.js';
import { feetToMetres, type UnitSystem } from '../../units.js';
import { text } from '../kit/draw.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { CellPlace, Mark, Mm } from '../marks/marks.js';
import { decimal, phrase, type Telling } from '../words/words.js';
import { type FigureColumn, figureColumns } from './table-columns.js';
import type { TableColumns, TableStyle } from './table-style.js';

/** The figures of a break table: aims and paces as they are printed. */

export const isDoubtfulAim = (cell: TableCell): boolean =>
  cell.aimSd !== null && TWO_SIDED_95 * cell.aimSd > HOLE_RADIUS;

/** From this far beside the hole on nobody aims: such a putt is rolled to lie near; metres. Ours, no source. */
const LAG = { imperial: feetToMetres(20), metric: 6 };

/** Whether the aim is a figure that helps nobody. */
const isLag = ({ putt }: TableCell, units: UnitSystem): boolean =>
  putt !== null && Math.abs(putt.aimOffset) >= LAG[units];

/** The words of a table's key for its lag putts; none where it has none. */
export const lagWords = (tables: readonly BreakTable[], tell: Telling): string[] =>
  tables.some(({ cells }) => cells.some((cell) => isLag(cell, tell.units)))
    ? [phrase(tell, `tables.lag-${tell.units}`)]
    : [];

/** "11 in" as 11″, "3½ ft" as 3½′; centimetres bare, metres as bare centimetres, too: 1.3 m as 130. */
export const shortFigure = (figure: string): string =>
  figure
    .replace(/ in$/, '″')
    .replace(/ ft$/, '′')
    .replace(/ cm$/, '')
    .replace(
      /^(\d+)\.(\d) m$/,
      (_, whole: string, tenth: string) => `${Number(whole + tenth) * 10}`,
    );

/** What the aims of a table are, for its key. */
export const aimKeyWords = (tell: Telling): string => phrase(tell, `tables.aim-${tell.units}`);

/** The unit of a column stands in the key below the tables. */
export const bareFigure = (figure: string): string => figure.replace(/ (ft|m)$/, '');

/** The side that is printed with an aim; null where none is. */
const sideOf = (cell: TableCell, units: UnitSystem): Side | null =>
  cell.putt === null || isLag(cell, units) ? null : aimReading(cell.putt.aimOffset, units).side;

/** An aim with its side, one cell. */
const aimMarks = (
  cell: TableCell,
  at: { readonly end: number; readonly base: number; readonly place: CellPlace },
  style: TableStyle,
  first: TableCell,
): Mark[] => {
  if (cell.putt === null) return [];
  const { end, base, place } = at;
  const size = style.tableSize;
  const aim = aimReading(cell.putt.aimOffset, style.units);
  if (isLag(cell, style.units)) {
    return [
      cellGroup(
        place,
        text([end, base], phrase(style, 'putt.lag'), 'text-italic', size, { align: 'right' }),
      ),
    ];
  }
  const words = `${isDoubtfulAim(cell) ? '~' : ''}${shortFigure(aim.figure)}`;
  const own = cell === first;
  const marks = [text([end, base], words, own ? 'text-bold' : 'text', size, { align: 'right' })];
  // The side stands once, where it is one and the same at every speed.
  if (aim.side !== 'straight' && (own || aim.side !== sideOf(first, style.units))) {
    marks.push(
      text([end + 0.5, base], phrase(style, aim.side === 'left' ? 'aim.L' : 'aim.R'), 'text', size),
    );
  }
  const whole =
    aim.side === 'straight' ? undefined : phrase(style, `aim.${aim.side}`, { figure: words });
  return [cellGroup(place, marks, whole)];
};

/** The figure of a column that does not hang on the green speed. */
const figureWords = (
  kind: 'pace' | 'entry' | 'spread',
  putt: ArrivingPutt,
  aimSd: number | null,
  { units, pace }: TableStyle,
): string => {
  if (kind === 'pace') {
    return pace === 'change'
      ? paceChangeReading(putt.pace, putt.length, units)
      : bareFigure(paceReading(putt.pace, units));
  }
  if (kind === 'entry') return `${Math.round(putt.entryClock) || 12}`;
  return aimSd === null ? '' : shortFigure(aimReading(TWO_SIDED_95 * aimSd, units).figure);
};

/** What a column of a quadrant holds, by name. */
const columnKey = (column: FigureColumn): string =>
  column.kind === 'aim' ? `aim ${column.table}` : column.kind;

/** The columns of a quadrant, by name. */
export const shownColumns = (
  { groups, speeds }: TableColumns,
  { tableSize }: TableStyle,
): string[] => figureColumns(groups[0].width, tableSize, speeds).map(columnKey);

/** All columns of a table, that of the lengths among them. */
export const columnCount = (columns: TableColumns, style: TableStyle): number =>
  1 + QUADRANTS.length * shownColumns(columns, style).length;

/** Where the figures of a quadrant stand: on paper, and in the table with its first column and all that it has. */
interface QuadrantPlace {
  readonly base: number;
  readonly row: number;
  readonly first: number;
  readonly shown: readonly string[];
}

/** The figures of one length in one quadrant; `cells` are the same putt at each green speed, own first. */
export const quadrantFigures = (
  cells: readonly TableCell[],
  group: { readonly x: number; readonly width: number },
  { base, row, first, shown }: QuadrantPlace,
  style: TableStyle,
): Mark[] => {
  const [own] = cells;
  const size = style.tableSize;
  const align = 'right' as const;
  if (own.outcome !== 'solved' && own.outcome !== 'no-pace') return [];
  if (own.outcome === 'no-pace' || own.putt === null) {
    const at: Mm = [group.x + group.width - 1.2, base];
    return [
      cellGroup(
        { row, column: first, columns: shown.length },
        text(at, phrase(style, 'putt.no-pace'), 'text-italic', size, { align }),
      ),
    ];
  }
  const { putt, aimSd } = own;
  return figureColumns(group.width, size, cells.length).flatMap((column): Mark[] => {
    const end = group.x + column.end;
    const place = { row, column: first + Math.max(0, shown.indexOf(columnKey(column))) };
    if (column.kind === 'aim') {
      const at = cells[column.table];
      return at.outcome === 'no-pace'
        ? [
            cellGroup(
              place,
              text([end, base], '–', 'text', size, { align }),
              phrase(style, 'putt.no-pace'),
            ),
          ]
        : aimMarks(at, { end, base, place }, style, own);
    }
    const words = decimal(figureWords(column.kind, putt, aimSd, style), style);
    return words === ''
      ? []
      : [cellGroup(place, text([end, base], words, 'text', size, { align }))];
  });
};
