import type { Box } from '../geometry.js';
import type { DrawnPage, DrawnText } from './drawn-page.js';

/** The part of a text's box that its letters fill, so that close lines do not count as touching. */
const lettersOf = ({ box, size }: DrawnText): Box => ({
  minX: box.minX + 0.3,
  maxX: box.maxX - 0.3,
  minY: box.minY + 0.3 * size,
  maxY: box.maxY - 0.12 * size,
});

const touch = (a: Box, b: Box): boolean =>
  Math.min(a.maxX, b.maxX) > Math.max(a.minX, b.minX) &&
  Math.min(a.maxY, b.maxY) > Math.max(a.minY, b.minY);

/** All pairs of boxes that touch, by their order; each box is laid beside those only that begin before it ends. */
const touchingPairs = (boxes: readonly Box[]): (readonly [number, number])[] => {
  const byLeft = boxes.map((_, i) => i).sort((a, b) => boxes[a].minX - boxes[b].minX || a - b);
  const pairs: [number, number][] = [];
  byLeft.forEach((i, at) => {
    for (let k = at + 1; k < byLeft.length && boxes[byLeft[k]].minX < boxes[i].maxX; k++) {
      const j = byLeft[k];
      if (touch(boxes[i], boxes[j])) pairs.push(i < j ? [i, j] : [j, i]);
    }
  });
  return pairs.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
};

/** Pairs of texts of a page, by their order, that run into each other. */
export const textsThatTouch = ({
  texts,
  touching,
}: DrawnPage): readonly (readonly [number, number])[] =>
  touching ?? touchingPairs(texts.map(lettersOf));
