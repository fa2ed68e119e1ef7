import type { Point } from '../../geometry.js';
import { distance } from '../../geometry.js';
import { H, JET_SIZE } from '../../surface/surface.js';
import type { GroundPoint, Walk, WalkLimits } from '../fall-line.js';
import { followFall, WALK } from '../fall-line.js';
import { nearestNode, nodeX, nodeY } from '../ground-grid.js';
import type { OutlinePlace } from '../outline-index.js';
import { exitOf } from '../outline-index.js';
import { DRAIN_REACH } from './drainage.js';
import type { Drainage } from './drained-ground.js';
import { offPass, shoreBetween, straighten, underWater } from './over-water.js';
import { bend, direction } from './smooth-way.js';

/** The way of the water from one point. Heights are those of the filled ground, so they never rise. */
export interface WaterLine {
  readonly points: readonly GroundPoint[];
  readonly mouth: 'edge' | 'drain';
  /** Where on the outline it leaves; null at a drain. */
  readonly place: OutlinePlace | null;
}

const LEGS = 40;
/** Points of a way over water lie at most this far apart, metres. */
const WAY_SPACING = 0.25;

/** A line as it is drawn, from its start on. */
interface Trace {
  readonly drainage: Drainage;
  readonly line: GroundPoint[];
  /** Pools that it has crossed. */
  readonly visited: Set<number>;
  readonly jet: Float64Array;
  readonly limits: WalkLimits;
}

/** What a leg of the way leads to: the mouth, or the place where the next one starts. */
type Leg =
  | { readonly kind: 'mouth'; readonly whole: WaterLine }
  | { readonly kind: 'onward'; readonly at: Point }
  /** Nothing falls from here: the rest of the way is the flood's. */
  | { readonly kind: 'lost'; readonly at: Point };

/**
 * The way of the water from (x, y) until it leaves the green or reaches a drain: down the continuous
 * surface, over a filled hollow straight to its spill, and from there down again.
 */
export const traceWater = (
  drainage: Drainage,
  x: number,
  y: number,
  limits: WalkLimits = WALK,
): WaterLine => {
  const jet = new Float64Array(JET_SIZE);
  const trace: Trace = { drainage, line: [], visited: new Set(), jet, limits };
  let at: Point = [x, y];
  for (let count = 0; count < LEGS; count++) {
    const leg = nextLeg(trace, at);
    if (leg.kind === 'mouth') return leg.whole;
    at = leg.at;
    if (leg.kind === 'lost') break;
  }
  // A low place within a cell of the edge, or more legs than any green has hollows.
  return byFlood(trace, at);
};

/** Down from a place, over the pool that lies there, and over level ground beyond. */
const nextLeg = (trace: Trace, from: Point): Leg => {
  const { drainage, line } = trace;
  const { grid, flood } = drainage;
  const first = line.length;
  const { walk, pool } = wayDown(trace, from);
  // One by one: a call takes only so many arguments.
  for (const point of walk.points) line.push(point);
  if (walk.end === 'edge') return atEdge(trace, walk.place);
  const end = lastOf(trace);
  const drain = drainNear(drainage, end[0], end[1]);
  if (drain !== undefined) return atDrain(trace, drain);
  const node = nearestNode(grid, end[0], end[1]);
  const here = flood.pool[node];
  if (pool >= 0) return overPool(trace, pool, node, first);
  if (here >= 0 && !trace.visited.has(here)) return overPool(trace, here, node, first);
  return overLevel(trace, end, node);
};

/** The fall line as far as a drain or a pool that the line has not crossed; the pool, or -1. */
const wayDown = (
  { drainage, visited, limits }: Trace,
  from: Point,
): { readonly walk: Walk; readonly pool: number } => {
  const { grid, flood, drains, pools } = drainage;
  let pool = -1;
  const walk = followFall(grid.surface, grid.outline, from, -1, {
    stop: (x, y, h) => {
      if (drains.length > 0 && drainNear(drainage, x, y) !== undefined) return true;
      const near = flood.pool[nearestNode(grid, x, y)];
      if (near < 0 || h >= pools[near].level || visited.has(near)) return false;
      pool = near;
      return true;
    },
    limits,
  });
  return { walk, pool };
};

/** Over a pool to its drain or its spill; the leg began at point `first` and ended at a node of the pool. */
const overPool = (trace: Trace, pool: number, start: number, first: number): Leg => {
  const { grid, flood, pools } = trace.drainage;
  const { level, spill } = pools[pool];
  trace.visited.add(pool);
  const shore = toShore(trace, level, first);
  if (spill.drain !== null) return atDrain(trace, spill.drain);
  let node = start;
  const way: Point[] = [];
  while (flood.pool[node] === pool) {
    node = flood.parent[node];
    way.push([nodeX(grid, node), nodeY(grid, node)]);
  }
  way[Math.max(0, way.length - 1)] = spill.at;
  const wet = trace.line.length - 1;
  const out = walkAlong(trace, wayAfloat(trace, shore, way, level));
  for (let k = wet; k < trace.line.length; k++) {
    const [x, y, height] = trace.line[k];
    trace.line[k] = [x, y, Math.max(height, level)];
  }
  const place = out ?? spill.place;
  if (place !== null) return atEdge(trace, place);
  if (!spill.pass) return overLevel(trace, shore, node);
  grid.surface.at(spill.at[0], spill.at[1], trace.jet);
  const next = flood.parent[node];
  const onward: Point = [
    nodeX(grid, next) - nodeX(grid, node),
    nodeY(grid, next) - nodeY(grid, node),
  ];
  return { kind: 'onward', at: offPass(spill.at, trace.jet, onward) };
};

