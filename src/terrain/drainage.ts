import type { Point } from '../geometry.js';
import { distance } from '../geometry.js';
import { H, HXX, HXY, HYY, JET_SIZE } from '../surface/surface.js';
import { levelPointNear } from './critical-points.js';
import type { GroundPoint } from './fall-line.js';
import { followFall } from './fall-line.js';
import type { FlowShares } from './flow-accumulation.js';
import { accumulate, dInfinity } from './flow-accumulation.js';
import type { GroundGrid } from './ground-grid.js';
import { nearestNode, nodeX, nodeY } from './ground-grid.js';
import type { OutlinePlace } from './outline-index.js';
import { crossingsOf } from './outline-index.js';
import type { Flood } from './priority-flood.js';
import { NEIGHBOUR_DX, NEIGHBOUR_DY, priorityFlood } from './priority-flood.js';

/** A closed hollow of the green and where its water goes. Metres. */
export interface Hollow {
  /** The lowest point. */
  readonly at: Point;
  /** Height to which it fills before water leaves it. */
  readonly level: number;
  readonly depth: number;
  /** Where the water runs over; null when a drain takes it. */
  readonly spill: Point | null;
  /** 'shown': so deep that it would hold water, so the survey shows a drain (or an error). */
  readonly drain: 'declared' | 'shown' | null;
}

/** The green as water sees it. */
export interface Drainage {
  readonly grid: GroundGrid;
  readonly flood: Flood;
  readonly shares: FlowShares;
  /** D-infinity contributing area at the nodes, square metres. */
  readonly area: Float64Array;
  readonly hollows: readonly Hollow[];
  readonly drains: readonly Point[];
}

export interface DrainageOptions {
  readonly drains: readonly Point[];
  /** A hollow deeper than this drains through its floor: metres. */
  readonly shownDrainDepth: number;
}

/** A line is caught by a drain it passes this near, metres. */
export const DRAIN_REACH = 0.3;

