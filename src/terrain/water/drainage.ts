import type { Point } from '../../geometry.js';
import { distance } from '../../geometry.js';
import { H, JET_SIZE } from '../../surface/surface.js';
import type { GroundGrid } from '../ground-grid.js';
import { nearestNode, nodeX, nodeY } from '../ground-grid.js';
import { levelPointNear } from '../points/critical-points.js';
import type { GroundGraph } from '../points/persistence.js';
import { edgeExtreme } from '../points/rim.js';
import type { Hollow } from '../reading.js';
import { catchmentScratch, type Drainage, type Pool, type Spill } from './drained-ground.js';
import { accumulate, dInfinity } from './flow-accumulation.js';
import type { Flood, RasterPool } from './priority-flood.js';
import { NEIGHBOUR_DX, NEIGHBOUR_DY, priorityFlood } from './priority-flood.js';

export interface DrainageOptions {
  readonly drains: readonly Point[];
  /** A hollow deeper than this would stand under water after rain, which no green is built to do: it is taken for one with a drain; metres. */
  readonly shownDrainDepth: number;
}

/** A line is caught by a drain that it passes this near, metres. */
export const DRAIN_REACH = 0.3;

/** Nodes of the green, and the ring of nodes round it, which are the outlets. */
export const activeNodes = (
  grid: Pick<GroundGrid, 'inside' | 'columns' | 'rows'>,
): { active: Uint8Array; ring: number[] } => {
  const { inside, columns, rows } = grid;
  const active = Uint8Array.from(inside);
  const ring: number[] = [];
  for (let j = 1; j < rows - 1; j++) {
    for (let i = 1; i < columns - 1; i++) {
      const n = j * columns + i;
      if (inside[n]) continue;
      for (let k = 0; k < 8; k++) {
        if (inside[n + NEIGHBOUR_DY[k] * columns + NEIGHBOUR_DX[k]]) {
          active[n] = 1;
          ring.push(n);
          break;
        }
      }
    }
  }
  return { active, ring };
};

export const drainGround = (
  grid: GroundGrid,
  graph: GroundGraph,
  options: DrainageOptions,
): Drainage => {
  const { active, ring } = activeNodes(grid);
  const raster = { ...grid, active };
  const declared = options.drains.filter((p) => grid.inside[nearestNode(grid, p[0], p[1])]);
  const outlets = [...ring, ...declared.map((p) => nearestNode(grid, p[0], p[1]))];
  let flood = priorityFlood(raster, outlets);
  const deep = flood.pools.filter(
    (pool) => pool.level - grid.height[pool.bottom] > options.shownDrainDepth,
  );
  const shown: Point[] = deep.map((pool) => lowestNear(grid, pool.bottom));
  if (deep.length > 0) {
    flood = priorityFlood(raster, [...outlets, ...deep.map((pool) => pool.bottom)]);
  }
  const shares = dInfinity(raster, flood);
  const own = new Float64Array(grid.height.length);
  for (let n = 0; n < own.length; n++) if (grid.inside[n]) own[n] = grid.step * grid.step;
  const drains = [...declared, ...shown];
  const pools = flood.pools.map((pool): Pool => {
    const spill = spillOf(grid, graph, drains, pool);
    return { level: levelOver(grid, flood, pool, spill), spill };
  });
  const hollows = [
    ...flood.pools.map((pool, k): Hollow => {
      const { level, spill } = pools[k];
      return {
        at: lowestNear(grid, pool.bottom),
        level,
        depth: level - grid.height[pool.bottom],
        spill: spill.drain === null ? spill.at : null,
        drain: spill.drain === null ? null : 'declared',
      };
    }),
    ...deep.map(
      (pool, k): Hollow => ({
        at: shown[k],
        level: pool.level,
        depth: pool.level - grid.height[pool.bottom],
        spill: null,
        drain: 'shown',
      }),
    ),
  ];
  return {
    grid,
    flood,
    shares,
    area: accumulate(flood, shares, own),
    pools,
    hollows,
    drains,
    scratch: catchmentScratch(grid.height.length),
  };
};

const lowestNear = (grid: GroundGrid, node: number): Point => {
  const x = nodeX(grid, node);
  const y = nodeY(grid, node);
  const low = levelPointNear(grid.surface, x, y, grid.step);
  return low !== null && low.kind === 'low' ? low.at : [x, y];
};

/**
 * The height that water must reach to go from the bottom of a pool to its spill, along the way by which
 * the flood came in. (The grid's own level misses sills between its nodes.)
 */
const levelOver = (grid: GroundGrid, flood: Flood, pool: RasterPool, spill: Spill): number => {
  if (spill.drain !== null) return pool.level;
  const jet = new Float64Array(JET_SIZE);
  const way: Point[] = [spill.at];
  const chain: Point[] = [];
  for (let node = pool.bottom; node !== pool.spill; node = flood.parent[node]) {
    chain.push([nodeX(grid, node), nodeY(grid, node)]);
  }
  way.push(...chain.reverse());
  let level = -Infinity;
  for (let k = 0; k < way.length; k++) {
    const [ax, ay] = way[k];
    const [bx, by] = way[Math.min(k + 1, way.length - 1)];
    for (const t of [0, 0.25, 0.5, 0.75]) {
      grid.surface.at(ax + t * (bx - ax), ay + t * (by - ay), jet);
      level = Math.max(level, jet[H]);
    }
  }
  return level;
};

/** The pool's spill, moved from the grid's node to the saddle or the lowest place of the edge that it stands for. */
const spillOf = (
  grid: GroundGrid,
  graph: GroundGraph,
  drains: readonly Point[],
  pool: RasterPool,
): Spill => {
  const x = nodeX(grid, pool.spill);
  const y = nodeY(grid, pool.spill);
  const drain = drains.find((p) => nearestNode(grid, p[0], p[1]) === pool.spill) ?? null;
  if (drain !== null) return { at: drain, place: null, pass: false, drain };
  if (!grid.inside[pool.spill]) {
    let best = -1;
    for (let k = graph.gridCount; k < graph.count; k++) {
      if (distance([graph.x[k], graph.y[k]], [x, y]) > 2 * grid.step) continue;
      if (best < 0 || graph.height[k] < graph.height[best]) best = k;
    }
    if (best >= 0) {
      const { at, place } = edgeExtreme(grid.surface, graph, best, -1);
      return { at, place, pass: false, drain: null };
    }
  }
  const pass = levelPointNear(grid.surface, x, y, grid.step);
  const found = pass !== null && pass.kind === 'saddle';
  return { at: found ? pass.at : [x, y], place: null, pass: found, drain: null };
};
