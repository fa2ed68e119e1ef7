import { DARK, type Mark, PAPER } from '../marks/marks.js';
import { fillPath, rectSteps, text } from './draw.js';
import type { Cell } from './grid.js';

/** Width of the tag, millimetres. */
export const TAG_WIDTH = 5;
const TAG_HEIGHT = 4.6;

/** A hole location's letter, white in a dark tag at the head of what is told of it. */
export const locationTag = (
  name: string,
  { x, y }: Pick<Cell, 'x' | 'y'>,
  base: number,
  size: number,
): Mark[] => [
  fillPath(rectSteps(x, y, TAG_WIDTH, TAG_HEIGHT), DARK),
  text([x + TAG_WIDTH / 2, base], name, 'text-bold', size, { align: 'centre', paint: PAPER }),
];
