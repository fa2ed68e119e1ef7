import { boxOf } from '../../geometry.js';
import type { GreenContent } from '../book-content.js';
import type { Cell } from '../kit/grid.js';
import type { GreenPageContext } from '../kit/page-modules.js';
import { frameOnPage } from './green-image.js';
import { type GroundFrame, onPaper } from './ground-frame.js';

/** What stands over and under a green's edge, millimetres: labels, the figures of the paces. */
const OVER = 4;
const UNDER = 7;

/** The ground on paper and the room over and under a green in a cell. */
export interface RoomAbout {
  readonly frame: GroundFrame;
  readonly over: Cell;
  readonly under: Cell;
}

/**
 * The room that a green leaves free in its cell; null where the layout has no picture of it. `above` stays free over
 * what stands below the cell, millimetres.
 */
export const roomAbout = (
  { layout, side }: Pick<GreenPageContext, 'layout' | 'side'>,
  green: Pick<GreenContent, 'outline'>,
  cell: Cell,
  above: number,
): RoomAbout | null => {
  const frame = frameOnPage(green, layout, side);
  if (frame === null) return null;
  const box = boxOf(green.outline);
  const top = onPaper(frame, 0, box.maxY)[1] - OVER;
  const bottom = onPaper(frame, 0, box.minY)[1] + UNDER;
  const foot = cell.y + cell.height - above;
  return {
    frame,
    over: { ...cell, height: Math.max(0, top - cell.y) },
    under: { ...cell, y: bottom, height: Math.max(0, foot - bottom) },
  };
};
