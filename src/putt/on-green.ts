import type { Ring } from '../geometry.js';
import { boxOf, insideRing, nearestOnSegment } from '../geometry.js';

/** Tells whether a place lies within an outline. */
export type OnGreen = (x: number, y: number) => boolean;

/** Metres; larger where an outline is so wide that it would take too many. */
const LEAST_CELL = 0.5;
const MOST_CELLS = 160;
const OUTSIDE = 0;
const INSIDE = 1;
const EDGE = 2;

/**
 * A raster of the outline, so that a path's many points cost a look-up each; only cells that the edge
 * crosses ask the ring itself.
 */
const rasterize = (outline: Ring): OnGreen => {
  const { minX, minY, maxX, maxY } = boxOf(outline);
  const cell = Math.max(LEAST_CELL, Math.max(maxX - minX, maxY - minY) / MOST_CELLS);
  const columns = Math.ceil((maxX - minX) / cell) + 1;
  const rows = Math.ceil((maxY - minY) / cell) + 1;
  const kind = new Uint8Array(columns * rows);
  const half = cell / 2;
  const reach = half * Math.SQRT2 + 1e-9;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const a = outline[j];
    const b = outline[i];
    const c0 = Math.max(0, Math.floor((Math.min(a[0], b[0]) - minX) / cell) - 1);
    const c1 = Math.min(columns - 1, Math.floor((Math.max(a[0], b[0]) - minX) / cell) + 1);
    const r0 = Math.max(0, Math.floor((Math.min(a[1], b[1]) - minY) / cell) - 1);
    const r1 = Math.min(rows - 1, Math.floor((Math.max(a[1], b[1]) - minY) / cell) + 1);
    for (let r = r0; r <= r1; r++) {
      for (let c = c0; c <= c1; c++) {
        const x = minX + c * cell + half;
        const y = minY + r * cell + half;
        const [nx, ny] = nearestOnSegment(a, b, [x, y]);
        if (Math.hypot(nx - x, ny - y) <= reach) kind[r * columns + c] = EDGE;
      }
    }
  }
  for (let r = 0; r < rows; r++) {
    // Cells side by side are alike until the edge comes between them.
    let last = EDGE;
    for (let c = 0; c < columns; c++) {
      const at = r * columns + c;
      if (kind[at] !== EDGE) {
        const x = minX + c * cell + half;
        const y = minY + r * cell + half;
        kind[at] = last !== EDGE ? last : insideRing(outline, x, y) ? INSIDE : OUTSIDE;
      }
      last = kind[at];
    }
  }
  return (x, y) => {
    const c = Math.floor((x - minX) / cell);
    const r = Math.floor((y - minY) / cell);
    if (!(c >= 0 && r >= 0 && c < columns && r < rows)) return false;
    const k = kind[r * columns + c];
    return k === EDGE ? insideRing(outline, x, y) : k === INSIDE;
  };
};

const known = new WeakMap<Ring, OnGreen>();

/** The test for an outline, made once for each. */
export const onGreenOf = (outline: Ring): OnGreen => {
  const found = known.get(outline);
  if (found !== undefined) return found;
  const made = rasterize(outline);
  known.set(outline, made);
  return made;
};
