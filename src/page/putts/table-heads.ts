import type { BreakTable } from '../../putt/putt.js';
import { lengthReading } from '../../putt/rounding.js';
import { QUADRANTS } from '../../putt/table.js';
import { text } from '../kit/draw.js';
import { fitOrShorten, fitWording } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { Mark, Mm } from '../marks/marks.js';
import { decimal, phrase, type Telling } from '../words/words.js';
import { type FigureColumn, figureColumns } from './table-columns.js';
import { bareFigure } from './table-figures.js';
import { rowPitch, type TableColumns, type TableStyle } from './table-style.js';

/** What stands over the columns of a break table, and what its key says of them. */

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
