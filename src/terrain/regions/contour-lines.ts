import type { Point } from '../../geometry.js';
import type { GroundGrid } from '../ground-grid.js';
import type { Contour } from '../reading.js';
import { traceIsolines } from './isolines.js';
import { clipToOutline } from './region.js';

/** No green has more: at 5 cm they are 20 m of height. */
const MOST_LEVELS = 400;

/**
 * Contours at whole multiples of the interval, metres, cut at the outline; every `indexEvery`-th is an index
 * contour. Of ground that would have over 400 levels the index contours only, or every so many of those.
 */
export const contourLines = (grid: GroundGrid, interval: number, indexEvery: number): Contour[] => {
  const { height, hx, hy, inside, columns } = grid;
  let low = Infinity;
  let high = -Infinity;
  for (let n = 0; n < height.length; n++) {
    // A node off the green counts where its cell touches the green.
    if (
      !(inside[n] || inside[n + 1] || inside[n + columns] || inside[n - 1] || inside[n - columns])
    )
      continue;
    if (height[n] < low) low = height[n];
    if (height[n] > high) high = height[n];
  }
  const field = { ...grid, value: height, dx: hx, dy: hy };
  const contours: Contour[] = [];
  let stride = 1;
  while (high - low > MOST_LEVELS * stride * interval) stride *= Math.max(2, indexEvery);
  for (let k = stride * Math.ceil(low / (stride * interval)); k * interval <= high; k += stride) {
    const pieces = clipToOutline(grid.outline, traceIsolines(field, k * interval));
    if (pieces.length === 0) continue;
    contours.push({
      height: k * interval,
      index: k % indexEvery === 0,
      lines: pieces.map((piece): readonly Point[] =>
        piece.closed ? [...piece.points, piece.points[0]] : piece.points,
      ),
    });
  }
  return contours;
};
