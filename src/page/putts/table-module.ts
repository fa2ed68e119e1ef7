import type { HoleLocation } from '../../course/course.js';
import type { Layout } from '../../layout/layout.js';
import { HOLE_RADIUS } from '../../putt/capture.js';
import type { ArrivingPutt, BreakTable, Side, TableCell } from '../../putt/putt.js';
import { aimReading, lengthReading, paceChangeReading, paceReading } from '../../putt/rounding.js';
import { QUADRANTS } from '../../putt/table.js';
import { TWO_SIDED_95 } from '../../surface/normal-distribution.js';
import { feetToMetres, pointsToMm, type UnitSystem } from '../../units.js';
import { fallArrow } from '../green/fall-arrow.js';
import { fillPath, rectSteps, rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { locationWords } from '../kit/location-words.js';
import { fitOrShorten, fitWording } from '../kit/paragraph.js';
import { captionGroup, cellGroup } from '../kit/read-aloud.js';
import type { CellPlace, Mark, MeasureText, Mm } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { decimal, phrase, type Telling } from '../words/words.js';
import { type FigureColumn, figureColumns, LENGTH_ROOM } from './table-columns.js';

const HAIRLINE = 0.12;
/** Height of a table's own heading, millimetres. */
const HEAD = 5;

export interface TableStyle extends Telling {
  /** How pace is told; see `Layout.tables`. */
  readonly pace: Layout['tables']['pace'];
  /** Points. */
  readonly tableSize: number;
  readonly smallSize: number;
  /** For heads that must fit between their columns; left out where no heads are set. */
  readonly measure?: MeasureText | undefined;
}

/** As a layout has it. */
export const tableStyle = (
  layout: Layout,
  { units, words }: Telling,
  measure?: MeasureText,
): TableStyle => ({
  units,
  words,
  measure,
  pace: layout.tables.pace,
  tableSize: layout.type.table,
  smallSize: layout.type.small,
});

/** Height of a row, millimetres. */
export const rowPitch = (style: TableStyle): number => pointsToMm(style.tableSize) * 1.22;

/** Height of one location's table, millimetres. */
export const tableHeight = (table: BreakTable, style: TableStyle): number =>
  HEAD + rowPitch(style) * (table.lengths.length + 2);

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

export interface TableColumns {
  /** Green speeds that have a column of aims. */
  readonly speeds: number;
  readonly length: number;
  readonly groups: readonly { readonly x: number; readonly width: number }[];
}

export const tableColumns = (cell: Pick<Cell, 'x' | 'width'>, tables = 1): TableColumns => {
  const lengthWidth = tables > 1 ? LENGTH_ROOM.narrow : LENGTH_ROOM.wide;
  const width = (cell.width - lengthWidth) / QUADRANTS.length;
  return {
    speeds: tables,
    length: cell.x + lengthWidth - (tables > 1 ? 0.9 : 1.6),
    groups: QUADRANTS.map((_, i) => ({ x: cell.x + lengthWidth + i * width, width })),
  };
};

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
const bareFigure = (figure: string): string => figure.replace(/ (ft|m)$/, '');

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
const shownColumns = ({ groups, speeds }: TableColumns, { tableSize }: TableStyle): string[] =>
  figureColumns(groups[0].width, tableSize, speeds).map(columnKey);

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
const quadrantFigures = (
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

const columnWord = (kind: FigureColumn['kind'], style: TableStyle): string =>
  phrase(
    style,
    kind === 'pace' && style.pace === 'change' ? 'tables.pace-change-head' : `tables.${kind}-head`,
  );

/** Between two heads, millimetres. */
const HEAD_GAP = 0.5;

/** The head of a column, shortened to the room that the one before it leaves. */
const fittedHead = (words: string, room: number, style: TableStyle): string => {
  const { measure, smallSize: size } = style;
  if (measure === undefined) return words;
  const sizes = { face: 'text-italic', size, least: size } as const;
  const wordings = [words, ...(words === columnWord('pace', style) ? [paceShort(style)] : [])];
  return (
    fitWording(wordings, room, sizes, measure)?.text ??
    fitOrShorten(words, room, sizes, measure).text
  );
};

const paceShort = (style: TableStyle): string =>
  phrase(style, style.pace === 'change' ? 'tables.pace-change-short' : 'tables.pace-short');

/** How the lengths and paces of a table are to be read, for its key. */
export const paceKeyWords = (style: TableStyle): string =>
  phrase(style, style.pace === 'change' ? 'tables.pace-change' : 'tables.pace', {
    unit: phrase(style, style.units === 'metric' ? 'unit.metres' : 'unit.feet'),
  });

/** A green speed as a bare figure. */
const speedFigure = (table: BreakTable, tell: Telling): string =>
  decimal(bareFigure(lengthReading(table.settings.stimp, tell.units)), tell);

/** What stands over the aims at each green speed, own first: none where there is one speed only. */
export const speedHeads = (tables: readonly BreakTable[], tell: Telling): string[] =>
  tables.length > 1 ? tables.map((table) => speedFigure(table, tell)) : [];

/** The quadrants over their columns, two rows high. `heads`: of the aims at each green speed, own first. */
export const quadrantHeadings = (
  columns: TableColumns,
  top: number,
  style: TableStyle,
  heads: readonly string[] = [],
): readonly Mark[] => {
  const pitch = rowPitch(style);
  const base = top + pitch * 0.78;
  return columns.groups.flatMap(({ x, width }, i) => {
    const shown = figureColumns(width, style.tableSize, heads.length);
    const first = 1 + i * shown.length;
    return [
      cellGroup(
        { row: 0, column: first, columns: shown.length, heads: 'Column' },
        text(
          [x + width / 2, base],
          phrase(style, `quadrant.${QUADRANTS[i]}`),
          'text-bold',
          style.smallSize,
          {
            align: 'centre',
          },
        ),
      ),
      ...shown.map((column, k) => {
        const head = column.kind === 'aim' ? heads[column.table] : undefined;
        const before = k === 0 ? 0 : shown[k - 1].end;
        const whole = head ?? columnWord(column.kind, style);
        const words = fittedHead(whole, column.end - before - (k === 0 ? 0 : HEAD_GAP), style);
        const at: Mm = [x + column.end, base + pitch * 0.9];
        return cellGroup(
          { row: 1, column: first + k, heads: 'Column' },
          text(at, words, 'text-italic', style.smallSize, { align: 'right' }),
          words === whole ? undefined : whole,
        );
      }),
    ];
  });
};

/** What the columns hold beyond aim and pace, in words for the key; none on narrow pages. */
export const columnWords = (
  width: number,
  style: TableStyle,
  tables: readonly BreakTable[],
): string[] => {
  const columns = figureColumns(width, style.tableSize, tables.length);
  const words: string[] = [];
  if (columns.filter(({ kind }) => kind === 'aim').length > 1) {
    words.push(phrase(style, 'tables.speeds', { speed: speedFigure(tables[0], style) }));
  }
  if (columns.some(({ kind }) => kind === 'entry')) {
    words.push(phrase(style, 'tables.entry'), phrase(style, 'tables.spread'));
  }
  return words;
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
