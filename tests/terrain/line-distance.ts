import type { Point } from '../../src/geometry.js';
import { nearestOnSegment } from '../../src/geometry.js';

/** Distance from a point to a line of straight pieces. */
export const nearestLineDistance = (
  line: readonly (readonly [number, number, ...number[]])[],
  p: Point,
): number => {
  let best = Infinity;
  for (let k = 0; k + 1 < line.length; k++) {
    const [x, y] = nearestOnSegment([line[k][0], line[k][1]], [line[k + 1][0], line[k + 1][1]], p);
    best = Math.min(best, Math.hypot(x - p[0], y - p[1]));
  }
  return best;
};
