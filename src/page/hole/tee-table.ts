import type { TeeFigures } from '../../course/hole-figures.js';
import { pointsToMm } from '../../units.js';
import { columnWidths } from '../kit/column-widths.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { fitOrShorten } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import type { Mark } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import type { HolePageContext } from './hole-page-context.js';
import { shownLength, unitWord } from './hole-words.js';

/** Rows no closer and no farther apart than this, in heights of their type. */
const CLOSEST = 1.04;
const WIDEST = 1.3;
/** Of the width, what the columns of figures take. */
const FIGURES = 0.64;
/** Between two heads, millimetres. */
const HEAD_GAP = 1;

const signed = (metres: number, context: HolePageContext): string => {
  const shown = Math.round(shownLength(metres, context.book.units));
  return shown > 0 ? `+${shown}` : shown < 0 ? `−${-shown}` : '0';
};

/** What a tee's row says: its name, length, change of elevation to the green, and length that it plays as. */
const teeRow = (tee: TeeFigures, withRise: boolean, context: HolePageContext): string[] => {
  const length = Math.round(shownLength(tee.length, context.book.units));
  if (!withRise) return [tee.name, `${length}`];
  if (tee.rise === null) return [tee.name, `${length}`, '–', '–'];
  // Of the figures shown, so that the line adds up.
  const plays = length + Math.round(shownLength(tee.rise, context.book.units));
  return [tee.name, `${length}`, signed(tee.rise, context), `${plays}`];
};

/** Rows of the tees at a pitch that takes them all, if type of their size can stand so close. */
const teeRows = ({ layout, hole }: HolePageContext, height: number) => {
  const type = pointsToMm(layout.type.table);
  const step = Math.max(CLOSEST * type, Math.min(WIDEST * type, height / (hole.tees.length + 1)));
  const room = Math.max(1, Math.floor(height / step + 1e-9) - 1);
  const listed = hole.tees.length <= room ? room : Math.max(1, room - 1);
  return { step, tees: hole.tees.slice(0, listed), more: hole.tees.length - listed };
};

/** The least height in which all tees of a hole have their rows, millimetres. */
export const leastTeesHeight = ({ layout, hole }: HolePageContext): number =>
  CLOSEST * pointsToMm(layout.type.table) * (hole.tees.length + 1);

/** Each tee's figures; of more than have room, how many stand on the card alone. */
export const teeTableMarks = (context: HolePageContext, wide: Cell): Mark[] => {
  // A little room to whatever stands beside the table.
  const cell: Cell = { ...wide, width: wide.width - 2 };
  const { layout, hole, book, measure } = context;
  const { table, small } = layout.type;
  const { step, tees, more } = teeRows(context, cell.height);
  const withRise = hole.tees.some((tee) => tee.rise !== null);
  const unit = unitWord(book);
  const heads = [
    phrase(book, 'hole.tee'),
    unit,
    ...(withRise ? [phrase(book, 'hole.rise', { unit }), phrase(book, 'hole.plays')] : []),
  ];
  const own = heads
    .slice(1)
    .map((head, i) => measure(head, 'text-italic', small) + (i === 0 ? 0 : HEAD_GAP));
  const widths = columnWidths(
    cell.width * FIGURES,
    own.map(() => 1),
    own,
  );
  const x = (i: number): number =>
    i === 0 ? cell.x : cell.x + cell.width - widths.slice(i).reduce((sum, wide) => sum + wide, 0);
  const align = (i: number) => (i === 0 ? ('left' as const) : ('right' as const));
  const base = (r: number): number => cell.y + step * (r + 1.85);
  const headText = (head: string, i: number) => {
    const room = i === 0 ? cell.width * (1 - FIGURES) : widths[i - 1] - (i === 1 ? 0 : HEAD_GAP);
    const style = { face: 'text-italic', size: small, least: 6 } as const;
    const fitted = fitOrShorten(head, room + 0.01, style, measure);
    return text([x(i), cell.y + step * 0.75], fitted.text, 'text-italic', fitted.size, {
      align: align(i),
    });
  };
  const rows = tees.map((tee) => teeRow(tee, withRise, context));
  const longest = Math.max(0, ...rows.map(([, length]) => measure(length, 'text-bold', table)));
  const nameRoom = x(1) - longest - 1.2 - cell.x;
  return [
    {
      kind: 'group',
      role: 'table',
      alt: phrase(book, 'hole.tees', { number: hole.id }),
      marks: [
        ...heads.map((head, i) =>
          cellGroup({ row: 0, column: i, heads: 'Column' }, headText(head, i)),
        ),
        rule(cell.x, cell.y + step, cell.x + cell.width, cell.y + step, stroke(0.15)),
        ...rows.flatMap(([name, ...figures], r) => {
          const tee = fitOrShorten(
            name,
            nameRoom,
            { face: 'text', size: table, least: 6 },
            measure,
          );
          return [
            cellGroup(
              { row: r + 1, column: 0, heads: 'Row' },
              text([cell.x, base(r)], tee.text, 'text', tee.size),
              name,
            ),
            ...figures.map((figure, k) =>
              cellGroup(
                { row: r + 1, column: k + 1 },
                text([x(k + 1), base(r)], figure, k === 0 ? 'text-bold' : 'text', table, {
                  align: 'right',
                }),
              ),
            ),
          ];
        }),
        ...(more > 0
          ? [
              cellGroup(
                { row: rows.length + 1, column: 0, columns: heads.length },
                text(
                  [cell.x, base(tees.length)],
                  phrase(book, 'hole.more', { count: more }),
                  'text-italic',
                  small,
                ),
              ),
            ]
          : []),
      ],
    },
  ];
};
