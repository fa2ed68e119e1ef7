import type { TableCell } from '../../putt/putt.js';
import { lengthReading, paceReading } from '../../putt/rounding.js';
import { offsetWords } from '../kit/aim-words.js';
import type { PageContext } from '../kit/page-modules.js';
import { withUnit } from '../kit/unit-words.js';
import type { Face } from '../marks/marks.js';
import { isDoubtfulAim } from '../putts/table-figures.js';
import { phrase, type Telling } from '../words/words.js';

const aimWords = (cell: TableCell, tell: Telling): string => {
  if (cell.putt === null) return '';
  return `${isDoubtfulAim(cell) ? '~' : ''}${offsetWords(cell.putt.aimOffset, tell)}`;
};

/** Where columns begin (that of the pace where it ends), in widths of the table. */
interface Columns {
  readonly aim: number;
  readonly pace: number;
  readonly boxes: number;
  readonly sum: number;
}

/** Words of a table: the first two of its head, and of each row where the ball lies, how it is aimed and its pace. */
export interface RowWords {
  readonly columns: Columns;
  readonly head: readonly [place: string, aim: string];
  readonly rows: readonly (readonly [place: string, aim: string, pace: string])[];
}

/** Least room between words that stand beside each other, mm. */
const GAP = 1;

/** In words that tell the ball's side from that of the aim by themselves, or else, where they have no room, in short ones. */
export const rowWords = (
  { layout, book, measure }: PageContext,
  rows: readonly TableCell[],
  width: number,
): RowWords => {
  const { table: size, small } = layout.type;
  const worded = (columns: Columns, isFull: boolean): RowWords => ({
    columns,
    head: [phrase(book, 'drill.from'), phrase(book, isFull ? 'drill.aim' : 'drill.aim-short')],
    rows: rows.map((row) => {
      const length = withUnit(lengthReading(row.length, book.units), book);
      return [
        isFull
          ? phrase(book, `drill.place-${row.quadrant}`, { length })
          : phrase(book, 'drill.place-short', {
              length,
              quadrant: phrase(book, `quadrant.${row.quadrant}`),
            }),
        aimWords(row, book),
        row.putt === null ? '' : withUnit(paceReading(row.putt.pace, book.units), book),
      ];
    }),
  });
  const full = worded({ aim: 0.27, pace: 0.54, boxes: 0.57, sum: 0.9 }, true);
  const { aim, pace } = full.columns;
  const hasRoom = (share: number, words: readonly [string, Face, number][]): boolean =>
    words.reduce((sum, one) => sum + measure(...one), GAP) <= share * width;
  const fits =
    hasRoom(aim, [[full.head[0], 'text-italic', small]]) &&
    hasRoom(
      pace - aim,
      [full.head[1], phrase(book, 'drill.pace')].map((words) => [words, 'text-italic', small]),
    ) &&
    full.rows.every(
      ([place, way, far]) =>
        hasRoom(aim, [[place, 'text', size]]) &&
        hasRoom(pace - aim, [
          [way, 'text-bold', size],
          [far, 'text', size],
        ]),
    );
  return fits ? full : worded({ aim: 0.235, pace: 0.53, boxes: 0.57, sum: 0.9 }, false);
};
