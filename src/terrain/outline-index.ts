import type { Box, Point, Ring } from '../geometry.js';
import { insideRing, signedArea } from '../geometry.js';

/** A place on the outline: edge i runs from vertex i to vertex i + 1, t in [0, 1] along it. */
export interface OutlinePlace {
  readonly edge: number;
  readonly t: number;
}

/** The outline, counter-clockwise, with its edges filed by the cells of a square grid that they pass through. */
export interface OutlineIndex {
  readonly ring: Ring;
  readonly originX: number;
  readonly originY: number;
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  /** Edges of cell c: edges[starts[c]] to edges[starts[c + 1] - 1]. */
  readonly starts: Int32Array;
  readonly edges: Int32Array;
}

/** How many cells the grid reaches past the box of the outline on each side. */
const MARGIN_CELLS = 2;

export const counterClockwise = (ring: Ring): Ring =>
  signedArea(ring) < 0 ? [...ring].reverse() : ring;

/** @param cell side of a cell, metres. The grid covers `box` grown by two cells; its lines are multiples of `cell`. */
export const indexOutline = (outline: Ring, box: Box, cell: number): OutlineIndex => {
  const ring = counterClockwise(outline);
  const originX = (Math.floor(box.minX / cell) - MARGIN_CELLS) * cell;
  const originY = (Math.floor(box.minY / cell) - MARGIN_CELLS) * cell;
  const columns = Math.ceil((box.maxX - originX) / cell) + MARGIN_CELLS;
  const rows = Math.ceil((box.maxY - originY) / cell) + MARGIN_CELLS;
  const pairs: [cellIndex: number, edge: number][] = [];
  const slack = cell * 1e-6;
  for (let edge = 0; edge < ring.length; edge++) {
    const [ax, ay] = ring[edge];
    const [bx, by] = ring[(edge + 1) % ring.length];
    const i0 = Math.floor((Math.min(ax, bx) - slack - originX) / cell);
    const i1 = Math.floor((Math.max(ax, bx) + slack - originX) / cell);
    const j0 = Math.floor((Math.min(ay, by) - slack - originY) / cell);
    const j1 = Math.floor((Math.max(ay, by) + slack - originY) / cell);
    const nx = by - ay;
    const ny = ax - bx;
    const reach = ((Math.abs(nx) + Math.abs(ny)) * (cell + 2 * slack)) / 2;
    for (let j = j0; j <= j1; j++) {
      for (let i = i0; i <= i1; i++) {
        const cx = originX + (i + 0.5) * cell - ax;
        const cy = originY + (j + 0.5) * cell - ay;
        if (Math.abs(cx * nx + cy * ny) <= reach) pairs.push([j * columns + i, edge]);
      }
    }
  }
  const starts = new Int32Array(columns * rows + 1);
  for (const [c] of pairs) starts[c + 1]++;
  for (let c = 0; c < columns * rows; c++) starts[c + 1] += starts[c];
  const fill = starts.slice();
  const edges = new Int32Array(pairs.length);
  for (const [c, edge] of pairs) edges[fill[c]++] = edge;
  return { ring, originX, originY, cell, columns, rows, starts, edges };
};

const cellAt = (index: OutlineIndex, x: number, y: number): number => {
  const i = Math.floor((x - index.originX) / index.cell);
  const j = Math.floor((y - index.originY) / index.cell);
  if (i < 0 || j < 0 || i >= index.columns || j >= index.rows) return -1;
  return j * index.columns + i;
};

/** Where a segment crosses the outline. `along` is the fraction of the segment, `at` the place on the outline. */
interface Crossing {
  readonly along: number;
  readonly at: OutlinePlace;
  readonly point: Point;
}

/** All crossings of segment p-q with the outline, in order from p. Segments of a few cells at most are cheap. */
export const crossingsOf = (
  index: OutlineIndex,
  px: number,
  py: number,
  qx: number,
  qy: number,
): Crossing[] => {
  const { ring, originX, originY, cell, columns, rows, starts, edges } = index;
  const i0 = Math.max(0, Math.floor((Math.min(px, qx) - originX) / cell));
  const i1 = Math.min(columns - 1, Math.floor((Math.max(px, qx) - originX) / cell));
  const j0 = Math.max(0, Math.floor((Math.min(py, qy) - originY) / cell));
  const j1 = Math.min(rows - 1, Math.floor((Math.max(py, qy) - originY) / cell));
  let seen: number[] | null = null;
  let found: Crossing[] | null = null;
  const dx = qx - px;
  const dy = qy - py;
  for (let j = j0; j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const c = j * columns + i;
      for (let k = starts[c]; k < starts[c + 1]; k++) {
        const edge = edges[k];
        if (seen?.includes(edge)) continue;
        seen ??= [];
        seen.push(edge);
        const [ax, ay] = ring[edge];
        const [bx, by] = ring[edge + 1 === ring.length ? 0 : edge + 1];
        // Half-open sides, so that a segment through a vertex crosses once.
        const sideA = dx * (ay - py) - dy * (ax - px) >= 0;
        const sideB = dx * (by - py) - dy * (bx - px) >= 0;
        if (sideA === sideB) continue;
        const ex = bx - ax;
        const ey = by - ay;
        const sideP = ex * (py - ay) - ey * (px - ax) >= 0;
        const sideQ = ex * (qy - ay) - ey * (qx - ax) >= 0;
        if (sideP === sideQ) continue;
        const cross = dx * ey - dy * ex;
        const along = Math.min(1, Math.max(0, ((ax - px) * ey - (ay - py) * ex) / cross));
        const t = Math.min(1, Math.max(0, ((ax - px) * dy - (ay - py) * dx) / cross));
        found ??= [];
        found.push({ along, at: { edge, t }, point: [ax + t * ex, ay + t * ey] });
      }
    }
  }
  if (found === null) return [];
  return found.length === 1 ? found : found.sort((a, b) => a.along - b.along);
};

