import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';
import { boxesOverlap, lineMeetsBox } from './box-meeting.js';

/** What a label inside a drawing must keep off. */
export interface Obstacles {
  readonly boxes: readonly Cell[];
  /** Lines that a label may not lie over: edges of hazards and of the green, leaders. */
  readonly lines: readonly (readonly Mm[])[];
}

/** Whether a box lies inside the bounds and off every obstacle. */
const isFree = (box: Cell, bounds: Cell, { boxes, lines }: Obstacles): boolean =>
  box.x >= bounds.x &&
  box.y >= bounds.y &&
  box.x + box.width <= bounds.x + bounds.width &&
  box.y + box.height <= bounds.y + bounds.height &&
  !boxes.some((other) => boxesOverlap(box, other)) &&
  !lines.some((line) => lineMeetsBox(line, box));

/** The first of the places (middles of the label) at which a label is free; null when none is. */
export const firstFree = (
  places: readonly Mm[],
  width: number,
  height: number,
  bounds: Cell,
  obstacles: Obstacles,
): Cell | null => {
  for (const [x, y] of places) {
    const box: Cell = { x: x - width / 2, y: y - height / 2, width, height };
    if (isFree(box, bounds, obstacles)) return box;
  }
  return null;
};
