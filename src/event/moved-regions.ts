import type { Point, Polygon } from '../geometry.js';
import { insideRing } from '../geometry.js';
import { fieldAt, type GroundGrid, nodeX, nodeY } from '../terrain/ground-grid.js';
import { traceIsolines } from '../terrain/regions/isolines.js';
import { areaOfPolygon, assembleRegion, clipToOutline } from '../terrain/regions/region.js';
import type { MovedDisc } from './disc-scan.js';

/** Connected ground that rose or sank beyond the uncertainty of both surveys. */
export interface MovedRegion {
  readonly polygon: Polygon;
  readonly area: number;
  /** Metres, positive where the ground rose: by the points of both surveys where they are known. */
  readonly meanChange: number;
  /** Standard error of that mean by the points; else the mean standard deviation over the region. */
  readonly meanSd: number;
  /** Where the two surfaces differ most, and by how much. */
  readonly greatestChange: number;
  readonly greatestAt: Point;
  /** A node of the region near its middle. */
  readonly middle: Point;
}

/** What is compared, at the nodes of a grid. */
export interface Compared {
  readonly grid: GroundGrid;
  /** Newer less older, and its standard deviation, metres. */
  readonly difference: Float64Array;
  readonly sd: Float64Array;
}

/** Connected ground on which a field at the nodes lies over a level. */
const regionsAbove = (compared: Compared, field: Float64Array, level: number): MovedRegion[] =>
  groundAbove(compared.grid, field, level).map((ground) => describe(compared, ground));

/** A piece of ground, its area and the nodes in it. */
interface Ground {
  readonly polygon: Polygon;
  readonly area: number;
  readonly nodes: readonly number[];
}

const groundAbove = (grid: GroundGrid, field: Float64Array, level: number): Ground[] => {
  // Asked only where no line meets the outline: then the whole edge is on one side of the level.
  const [edgeX, edgeY] = grid.outline.ring[0];
  const wholeIsIn = fieldAt(grid, field, edgeX, edgeY) >= level;
  const { originX, originY, step, columns, rows } = grid;
  const lines = traceIsolines({ originX, originY, step, columns, rows, value: field }, level);
  const polygons = assembleRegion(grid.outline, clipToOutline(grid.outline, lines), wholeIsIn);
  return polygons.flatMap((polygon) => {
    const nodes: number[] = [];
    for (let n = 0; n < field.length; n++) {
      if (grid.inside[n] === 0 || field[n] < level) continue;
      const x = nodeX(grid, n);
      const y = nodeY(grid, n);
      if (insideRing(polygon[0], x, y) && !polygon.slice(1).some((hole) => insideRing(hole, x, y)))
        nodes.push(n);
    }
    return nodes.length === 0 ? [] : [{ polygon, area: areaOfPolygon(polygon), nodes }];
  });
};

/** The regions of one sign: ground over an edge level that holds a node over the threshold. */
export const regionsOf = (
  compared: Compared,
  sign: 1 | -1,
  edge: number,
  threshold: number,
  leastArea: number,
): MovedRegion[] => {
  const { grid, difference, sd } = compared;
  const score = Float64Array.from(difference, (d, n) =>
    Number.isFinite(sd[n]) ? (sign * d) / sd[n] : 0,
  );
  return groundAbove(grid, score, edge)
    .filter(({ area, nodes }) => area >= leastArea && nodes.some((n) => score[n] > threshold))
    .map((ground) => describe(compared, ground));
};

const describe = (
  { grid, difference, sd }: Compared,
  { polygon, area, nodes }: Ground,
): MovedRegion => {
  let sum = 0;
  let sumSd = 0;
  let [cx, cy] = [0, 0];
  let greatest = nodes[0];
  for (const n of nodes) {
    sum += difference[n];
    sumSd += sd[n];
    cx += nodeX(grid, n);
    cy += nodeY(grid, n);
    if (Math.abs(difference[n]) > Math.abs(difference[greatest])) greatest = n;
  }
  cx /= nodes.length;
  cy /= nodes.length;
  const off = (n: number): number => Math.hypot(nodeX(grid, n) - cx, nodeY(grid, n) - cy);
  const middle = nodes.reduce((best, n) => (off(n) < off(best) ? n : best), nodes[0]);
  return {
    polygon,
    area,
    meanChange: sum / nodes.length,
    meanSd: sumSd / nodes.length,
    greatestChange: difference[greatest],
    greatestAt: [nodeX(grid, greatest), nodeY(grid, greatest)],
    middle: [nodeX(grid, middle), nodeY(grid, middle)],
  };
};

/** A disc as a region, as far as it lies on the green; none where it touches one that is told already. */
export const discRegion = (
  compared: Compared,
  { middle, radius, change, sd }: MovedDisc,
  offset: number,
  told: readonly MovedRegion[],
): MovedRegion[] => {
  const { grid } = compared;
  const inDisc = ([x, y]: Point): boolean => Math.hypot(x - middle[0], y - middle[1]) < radius;
  const touches = told.some(
    ({ polygon: [ring] }) => ring.some(inDisc) || insideRing(ring, middle[0], middle[1]),
  );
  if (touches) return [];
  const inner = Float64Array.from(compared.difference, (_, n) => {
    return radius - Math.hypot(nodeX(grid, n) - middle[0], nodeY(grid, n) - middle[1]);
  });
  return regionsAbove(compared, inner, 0).map((region) => ({
    ...region,
    meanChange: change + offset,
    meanSd: sd,
    middle,
  }));
};
