import { hypotenuse } from '../../geometry.js';
import type { GroundPoint } from '../fall-line.js';
import type { Drainage } from './drained-ground.js';

/** A line in a network, and the line and vertex where it joins it (parent -1: the edge or a drain). */
export interface NetworkLine {
  readonly points: readonly GroundPoint[];
  readonly parent: number;
  readonly joint: number;
}

/** Claims the nodes about a place of a line, the vertex `v` of it, that lie nearer to it than to any before. */
const claim = (
  { grid, scratch }: Drainage,
  claimed: number[],
  [line, v]: readonly [number, number],
  x: number,
  y: number,
): void => {
  const { owner, vertex, nearness } = scratch;
  const { columns, step, originX, originY } = grid;
  const reach = 1.01 * step;
  const i0 = Math.ceil((x - reach - originX) / step);
  const i1 = Math.floor((x + reach - originX) / step);
  const j0 = Math.ceil((y - reach - originY) / step);
  const j1 = Math.floor((y + reach - originY) / step);
  for (let j = j0; j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const n = j * columns + i;
      const d = hypotenuse(originX + i * step - x, originY + j * step - y);
      if (d > reach || d >= nearness[n]) continue;
      if (owner[n] < 0) claimed.push(n);
      nearness[n] = d;
      owner[n] = line;
      vertex[n] = v;
    }
  }
};

/** Hands the water of a node to the line that owns it, or down to its neighbours. */
const handDown = (
  { grid, shares, scratch }: Drainage,
  n: number,
  gained: readonly Float64Array[],
): void => {
  const { owner, vertex, flow } = scratch;
  const total = flow[n] + (grid.inside[n] ? grid.step * grid.step : 0);
  flow[n] = 0;
  if (total === 0) return;
  if (owner[n] >= 0) {
    gained[owner[n]][vertex[n]] += total;
    return;
  }
  const first = shares.first[n];
  if (first < 0) return;
  flow[first] += total * shares.share[n];
  if (shares.second[n] >= 0) flow[shares.second[n]] += total * (1 - shares.share[n]);
};

/**
 * Contributing area at every point of every line: the D-infinity flow is followed down the green and
 * handed to the first line whose corridor (one grid step to each side) it enters, so that the area
 * does not thin out where the flow spreads over neighbouring nodes. Parents must come before their
 * tributaries.
 */
export const areasAlong = (drainage: Drainage, lines: readonly NetworkLine[]): number[][] => {
  const { grid, flood } = drainage;
  const { owner, nearness } = drainage.scratch;
  const claimed: number[] = [];
  lines.forEach((line, name) => {
    const { points } = line;
    for (let v = 0; v < points.length; v++) {
      const [x, y] = points[v];
      claim(drainage, claimed, [name, v], x, y);
      if (v + 1 === points.length) break;
      const [nx, ny] = points[v + 1];
      const parts = Math.ceil(hypotenuse(nx - x, ny - y) / (grid.step / 2));
      for (let k = 1; k < parts; k++) {
        const [cx, cy] = [x + ((nx - x) * k) / parts, y + ((ny - y) * k) / parts];
        claim(drainage, claimed, [name, v], cx, cy);
      }
    }
  });
  const gained = lines.map((line) => new Float64Array(line.points.length));
  for (let k = flood.order.length - 1; k >= 0; k--) handDown(drainage, flood.order[k], gained);
  for (const n of claimed) {
    owner[n] = -1;
    nearness[n] = Infinity;
  }
  for (let name = lines.length - 1; name >= 0; name--) {
    const sums = gained[name];
    for (let v = 1; v < sums.length; v++) sums[v] += sums[v - 1];
    const { parent, joint } = lines[name];
    if (parent >= 0) gained[parent][joint] += sums[sums.length - 1];
  }
  return gained.map((sums) => Array.from(sums));
};
