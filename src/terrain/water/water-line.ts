import type { Point } from '../../geometry.js';
import { distance } from '../../geometry.js';
import { H, HXX, HXY, HYY, JET_SIZE } from '../../surface/surface.js';
import type { GroundPoint } from '../fall-line.js';
import { followFall } from '../fall-line.js';
import { nearestNode, nodeX, nodeY } from '../ground-grid.js';
import type { OutlinePlace } from '../outline-index.js';
import { exitOf } from '../outline-index.js';
import { DRAIN_REACH } from './drainage.js';
import type { Drainage } from './drained-ground.js';
import { bend, direction } from './smooth-way.js';

/** The way of the water from one point. Heights are those of the filled ground, so they never rise. */
export interface WaterLine {
  readonly points: readonly GroundPoint[];
  readonly mouth: 'edge' | 'drain';
  /** Where on the outline it leaves; null at a drain. */
  readonly place: OutlinePlace | null;
}

/** A straight way over a pool may stand this far out of its water, metres. */
const WADE = 5e-4;
/** How far past a pass the line starts down again, metres. */
const OFF_PASS = 0.06;
const LEGS = 40;
/** Points of a way over water lie at most this far apart, metres. */
const WAY_SPACING = 0.25;

/**
 * The way of the water from (x, y) until it leaves the green or reaches a drain: down the continuous
 * surface, over a filled hollow straight to its spill, and from there down again.
 */
export const traceWater = (drainage: Drainage, x0: number, y0: number): WaterLine => {
  const { grid, flood, drains, pools } = drainage;
  const { surface, outline } = grid;
  const jet = new Float64Array(JET_SIZE);
  const heightAt = (x: number, y: number): number => {
    surface.at(x, y, jet);
    return jet[H];
  };
  const line: GroundPoint[] = [];
  const visited = new Set<number>();
  const push = (x: number, y: number): void => {
    line.push([x, y, heightAt(x, y)]);
  };
  const drainNear = (x: number, y: number): Point | undefined =>
    drains.find((p) => Math.hypot(p[0] - x, p[1] - y) < DRAIN_REACH);
  const finish = (mouth: 'edge' | 'drain', place: OutlinePlace | null): WaterLine => ({
    points: levelOff(line),
    mouth,
    place,
  });
  const atDrain = (drain: Point): WaterLine => {
    push(drain[0], drain[1]);
    return finish('drain', null);
  };
  /** Adds a straight way to p; the outline may end it. */
  const walkTo = (p: Point): OutlinePlace | null => {
    const [x, y] = line[line.length - 1];
    const exit = exitOf(outline, x, y, p[0], p[1]);
    if (exit !== null) {
      push(exit.point[0], exit.point[1]);
      return exit.place;
    }
    const parts = Math.ceil(distance([x, y], p) / WAY_SPACING);
    for (let k = 1; k < parts; k++) {
      push(x + ((p[0] - x) * k) / parts, y + ((p[1] - y) * k) / parts);
    }
    push(p[0], p[1]);
    return null;
  };
  let x = x0;
  let y = y0;
  for (let leg = 0; leg < LEGS; leg++) {
    let pool = -1;
    const walk = followFall(surface, outline, [x, y], -1, {
      stop: (px, py, h) => {
        if (drains.length > 0 && drainNear(px, py) !== undefined) return true;
        const near = flood.pool[nearestNode(grid, px, py)];
        if (near < 0 || h >= pools[near].level || visited.has(near)) return false;
        pool = near;
        return true;
      },
    });
    line.push(...walk.points);
    if (walk.end === 'edge') return finish('edge', walk.place);
    [x, y] = line[line.length - 1];
    const drain = drainNear(x, y);
    if (drain !== undefined) return atDrain(drain);
    let node = nearestNode(grid, x, y);
    if (pool < 0 && flood.pool[node] >= 0 && !visited.has(flood.pool[node]))
      pool = flood.pool[node];
    if (pool >= 0) {
      visited.add(pool);
      // The line ends at the shore, not where a node under water was first seen.
      const first = line.length - walk.points.length;
      while (line.length > first + 1 && line[line.length - 2][2] < pools[pool].level) line.pop();
      if (line.length > first + 1) {
        const [wet, dry] = [line[line.length - 1], line[line.length - 2]];
        [x, y] = shoreBetween(dry, wet, pools[pool].level, heightAt);
        line.pop();
        push(x, y);
      } else {
        [x, y] = line[first];
      }
      const { level, spill } = pools[pool];
      if (spill.drain !== null) return atDrain(spill.drain);
      const way: Point[] = [];
      while (flood.pool[node] === pool) {
        node = flood.parent[node];
        way.push([nodeX(grid, node), nodeY(grid, node)]);
      }
      way[Math.max(0, way.length - 1)] = spill.at;
      const free = (a: Point, b: Point): boolean => underWater(a, b, level, heightAt);
      const legs = straighten([x, y], way, free);
      const before = line[Math.max(0, line.length - 2)];
      const curve =
        legs.length === 1
          ? bend([x, y], direction(before, [x, y]), spill.at, direction([x, y], spill.at), 0.25)
          : legs;
      let last: Point = [x, y];
      const afloat = curve.every((p) => {
        const ok =
          free(last, p) && (p === curve[curve.length - 1] || heightAt(p[0], p[1]) <= level);
        last = p;
        return ok;
      });
      const shore = line.length - 1;
      let out: OutlinePlace | null = null;
      for (const p of afloat ? curve : legs) {
        out = walkTo(p);
        if (out !== null) break;
      }
      for (let k = shore; k < line.length; k++) {
        line[k] = [line[k][0], line[k][1], Math.max(line[k][2], level)];
      }
      if (out !== null) return finish('edge', out);
      if (spill.place !== null) return finish('edge', spill.place);
      if (spill.pass) {
        surface.at(spill.at[0], spill.at[1], jet);
        [x, y] = offPass(spill.at, jet, [
          nodeX(grid, flood.parent[node]) - nodeX(grid, node),
          nodeY(grid, flood.parent[node]) - nodeY(grid, node),
        ]);
        continue;
      }
    }
    // Ground too level to tell: the way by which the flood came in, until it falls again.
    const floor = Math.min(heightAt(x, y), flood.filled[node]) - 1e-4;
    let stepped = false;
    while (flood.parent[node] >= 0 && (flood.filled[node] >= floor || !stepped)) {
      node = flood.parent[node];
      const out = walkTo([nodeX(grid, node), nodeY(grid, node)]);
      if (out !== null) return finish('edge', out);
      stepped = true;
    }
    [x, y] = line[line.length - 1];
    if (!stepped || flood.parent[node] < 0) break;
    line.pop();
  }
  // A low place within a cell of the edge, or more legs than any green has hollows: the rest is the flood's.
  for (let node = nearestNode(grid, x, y); ; node = flood.parent[node]) {
    const to: Point = [nodeX(grid, node), nodeY(grid, node)];
    const reached = drainNear(to[0], to[1]);
    if (reached !== undefined) return atDrain(reached);
    const out = walkTo(to);
    if (out !== null) return finish('edge', out);
    if (flood.parent[node] < 0) return finish('edge', null);
  }
};

