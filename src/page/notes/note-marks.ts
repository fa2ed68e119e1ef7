import type { NoteMark } from '../../event/notes-file.js';
import { pointsToMm } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { greenFrame } from '../green/green-image.js';
import { type GroundFrame, onPaper } from '../green/ground-frame.js';
import { text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import type { PageContext, PageModule } from '../kit/page-modules.js';
import type { Mark, MeasureText, Mm } from '../marks/marks.js';
import { noteSign } from './note-signs.js';

/** Half width of a sign on a green, millimetres. */
const SIGN = 1.4;
const CLEAR = 0.7;

/** A mark on a green with its words beside it, on the side where the paper has room. */
const markOnGreen = (
  mark: NoteMark,
  at: Mm,
  cell: Cell,
  size: number,
  measure: MeasureText,
): Mark[] => {
  const marks = noteSign(mark.sign, at, SIGN, mark.clock);
  if (mark.text === null) return marks;
  const width = measure(mark.text, 'note', size);
  const onRight = at[0] + SIGN + CLEAR + width <= cell.x + cell.width;
  const x = onRight ? at[0] + SIGN + CLEAR : at[0] - SIGN - CLEAR;
  return [
    ...marks,
    text([x, at[1] + pointsToMm(size) * 0.3], mark.text, 'note', size, {
      align: onRight ? 'left' : 'right',
      halo: 0.55,
    }),
  ];
};

/** The marks of a hole's notes that have a place on its green, drawn over its image. */
const noteMarksOnGreen = (
  marks: readonly NoteMark[],
  frame: GroundFrame,
  cell: Cell,
  size: number,
  measure: MeasureText,
): Mark[] =>
  marks.flatMap((mark) =>
    mark.at === null
      ? []
      : markOnGreen(mark, onPaper(frame, mark.at[0], mark.at[1]), cell, size, measure),
  );

/** A green with a survey, or by its outline alone. */
type MarkedGreen = PageContext & { readonly green: Pick<GreenContent, 'holeId' | 'outline'> };

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
  const marks = noteMarksOnGreen(notes.marks, frame, cell, layout.type.table, measure);
  if (marks.length === 0) return [];
  const by = book.notes?.by ?? null;
  const alt = by === null ? 'Marks of the notes' : `Marks by ${by}`;
  return [{ kind: 'group', role: 'figure', alt, shows: 'notes', marks }];
};
