import type { Point } from '../../geometry.js';
import type { GroundGrid } from '../ground-grid.js';
import type { Contour } from '../reading.js';
import { traceIsolines } from './isolines.js';
import { clipToOutline } from './region.js';

/** Contours at whole multiples of the interval, cut at the outline; every `indexEvery`-th is an index contour. */
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
  for (let k = Math.ceil(low / interval); k * interval <= high; k++) {
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
