import type { NoteMark } from '../../event/notes-file.js';
import { pointsToMm } from '../../units.js';
import type { GreenContent, OutlinedGreen } from '../book-content.js';
import { greenFrame } from '../green/green-image.js';
import { greenImageStyle, spotCells } from '../green/green-spots.js';
import { type GroundFrame, onPaper } from '../green/ground-frame.js';
import { placeSpotLabels } from '../green/spot-labels.js';
import { text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import type { Mark, MeasureText, Mm } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { noteSign } from './note-signs.js';

/** Half width of a sign on a green, millimetres. */
const SIGN = 1.4;
const CLEAR = 0.7;

/** Height of the hand's letters, of their size. */
const LETTERS = 0.8;
/** The paper that a hole location and its letter take, as a green by its outline shows them, millimetres. */
const LOCATION = { before: 1.3, high: 2.6, wide: 4.2 };

/** A mark of the notes that has a place on its green. */
type PlacedNote = NoteMark & { readonly on: Mm };

/** The paper that a mark's sign takes. */
const signCell = ({ on: [x, y] }: PlacedNote): Cell => ({
  x: x - SIGN,
  y: y - SIGN,
  width: 2 * SIGN,
  height: 2 * SIGN,
});

/**
 * The marks of a hole's notes over the image of its green, each with its words beside it where they cover least
 * of what stands there: hole locations, figures, other marks.
 */
const noteMarksOnGreen = (
  marks: readonly PlacedNote[],
  taken: readonly Cell[],
  cell: Cell,
  size: number,
  measure: MeasureText,
): Mark[] => {
  const worded = marks.flatMap((mark) =>
    mark.text === null ? [] : [{ ...mark, text: mark.text }],
  );
  const boxes = placeSpotLabels(
    worded.map(({ on, text: words }) => ({
      at: on,
      clear: SIGN + CLEAR,
      width: measure(words, 'note', size),
      height: pointsToMm(size) * LETTERS,
      isFigure: /^\d/.test(words),
    })),
    { boxes: [...taken, ...marks.map(signCell)], figures: [] },
    cell,
  );
  return [
    ...marks.flatMap(({ sign, on, clock }) => noteSign(sign, on, SIGN, clock)),
    ...worded.map(({ text: words }, i) =>
      text([boxes[i].x, boxes[i].y + boxes[i].height * 0.87], words, 'note', size, { halo: 0.55 }),
    ),
  ];
};

/** A green with a survey, or by its outline alone. */
type MarkedGreen = PageContext & { readonly green: GreenContent | OutlinedGreen };

/** What stands on the green and is not to be covered. */
const takenOn = (context: MarkedGreen, frame: GroundFrame, cell: Cell): readonly Cell[] => {
  const { green, measure } = context;
  if ('reading' in green) {
    return spotCells(frame, green, greenImageStyle({ ...context, green }), measure, cell);
  }
  const { before, high, wide } = LOCATION;
  return green.locations.map(({ at }): Cell => {
    const [x, y] = onPaper(frame, ...at);
    return { x: x - before, y: y - high / 2, width: wide, height: high };
  });
};

/**
 * Lies over the green image in any cell of the layout: it finds the image's own. A committee edition
 * has no marks.
 */
export const noteMarksModule: PageModule<MarkedGreen> = (context) => {
  const { layout, book, green, side, measure } = context;
  const notes = book.notes?.holes.find((one) => one.holeId === green.holeId);
  const placement = layout.pages.green?.find((one) => one.module === 'green-image');
  if (notes === undefined || placement === undefined || layout.use === 'committee') return [];
  const cell = cellOf(layout, side, placement);
  const frame = greenFrame(green, cell, layout.green.scale);
  const placed = notes.marks.flatMap((mark): PlacedNote[] =>
    mark.at === null ? [] : [{ ...mark, on: onPaper(frame, ...mark.at) }],
  );
  if (placed.length === 0) return [];
  const taken = takenOn(context, frame, cell);
  const marks = noteMarksOnGreen(placed, taken, cell, layout.type.table, measure);
  const by = book.notes?.by ?? null;
  const alt =
    by === null ? phrase(book, 'notes.marks') : phrase(book, 'notes.marks-by', { name: by });
  return [{ kind: 'group', role: 'figure', alt, shows: 'notes', marks }];
};
