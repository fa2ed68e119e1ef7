import type { Surface } from '../../surface/surface.js';
import { H, JET_SIZE } from '../../surface/surface.js';
import type { GroundPoint } from '../fall-line.js';
import { lengthOfLine } from '../fall-line.js';
import type { GroundGrid } from '../ground-grid.js';
import { gathering } from './gathering.js';
import type { WaterLine } from './water-line.js';

/** A valley's contours bend by more than this on average over its first metres, 1/m. */
export const VALLEY_BEND = 0.03;
const VALLEY_WINDOW = 2;
/** The ground to both sides of a stream is looked at from this far, metres. */
const VALLEY_REACH = 1.75;

/** Leaves out the top of a line where the contours do not yet bend towards it by more than `bend`, 1/m. */
export const fromValleyHead = (grid: GroundGrid, line: WaterLine, bend: number): WaterLine => {
  const { points } = line;
  const jet = new Float64Array(JET_SIZE);
  const bends = points.map(([x, y]) => gathering(grid.surface, x, y, jet));
  for (let k = 0; k < points.length; k++) {
    let sum = 0;
    let length = 0;
    for (let m = k; m + 1 < points.length && length < VALLEY_WINDOW; m++) {
      const step = Math.hypot(points[m + 1][0] - points[m][0], points[m + 1][1] - points[m][1]);
      sum += step * Math.max(-1, Math.min(1, bends[m]));
      length += step;
    }
    if (length > 0 && sum / length > bend) return { ...line, points: points.slice(k) };
  }
  return { ...line, points: points.slice(-1) };
};

/** The main line without its top on a crown or a spur, as long as most of it is left. */
export const offTheRidge = (grid: GroundGrid, line: WaterLine, leastLength: number): WaterLine => {
  const least = Math.max(leastLength, lengthOfLine(line.points) / 3);
  for (const bend of [VALLEY_BEND / 2, -VALLEY_BEND, -3 * VALLEY_BEND]) {
    const cut = fromValleyHead(grid, line, bend);
    if (lengthOfLine(cut.points) >= least) return cut;
  }
  return line;
};

/**
 * How deep the valley is that a line runs in, metres: the mean height, to both sides, over the line itself.
 */
export const valleyDepth = (surface: Surface, points: readonly GroundPoint[]): number => {
  const jet = new Float64Array(JET_SIZE);
  let sum = 0;
  let length = 0;
  for (let k = 0; k + 1 < points.length; k++) {
    const [ax, ay] = points[k];
    const [bx, by] = points[k + 1];
    const step = Math.hypot(bx - ax, by - ay);
    if (step === 0) continue;
    const nx = (-(by - ay) / step) * VALLEY_REACH;
    const ny = ((bx - ax) / step) * VALLEY_REACH;
    surface.at(ax + nx, ay + ny, jet);
    const left = jet[H];
    surface.at(ax - nx, ay - ny, jet);
    const right = jet[H];
    surface.at(ax, ay, jet);
    sum += step * ((left + right) / 2 - jet[H]);
    length += step;
  }
  return length === 0 ? 0 : sum / length;
};