/** Takes the line back to the shore: it ends there, not where a node under water was first seen. */
const toShore = (trace: Trace, level: number, first: number): Point => {
  const { line } = trace;
  while (line.length > first + 1 && line[line.length - 2][2] < level) line.pop();
  if (line.length <= first + 1) return [line[first][0], line[first][1]];
  const [wet, dry] = [line[line.length - 1], line[line.length - 2]];
  const shore = shoreBetween(dry, wet, level, (x, y) => heightAt(trace, x, y));
  line.pop();
  push(trace, shore);
  return shore;
};

/** The way over a pool in as few straight pieces as its water lets, one alone as a curve. */
const wayAfloat = (
  trace: Trace,
  shore: Point,
  way: readonly Point[],
  level: number,
): readonly Point[] => {
  const { line } = trace;
  const height = (x: number, y: number): number => heightAt(trace, x, y);
  const free = (a: Point, b: Point): boolean => underWater(a, b, level, height);
  const legs = straighten(shore, way, free);
  if (legs.length !== 1) return legs;
  const [spill] = legs;
  const before = line[Math.max(0, line.length - 2)];
  const curve = bend(shore, direction(before, shore), spill, direction(shore, spill), 0.25);
  const afloat = curve.every(
    (p, k) =>
      free(curve[k - 1] ?? shore, p) && (k === curve.length - 1 || height(p[0], p[1]) <= level),
  );
  return afloat ? curve : legs;
};

/** Over ground too level to tell: the way by which the flood came in, until it falls again. */
const overLevel = (trace: Trace, from: Point, start: number): Leg => {
  const { grid, flood } = trace.drainage;
  const floor = Math.min(heightAt(trace, from[0], from[1]), flood.filled[start]) - 1e-4;
  let node = start;
  while (flood.parent[node] >= 0 && (flood.filled[node] >= floor || node === start)) {
    node = flood.parent[node];
    const out = walkTo(trace, [nodeX(grid, node), nodeY(grid, node)]);
    if (out !== null) return atEdge(trace, out);
  }
  const at = lastOf(trace);
  if (node === start || flood.parent[node] < 0) return { kind: 'lost', at };
  trace.line.pop();
  return { kind: 'onward', at };
};

/** From node to node, the way by which the flood came in, to its end. */
const byFlood = (trace: Trace, [x, y]: Point): WaterLine => {
  const { grid, flood } = trace.drainage;
  for (let node = nearestNode(grid, x, y); ; node = flood.parent[node]) {
    const to: Point = [nodeX(grid, node), nodeY(grid, node)];
    const drain = drainNear(trace.drainage, to[0], to[1]);
    if (drain !== undefined) return atDrain(trace, drain).whole;
    const out = walkTo(trace, to);
    if (out !== null || flood.parent[node] < 0) return atEdge(trace, out).whole;
  }
};

type Mouth = Extract<Leg, { readonly kind: 'mouth' }>;

const atEdge = ({ line }: Trace, place: OutlinePlace | null): Mouth => ({
  kind: 'mouth',
  whole: { points: levelOff(line), mouth: 'edge', place },
});

const atDrain = (trace: Trace, drain: Point): Mouth => {
  push(trace, drain);
  return { kind: 'mouth', whole: { points: levelOff(trace.line), mouth: 'drain', place: null } };
};

const heightAt = ({ drainage, jet }: Trace, x: number, y: number): number => {
  drainage.grid.surface.at(x, y, jet);
  return jet[H];
};

const push = (trace: Trace, [x, y]: Point): void => {
  trace.line.push([x, y, heightAt(trace, x, y)]);
};

const lastOf = ({ line }: Trace): Point => {
  const [x, y] = line[line.length - 1];
  return [x, y];
};

const drainNear = ({ drains }: Drainage, x: number, y: number): Point | undefined =>
  drains.find((p) => Math.hypot(p[0] - x, p[1] - y) < DRAIN_REACH);

/** Adds straight ways from place to place, until the outline ends one. */
const walkAlong = (trace: Trace, way: readonly Point[]): OutlinePlace | null => {
  for (const p of way) {
    const out = walkTo(trace, p);
    if (out !== null) return out;
  }
  return null;
};

/** Adds a straight way to a place; where on the outline it ends, if it does. */
const walkTo = (trace: Trace, p: Point): OutlinePlace | null => {
  const [x, y] = lastOf(trace);
  const exit = exitOf(trace.drainage.grid.outline, x, y, p[0], p[1]);
  if (exit !== null) {
    push(trace, exit.point);
    return exit.place;
  }
  const parts = Math.ceil(distance([x, y], p) / WAY_SPACING);
  for (let k = 1; k < parts; k++) {
    push(trace, [x + ((p[0] - x) * k) / parts, y + ((p[1] - y) * k) / parts]);
  }
  push(trace, p);
  return null;
};

/** Raises what lies under water to its level: a running maximum from the mouth up. */
export const levelOff = (line: readonly GroundPoint[]): GroundPoint[] => {
  const out: GroundPoint[] = [];
  let level = -Infinity;
  for (let k = line.length - 1; k >= 0; k--) {
    const [x, y, height] = line[k];
    level = Math.max(level, height);
    const last = out[out.length - 1];
    if (last !== undefined && Math.hypot(last[0] - x, last[1] - y) < 1e-9) continue;
    out.push([x, y, level]);
  }
  return out.reverse();
};
