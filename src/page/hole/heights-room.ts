import { type Cell, cellOf } from '../kit/grid.js';
import { foundElsewhere } from '../notes/free-room.js';
import { haveRoom } from '../notes/note-text.js';
import type { HolePageContext } from './hole-page-context.js';
import { type HeightsRoom, hasHeights, heightsOverhead } from './line-heights.js';
import { leastTeesHeight } from './tee-table.js';

/** Heights of the drawing under its words, the first that has room, millimetres. */
const HIGH = [7.5, 6, 5, 4] as const;

/** What the notes found on the hole's green, as far as the green's own page has no line for it. */
export const foundOffGreen = (context: HolePageContext): readonly string[] => {
  const green = context.book.greens.find(({ holeId }) => holeId === context.hole.id);
  return green === undefined ? [] : foundElsewhere({ ...context, green });
};

const moduleCell = ({ layout, side }: HolePageContext, module: string): Cell | null => {
  const placement = (layout.pages.hole ?? []).find((one) => one.module === module);
  return placement === undefined ? null : cellOf(layout, side, placement);
};

/** Where the heights along the line of play stand on a hole's page, and in which module's cell. */
export interface PlacedHeights extends HeightsRoom {
  readonly module: 'note-lines' | 'tees';
}

/**
 * Room for the heights along the line of play: over the notes, lower where those need the room, else under the tees;
 * null where neither has any, or there is nothing to draw.
 */
export const heightsRoom = (context: HolePageContext): PlacedHeights | null => {
  const { hole, layout } = context;
  if (!hasHeights(hole)) return null;
  const words = heightsOverhead(layout.type.small);
  const notes = moduleCell(context, 'note-lines');
  const found = foundOffGreen(context);
  for (const high of notes === null ? [] : HIGH) {
    const taken = words + high;
    const rest = { ...notes!, y: notes!.y + taken, height: notes!.height - taken };
    if (rest.height > 0 && haveRoom(context, hole.id, rest, found)) {
      return { module: 'note-lines', cell: { ...notes!, height: taken }, high };
    }
  }
  const tees = moduleCell(context, 'tees');
  if (tees === null) return null;
  const left = tees.height - leastTeesHeight(context);
  const high = HIGH.find((one) => words + one <= left);
  if (high === undefined) return null;
  const height = words + high;
  // A little room to what stands beside the tees, as their table has it.
  const cell = { ...tees, y: tees.y + tees.height - height, width: tees.width - 2, height };
  return { module: 'tees', cell, high };
};
