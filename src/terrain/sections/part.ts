import { hypotenuse, type Point, type Polygon } from '../../geometry.js';
import type { GroundGrid } from '../ground-grid.js';
import { rowCuts } from '../outline-index.js';
import { areaOfPolygon } from '../regions/region.js';

/** One connected part of a green with what its nodes say of it. Metres; grade as a fraction. */
export interface Part {
  readonly polygon: Polygon;
  readonly area: number;
  readonly nodes: readonly number[];
  readonly centre: Point;
  readonly meanHeight: number;
  readonly lowest: number;
  readonly highest: number;
  readonly meanGrade: number;
  /** Ratio of the longer to the shorter axis of inertia. */
  readonly elongation: number;
}

/** Nodes of the grid inside a polygon (even-odd over all its rings), row by row. */
const nodesInside = (grid: GroundGrid, polygon: Polygon): number[] => {
  const { originX, originY, step, columns, rows } = grid;
  let low = Infinity;
  let high = -Infinity;
  for (const [, y] of polygon[0]) {
    if (y < low) low = y;
    if (y > high) high = y;
  }
  const j0 = Math.max(0, Math.ceil((low - originY) / step));
  const j1 = Math.min(rows - 1, Math.floor((high - originY) / step));
  const nodes: number[] = [];
  const cuts: number[] = [];
  for (let j = j0; j <= j1; j++) {
    const y = originY + j * step;
    rowCuts(polygon, y, cuts);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const from = Math.max(0, Math.ceil((cuts[k] - originX) / step));
      const to = Math.min(columns - 1, Math.floor((cuts[k + 1] - originX) / step));
      for (let i = from; i <= to; i++) nodes.push(j * columns + i);
    }
  }
  return nodes;
};

/** Null for a polygon so thin that no node lies in it. */
export const partOf = (grid: GroundGrid, polygon: Polygon): Part | null => {
  const nodes = nodesInside(grid, polygon);
  if (nodes.length === 0) return null;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  let heights = 0;
  let grades = 0;
  let lowest = Infinity;
  let highest = -Infinity;
  for (const n of nodes) {
    const x = n % grid.columns;
    const y = Math.floor(n / grid.columns);
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
    const h = grid.height[n];
    heights += h;
    if (h < lowest) lowest = h;
    if (h > highest) highest = h;
    grades += hypotenuse(grid.hx[n], grid.hy[n]);
  }
  const count = nodes.length;
  const mx = sx / count;
  const my = sy / count;
  const vxx = sxx / count - mx * mx + 1 / 12;
  const vyy = syy / count - my * my + 1 / 12;
  const vxy = sxy / count - mx * my;
  const mean = (vxx + vyy) / 2;
  const spread = hypotenuse((vxx - vyy) / 2, vxy);
  return {
    polygon,
    area: areaOfPolygon(polygon),
    nodes,
    centre: [grid.originX + mx * grid.step, grid.originY + my * grid.step],
    meanHeight: heights / count,
    lowest,
    highest,
    meanGrade: grades / count,
    elongation: Math.sqrt((mean + spread) / Math.max(1e-9, mean - spread)),
  };
};
