import { pointsToMm } from '../../units.js';
import { type GroundFrame, onPaper } from '../green/ground-frame.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { boxesOverlap } from '../labels/box-meeting.js';
import type { Mark, Mm } from '../marks/marks.js';
import type { EdgeLetter } from './quiz-answers.js';

/** Distances from the edge at which a letter is tried, millimetres. */
const LETTER_OFF = [2.8, 4.2, 5.6, 7, 8.4];
const boxAbout = ([x, y]: Mm, width: number, height: number): Cell => ({
  x: x - width / 2,
  y: y - height / 2,
  width,
  height,
});

/** Inside the green, where none is free before its edge. */
const WITHIN = -3;
/** How far letters may stand over their cell, millimetres. */
const BEYOND = 1;
/** Beside the place that it marks, where no room is before it, in heights of the letter. */
const ALONG = [0, 0.9, -0.9, 1.8, -1.8];

/** What letters stand in, and what they keep off. */
interface LetterRoom {
  readonly cell: Cell;
  readonly taken: readonly Cell[];
}

/** The letters round the edge, off what stands there already. */
export const letterMarks = (
  frame: GroundFrame,
  letters: readonly EdgeLetter[],
  size: number,
  { cell, taken }: LetterRoom,
): Mark[] => {
  const high = pointsToMm(size) * 0.72;
  return letters.flatMap(({ letter, at, out }) => {
    const [x, y] = onPaper(frame, at[0], at[1]);
    /** Out of the green, and along its edge by so many times the height of the letter. */
    const place = (off: number, along = 0): Mm => [
      x + out[0] * off + out[1] * along * high,
      y - out[1] * off + out[0] * along * high,
    ];
    const isFree = (at: Mm): boolean =>
      !taken.some((other) => boxesOverlap(boxAbout(at, high, 1.6 * high), other));
    const isInside = ([, top]: Mm): boolean =>
      top - 0.8 * high > cell.y - BEYOND && top + 0.8 * high < cell.y + cell.height + BEYOND;
    const places = ALONG.flatMap((along) =>
      [...LETTER_OFF, WITHIN].map((off) => place(off, along)),
    ).filter(isFree);
    const [cx, cy] = places.find(isInside) ?? places[0] ?? place(LETTER_OFF[0]);
    const [tx, ty] = place(1.2);
    return [
      rule(x, y, tx, ty, stroke(0.2)),
      text([cx, cy + high / 2], letter, 'text-bold', size, { align: 'centre', halo: 0.4 }),
    ];
  });
};