/** The start of the way down beyond a pass, along its axis of descent and to the side that `onward` points to. */
const offPass = (pass: Point, jet: Float64Array, onward: Point): Point => {
  const angle = 0.5 * Math.atan2(2 * jet[HXY], jet[HXX] - jet[HYY]) + Math.PI / 2;
  const ux = Math.cos(angle);
  const uy = Math.sin(angle);
  const side = ux * onward[0] + uy * onward[1] >= 0 ? OFF_PASS : -OFF_PASS;
  return [pass[0] + side * ux, pass[1] + side * uy];
};

/** Where the straight line from dry to wet ground meets the water, by bisection to 0.1 mm. */
const shoreBetween = (
  dry: GroundPoint,
  wet: GroundPoint,
  level: number,
  heightAt: (x: number, y: number) => number,
): Point => {
  let low = 0;
  let high = 1;
  const at = (t: number): Point => [dry[0] + t * (wet[0] - dry[0]), dry[1] + t * (wet[1] - dry[1])];
  for (let round = 0; round < 12; round++) {
    const middle = (low + high) / 2;
    const [x, y] = at(middle);
    if (heightAt(x, y) >= level) low = middle;
    else high = middle;
  }
  return at(low);
};

const underWater = (
  a: Point,
  b: Point,
  level: number,
  heightAt: (x: number, y: number) => number,
): boolean => {
  const parts = Math.ceil(distance(a, b) / 0.15);
  for (let k = 1; k < parts; k++) {
    const t = k / parts;
    if (heightAt(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) > level + WADE) return false;
  }
  return true;
};

/** Leaves out the points of a way that a straight line may pass by. */
const straighten = (
  from: Point,
  way: readonly Point[],
  free: (a: Point, b: Point) => boolean,
): Point[] => {
  const out: Point[] = [];
  let at = from;
  for (let k = 0; k < way.length; ) {
    let far = way.length - 1;
    while (far > k && !free(at, way[far])) far--;
    at = way[far];
    out.push(at);
    k = far + 1;
  }
  return out;
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