/** Nodes of the green and the ring of nodes round it, which are the outlets. */
const activeNodes = (grid: GroundGrid): { active: Uint8Array; ring: number[] } => {
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

export const drainGround = (grid: GroundGrid, options: DrainageOptions): Drainage => {
  const { active, ring } = activeNodes(grid);
  const raster = { ...grid, active };
  const drains = options.drains.filter((p) => grid.inside[nearestNode(grid, p[0], p[1])]);
  const outlets = [...ring, ...drains.map((p) => nearestNode(grid, p[0], p[1]))];
  let flood = priorityFlood(raster, outlets);
  const shown: number[] = [];
  const deep = flood.pools.filter(
    (pool) => pool.level - grid.height[pool.bottom] > options.shownDrainDepth,
  );
  if (deep.length > 0) {
    for (const pool of deep) shown.push(pool.bottom);
    flood = priorityFlood(raster, [...outlets, ...shown]);
  }
  const shares = dInfinity(raster, flood);
  const own = new Float64Array(grid.height.length);
  for (let n = 0; n < own.length; n++) if (grid.inside[n]) own[n] = grid.step * grid.step;
  const area = accumulate(flood, shares, own);
  const shownAt: Point[] = shown.map((node) => lowestNear(grid, node));
  const hollows: Hollow[] = flood.pools.map((pool) => {
    const at = lowestNear(grid, pool.bottom);
    const drain = drains.find((p) => nearestNode(grid, p[0], p[1]) === pool.spill);
    const spill = spillNear(grid, pool.spill);
    return {
      at,
      level: pool.level,
      depth: pool.level - grid.height[pool.bottom],
      spill: drain === undefined ? spill : null,
      drain: drain === undefined ? null : 'declared',
    };
  });
  for (let k = 0; k < shown.length; k++) {
    const depth = deep[k].level - grid.height[shown[k]];
    hollows.push({ at: shownAt[k], level: deep[k].level, depth, spill: null, drain: 'shown' });
  }
  return { grid, flood, shares, area, hollows, drains: [...drains, ...shownAt] };
};

const lowestNear = (grid: GroundGrid, node: number): Point => {
  const x = nodeX(grid, node);
  const y = nodeY(grid, node);
  const low = levelPointNear(grid.surface, x, y, grid.step);
  return low !== null && low.kind === 'low' ? low.at : [x, y];
};

const spillNear = (grid: GroundGrid, node: number): Point => {
  const x = nodeX(grid, node);
  const y = nodeY(grid, node);
  const pass = levelPointNear(grid.surface, x, y, grid.step);
  return pass !== null && pass.kind === 'saddle' ? pass.at : [x, y];
};

/** The way of the water from one point. Heights are those of the filled ground. */
export interface WaterLine {
  readonly points: readonly GroundPoint[];
  readonly mouth: 'edge' | 'drain';
  readonly place: OutlinePlace | null;
}

/**
 * The way of the water from (x, y) until it leaves the green or reaches a drain: down the continuous
 * surface, straight over a filled hollow to its spill.
 */
export const traceWater = (drainage: Drainage, x0: number, y0: number): WaterLine => {
  const { grid, flood, drains } = drainage;
  const { surface, outline } = grid;
  const jet = new Float64Array(JET_SIZE);
  const heightAt = (x: number, y: number): number => {
    surface.at(x, y, jet);
    return jet[H];
  };
  const line: GroundPoint[] = [];
  const caught = (x: number, y: number): Point | undefined =>
    drains.find((p) => Math.hypot(p[0] - x, p[1] - y) < DRAIN_REACH);
  const finish = (mouth: 'edge' | 'drain', place: OutlinePlace | null): WaterLine => ({
    points: levelOff(line),
    mouth,
    place,
  });
  const endAtDrain = (drain: Point): WaterLine => {
    line.push([
      drain[0],
      drain[1],
      Math.min(heightAt(drain[0], drain[1]), line[line.length - 1][2]),
    ]);
    return finish('drain', null);
  };
  let x = x0;
  let y = y0;
  for (let leg = 0; leg < 60; leg++) {
    let pool = -1;
    const walk = followFall(surface, outline, x, y, -1, (px, py, h) => {
      if (drains.length > 0 && caught(px, py)) return true;
      const near = flood.pool[nearestNode(grid, px, py)];
      if (near >= 0 && h < flood.pools[near].level) {
        pool = near;
        return true;
      }
      return false;
    });
    for (const p of walk.points) line.push(p);
    if (walk.end === 'edge') return finish('edge', walk.place);
    [x, y] = line[line.length - 1];
    const drain = caught(x, y);
    if (drain !== undefined) return endAtDrain(drain);
    // Over the water, or over ground too level to tell, along the way by which the flood came in.
    let node = pool >= 0 ? nearestNode(grid, x, y) : nearestNode(grid, x, y);
    if (pool < 0) pool = flood.pool[node];
    const level = pool >= 0 ? flood.pools[pool].level : line[line.length - 1][2];
    const way: Point[] = [];
    const floor = level - 1e-4;
    while (flood.parent[node] >= 0 && flood.filled[node] >= floor) {
      node = flood.parent[node];
      way.push([nodeX(grid, node), nodeY(grid, node)]);
    }
    const target = pool >= 0 ? spillNear(grid, flood.pools[pool].spill) : null;
    if (target !== null) {
      const spillNode = flood.pools[pool].spill;
      const spillDrain = drains.find((p) => nearestNode(grid, p[0], p[1]) === spillNode);
      if (spillDrain !== undefined) return endAtDrain(spillDrain);
      const past = way.findIndex(
        (p) => p[0] === nodeX(grid, spillNode) && p[1] === nodeY(grid, spillNode),
      );
      if (past >= 0) way.splice(0, past + 1, target);
    }
    let from: Point = [x, y];
    for (const p of way) {
      const crossing = crossingsOf(outline, from[0], from[1], p[0], p[1])[0];
      if (crossing !== undefined) {
        const [cx, cy] = crossing.point;
        line.push([cx, cy, heightAt(cx, cy)]);
        return finish('edge', crossing.at);
      }
      line.push([p[0], p[1], heightAt(p[0], p[1])]);
      from = p;
    }
    if (way.length === 0) break;
    [x, y] = from;
    if (target !== null && way.length === 1) {
      // Step off the pass on its far side, along its axis of descent.
      const [sx, sy] = offPass(grid, target, way);
      x = sx;
      y = sy;
    }
    line.pop();
  }
  throw new Error(`a water line from (${x0}, ${y0}) did not end`);
};

const offPass = (grid: GroundGrid, pass: Point, _way: readonly Point[]): Point => {
  const jet = new Float64Array(JET_SIZE);
  grid.surface.at(pass[0], pass[1], jet);
  const angle = 0.5 * Math.atan2(2 * jet[HXY], jet[HXX] - jet[HYY]) + Math.PI / 2;
  return [pass[0] + 0.05 * Math.cos(angle), pass[1] + 0.05 * Math.sin(angle)];
};

/** Raises what lies under the water to its level, so that the line never rises: a running maximum from the mouth. */
const levelOff = (line: readonly GroundPoint[]): GroundPoint[] => {
  const out: GroundPoint[] = [];
  let level = -Infinity;
  for (let k = line.length - 1; k >= 0; k--) {
    level = Math.max(level, line[k][2]);
    const last = out[out.length - 1];
    if (last !== undefined && distance([last[0], last[1]], [line[k][0], line[k][1]]) < 1e-9)
      continue;
    out.push([line[k][0], line[k][1], level]);
  }
  return out.reverse();
};
