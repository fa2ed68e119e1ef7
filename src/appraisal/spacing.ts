import type { Box, Point, Ring } from '../geometry.js';
import { boxOf, boxOfCoordinates, insideRing } from '../geometry.js';

/** How densely points lie, and which ground they leave bare. Metres. */
export interface Spacing {
  /** Points inside the outline. */
  readonly onGreen: number;
  /** Median distance from a point to its nearest neighbour. */
  readonly nearest: number;
  /** Side of the square that each point has to itself on the ground that is covered. */
  readonly mean: number;
  /** Share of the outline's area within `reach` of a point. */
  readonly coverage: number;
  readonly reach: number;
  /** Radius of the largest circle on the green without a point, and its middle. */
  readonly gap: number;
  readonly gapAt: Point;
  /** Middles of squares of `BARE_STEP` that are not covered. */
  readonly bare: readonly Point[];
}

/** Ground counts as covered this near to a point, or 1.5 times the distance of neighbours where that is more. */
const REACH = 2;
export const BARE_STEP = 0.5;

/** Whether a place lies in one of some squares of `BARE_STEP`, given by their middles in one raster. */
export const inSquares = (squares: readonly Point[]): ((at: Point) => boolean) => {
  if (squares.length === 0) return () => false;
  const [[ox, oy]] = squares;
  const keyOf = ([x, y]: Point): string =>
    `${Math.round((x - ox) / BARE_STEP)},${Math.round((y - oy) / BARE_STEP)}`;
  const held = new Set(squares.map(keyOf));
  return (at) => held.has(keyOf(at));
};

/** Neighbour distances are taken at this many points, evenly through the file. */
const SAMPLE = 2000;

interface Buckets {
  readonly box: Box;
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  readonly starts: Int32Array;
  readonly order: Int32Array;
  /** The points that lie in the buckets. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

const bucketsOf = (x: Float64Array, y: Float64Array, cell: number): Buckets => {
  const n = x.length;
  const box = boxOfCoordinates(x, y);
  const columns = Math.floor((box.maxX - box.minX) / cell) + 1;
  const rows = Math.floor((box.maxY - box.minY) / cell) + 1;
  const place = new Int32Array(n);
  const starts = new Int32Array(columns * rows + 1);
  for (let i = 0; i < n; i++) {
    place[i] =
      Math.floor((y[i] - box.minY) / cell) * columns + Math.floor((x[i] - box.minX) / cell);
    starts[place[i] + 1] += 1;
  }
  for (let k = 1; k < starts.length; k++) starts[k] += starts[k - 1];
  const next = starts.slice();
  const order = new Int32Array(n);
  for (let i = 0; i < n; i++) order[next[place[i]]++] = i;
  return { box, cell, columns, rows, starts, order, x, y };
};

/** Distance from (px, py) to the nearest point but `self`; ring by ring of buckets outward. */
const nearestDistance = (b: Buckets, px: number, py: number, self: number): number => {
  const column = Math.floor((px - b.box.minX) / b.cell);
  const row = Math.floor((py - b.box.minY) / b.cell);
  let best = Infinity;
  const outside = Math.max(-column, column - b.columns + 1, -row, row - b.rows + 1, 0);
  const last = outside + Math.max(b.columns, b.rows);
  for (let ring = outside; ring <= last; ring++) {
    if (best <= ((ring - 1) * b.cell) ** 2 && ring > outside) break;
    for (let r = Math.max(0, row - ring); r <= Math.min(b.rows - 1, row + ring); r++) {
      const edge = r === row - ring || r === row + ring;
      const step = edge || ring === 0 ? 1 : 2 * ring;
      for (let c = column - ring; c <= column + ring; c += step) {
        if (c < 0 || c >= b.columns) continue;
        const k = r * b.columns + c;
        for (let i = b.starts[k]; i < b.starts[k + 1]; i++) {
          const at = b.order[i];
          if (at === self) continue;
          const d = (b.x[at] - px) ** 2 + (b.y[at] - py) ** 2;
          if (d < best) best = d;
        }
      }
    }
  }
  return Math.sqrt(best);
};

const median = (values: number[]): number => {
  if (values.length === 0) return 0;
  values.sort((a, b) => a - b);
  return values[values.length >> 1];
};

export const spacingOf = (x: Float64Array, y: Float64Array, outline: Ring): Spacing => {
  const n = x.length;
  const box = boxOf(outline);
  const all = boxOfCoordinates(x, y);
  const area = Math.max(1, (all.maxX - all.minX) * (all.maxY - all.minY));
  // A few points a bucket; no more buckets than four a point.
  const buckets = bucketsOf(x, y, Math.max(0.05, 1.5 * Math.sqrt(area / n)));
  const stride = Math.max(1, Math.floor(n / SAMPLE));
  const distances: number[] = [];
  if (n > 1) {
    for (let i = 0; i < n; i += stride) {
      distances.push(nearestDistance(buckets, x[i], y[i], i));
    }
  }
  const nearest = median(distances);
  const reach = Math.max(REACH, 1.5 * nearest);
  let onGreen = 0;
  for (let i = 0; i < n; i++) if (insideRing(outline, x[i], y[i])) onGreen += 1;
  let inside = 0;
  let gap = 0;
  let gapAt: Point = outline[0];
  const bare: Point[] = [];
  for (let py = box.minY + BARE_STEP / 2; py < box.maxY; py += BARE_STEP) {
    for (let px = box.minX + BARE_STEP / 2; px < box.maxX; px += BARE_STEP) {
      if (!insideRing(outline, px, py)) continue;
      inside += 1;
      const d = nearestDistance(buckets, px, py, -1);
      if (d > reach) bare.push([px, py]);
      if (d > gap) {
        gap = d;
        gapAt = [px, py];
      }
    }
  }
  const covered = inside - bare.length;
  return {
    onGreen,
    nearest,
    mean: onGreen === 0 ? Infinity : Math.sqrt((covered * BARE_STEP * BARE_STEP) / onGreen),
    coverage: inside === 0 ? 0 : covered / inside,
    reach,
    gap,
    gapAt,
    bare,
  };
};
