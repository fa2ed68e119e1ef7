import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';

export const boxesOverlap = (a: Cell, b: Cell): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** Whether a segment has a point inside a box (Liang and Barsky, ACM Trans. Graph. 3 (1984)). */
const segmentMeetsBox = (a: Mm, b: Mm, box: Cell): boolean => {
  let [from, to] = [0, 1];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  for (const [p, q] of [
    [-dx, a[0] - box.x],
    [dx, box.x + box.width - a[0]],
    [-dy, a[1] - box.y],
    [dy, box.y + box.height - a[1]],
  ]) {
    if (p === 0) {
      if (q < 0) return false;
    } else if (p < 0) {
      from = Math.max(from, q / p);
    } else {
      to = Math.min(to, q / p);
    }
    if (from > to) return false;
  }
  return true;
};

export const lineMeetsBox = (line: readonly Mm[], box: Cell): boolean => {
  for (let i = 1; i < line.length; i++) {
    if (segmentMeetsBox(line[i - 1], line[i], box)) return true;
  }
  return false;
};
