import { foundOffHole } from '../hole/hole-page.js';
import { cellOf } from '../kit/grid.js';
import type { PageContext } from '../kit/page-modules.js';
import { foundElsewhere } from './free-room.js';
import { foundInCells, linesPlacement } from './note-text.js';

/** What the notes found on a hole and none of its pages has room for. */
const leftOver = (context: PageContext, holeId: string): readonly string[] => {
  const { book, layout } = context;
  const hole = (book.holes ?? []).find(({ id }) => id === holeId);
  if (hole !== undefined && layout.pages.hole !== undefined) {
    return foundOffHole({ ...context, hole });
  }
  const green = book.greens.find((one) => one.holeId === holeId);
  return green === undefined ? [] : foundElsewhere({ ...context, green });
};

/**
 * What the notes found on a hole and its pages have no room for, by the pages of notes that it needs; none where
 * the layout has no such pages.
 *
 * @throws InputFault where such a page does not hold a single line of it.
 */
export const foundPages = (context: PageContext, holeId: string): string[][] => {
  const placement = linesPlacement(context.layout);
  if (placement === undefined) return [];
  const cell = cellOf(context.layout, context.side, placement);
  return foundInCells(context, holeId, cell, leftOver(context, holeId));
};