/** Whether the cell of a point has outline in it; true off the grid, where nothing is known. */
const isNearOutline = (index: OutlineIndex, x: number, y: number): boolean => {
  const c = cellAt(index, x, y);
  return c < 0 || index.starts[c + 1] > index.starts[c];
};

/** The place of the outline nearest to a point, and the point there. */
const nearestPlace = (
  { ring }: OutlineIndex,
  x: number,
  y: number,
): { place: OutlinePlace; point: Point } => {
  let best = { place: { edge: 0, t: 0 }, point: ring[0] };
  let least = Infinity;
  for (let edge = 0; edge < ring.length; edge++) {
    const [ax, ay] = ring[edge];
    const dx = ring[(edge + 1) % ring.length][0] - ax;
    const dy = ring[(edge + 1) % ring.length][1] - ay;
    const square = dx * dx + dy * dy;
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square));
    const point: Point = [ax + t * dx, ay + t * dy];
    const d = Math.hypot(point[0] - x, point[1] - y);
    if (d >= least) continue;
    least = d;
    best = { place: { edge, t }, point };
  }
  return best;
};

/**
 * Where a step from a point on the green leaves it; null where it does not. A start on the edge itself
 * crosses at once: that is no exit, unless the step leads straight out.
 */
export const exitOf = (
  index: OutlineIndex,
  px: number,
  py: number,
  qx: number,
  qy: number,
): { place: OutlinePlace; point: Point } | null => {
  const length = Math.hypot(qx - px, qy - py);
  const crossings = crossingsOf(index, px, py, qx, qy);
  const exit = crossings.find(({ along }) => along * length > 1e-6);
  if (exit !== undefined) return { place: exit.at, point: exit.point };
  // A step that crosses nothing ends on the side where it began, unless it ends by the outline.
  if (crossings.length === 0 && !isNearOutline(index, qx, qy)) return null;
  if (insideRing(index.ring, qx, qy)) return null;
  // Out over a vertex, or from the edge itself.
  let inside = 0;
  let outside = 1;
  for (let round = 0; round < 24; round++) {
    const t = (inside + outside) / 2;
    if (insideRing(index.ring, px + t * (qx - px), py + t * (qy - py))) inside = t;
    else outside = t;
  }
  return nearestPlace(index, px + inside * (qx - px), py + inside * (qy - py));
};

/** Where a row at y cuts the rings, from left to right, written over `cuts`: each pair encloses what is inside (even-odd). */
export const rowCuts = (rings: readonly Ring[], y: number, cuts: number[]): void => {
  cuts.length = 0;
  for (const ring of rings) {
    for (let a = 0, b = ring.length - 1; a < ring.length; b = a++) {
      // By index: asked of every row.
      const ya = ring[a][1];
      const yb = ring[b][1];
      if (ya > y === yb > y) continue;
      const xa = ring[a][0];
      cuts.push(((ring[b][0] - xa) * (y - ya)) / (yb - ya) + xa);
    }
  }
  cuts.sort((p, q) => p - q);
};

/** Even-odd row fill: 1 for the nodes of the grid that lie inside the ring. Node (i, j) is at the corner of cell (i, j). */
export const fillInside = (index: OutlineIndex): Uint8Array => {
  const { ring, originX, originY, cell, columns, rows } = index;
  const width = columns + 1;
  const inside = new Uint8Array(width * (rows + 1));
  const cuts: number[] = [];
  for (let j = 0; j <= rows; j++) {
    const y = originY + j * cell;
    rowCuts([ring], y, cuts);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const from = Math.max(0, Math.ceil((cuts[k] - originX) / cell));
      const to = Math.min(columns, Math.floor((cuts[k + 1] - originX) / cell));
      for (let i = from; i <= to; i++) inside[j * width + i] = 1;
    }
  }
  return inside;
};
