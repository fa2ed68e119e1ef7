import { boxOf, type Ring, signedArea } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { H, HX, HXX, HXY, HY, HYY, JET_SIZE } from '../surface/surface.js';
import type { OutlineIndex } from './outline-index.js';
import { fillInside, indexOutline } from './outline-index.js';

/**
 * A surface sampled at the nodes of a square grid, row by row from the lowest y; node (i, j) lies at
 * (originX + i step, originY + j step). Metres. It reaches two cells past the outline.
 */
export interface GroundGrid {
  readonly surface: Surface;
  readonly outline: OutlineIndex;
  readonly originX: number;
  readonly originY: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
  readonly height: Float64Array;
  readonly hx: Float64Array;
  readonly hy: Float64Array;
  readonly hxx: Float64Array;
  readonly hxy: Float64Array;
  readonly hyy: Float64Array;
  /** 1 where the node is on the green. */
  readonly inside: Uint8Array;
  readonly insideCount: number;
}

/** No green is much larger, square metres: nodes on more ground are no more, and stand wider. */
const LARGE = 1600;

/** The distance of nodes that are wanted so far apart on a green of common size. */
export const stepOn = (outline: Ring, step: number): number =>
  step * Math.sqrt(Math.max(1, Math.abs(signedArea(outline)) / LARGE));

export const sampleGround = (surface: Surface, step: number): GroundGrid => {
  const outline = indexOutline(surface.outline, boxOf(surface.outline), step);
  const { originX, originY } = outline;
  const columns = outline.columns + 1;
  const rows = outline.rows + 1;
  const size = columns * rows;
  const height = new Float64Array(size);
  const hx = new Float64Array(size);
  const hy = new Float64Array(size);
  const hxx = new Float64Array(size);
  const hxy = new Float64Array(size);
  const hyy = new Float64Array(size);
  const jet = new Float64Array(JET_SIZE);
  for (let j = 0, n = 0; j < rows; j++) {
    const y = originY + j * step;
    for (let i = 0; i < columns; i++, n++) {
      surface.at(originX + i * step, y, jet);
      height[n] = jet[H];
      hx[n] = jet[HX];
      hy[n] = jet[HY];
      hxx[n] = jet[HXX];
      hxy[n] = jet[HXY];
      hyy[n] = jet[HYY];
    }
  }
  const inside = fillInside(outline);
  let insideCount = 0;
  for (const flag of inside) insideCount += flag;
  return {
    surface,
    outline,
    originX,
    originY,
    step,
    columns,
    rows,
    height,
    hx,
    hy,
    hxx,
    hxy,
    hyy,
    inside,
    insideCount,
  };
};

/** The node nearest to a point, clamped to the grid. */
export const nearestNode = (grid: GroundGrid, x: number, y: number): number => {
  const i = Math.min(grid.columns - 1, Math.max(0, Math.round((x - grid.originX) / grid.step)));
  const j = Math.min(grid.rows - 1, Math.max(0, Math.round((y - grid.originY) / grid.step)));
  return j * grid.columns + i;
};

export const nodeX = (grid: GroundGrid, node: number): number =>
  grid.originX + (node % grid.columns) * grid.step;

export const nodeY = (grid: GroundGrid, node: number): number =>
  grid.originY + Math.floor(node / grid.columns) * grid.step;

/** Bilinear value of a node field at a point inside the grid. */
export const fieldAt = (grid: GroundGrid, field: Float64Array, x: number, y: number): number => {
  const u = (x - grid.originX) / grid.step;
  const v = (y - grid.originY) / grid.step;
  const i = Math.min(grid.columns - 2, Math.max(0, Math.floor(u)));
  const j = Math.min(grid.rows - 2, Math.max(0, Math.floor(v)));
  const s = Math.min(1, Math.max(0, u - i));
  const t = Math.min(1, Math.max(0, v - j));
  const n = j * grid.columns + i;
  const low = field[n] * (1 - s) + field[n + 1] * s;
  const high = field[n + grid.columns] * (1 - s) + field[n + grid.columns + 1] * s;
  return low * (1 - t) + high * t;
};
