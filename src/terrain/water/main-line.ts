import type { Point } from '../../geometry.js';
import type { GroundPoint } from '../fall-line.js';
import { followFall, lengthOfLine } from '../fall-line.js';
import { nodeX, nodeY } from '../ground-grid.js';
import { areasAlong } from './catchments.js';
import type { Drainage } from './drained-ground.js';
import { NEIGHBOUR_DX, NEIGHBOUR_DY } from './priority-flood.js';
import type { WaterLine } from './water-line.js';
import { levelOff, traceWater } from './water-line.js';

/** Half of the mouth over which an outlet's water leaves, metres. */
const MOUTH_REACH = 2;
const MOUTHS_TRIED = 6;
const HEADS_TRIED = 24;

/** Share of a node's water that goes to a neighbour. */
const shareTo = (drainage: Drainage, from: number, to: number): number => {
  const { first, second, share } = drainage.shares;
  if (first[from] === to) return share[from];
  return second[from] === to ? 1 - share[from] : 0;
};

/** Up from a node to the neighbour that sends it most, until less than `least` square metres come. */
export const wayUp = (drainage: Drainage, from: number, least: number): number[] => {
  const { grid, area, flood } = drainage;
  const way = [from];
  for (let node = from; ; ) {
    let best = -1;
    let most = least;
    for (let k = 0; k < 8; k++) {
      const other = node + NEIGHBOUR_DY[k] * grid.columns + NEIGHBOUR_DX[k];
      if (!grid.inside[other] || flood.parent[other] < 0) continue;
      const given = area[other] * shareTo(drainage, other, node);
      if (given > most) {
        most = given;
        best = other;
      }
    }
    if (best < 0) return way;
    node = best;
    way.push(node);
  }
};

/** Outlet nodes by the water that leaves within a metre of them, most first. */
const mouthsOf = (drainage: Drainage): number[] => {
  const { grid, area, flood } = drainage;
  const outlets: { node: number; x: number; y: number; sum: number }[] = [];
  for (const node of flood.order) {
    if (flood.parent[node] >= 0 || area[node] === 0) continue;
    outlets.push({ node, x: nodeX(grid, node), y: nodeY(grid, node), sum: 0 });
  }
  type Outlet = (typeof outlets)[number];
  const near = (a: Outlet, b: Outlet, reach: number): boolean =>
    (a.x - b.x) ** 2 + (a.y - b.y) ** 2 <= reach * reach;
  for (const a of outlets) for (const b of outlets) if (near(a, b, 1)) a.sum += area[b.node];
  const ranked = [...outlets].sort(
    (a, b) => b.sum - a.sum || area[b.node] - area[a.node] || a.node - b.node,
  );
  const mouths: Outlet[] = [];
  for (const outlet of ranked) {
    if (mouths.length === MOUTHS_TRIED) break;
    if (mouths.every((other) => !near(outlet, other, 2))) mouths.push(outlet);
  }
  // Within each window, the node through which most leaves.
  return mouths.map((mouth) => {
    let best = mouth.node;
    for (const other of outlets) {
      if (area[other.node] > area[best] && near(other, mouth, 1)) best = other.node;
    }
    return best;
  });
};

export const lastOf = (line: WaterLine): GroundPoint => line.points[line.points.length - 1];

/** What a line gathers: the area at its mouth, m2, and its sum along the line, m3 (greatest on a valley's own line). */
const worthOf = (drainage: Drainage, line: WaterLine): { mouth: number; along: number } => {
  const { points } = line;
  const sums = areasAlong(drainage, [{ points, parent: -1, joint: 0 }])[0];
  let along = 0;
  for (let k = 1; k < points.length; k++) {
    along += sums[k] * Math.hypot(points[k][0] - points[k - 1][0], points[k][1] - points[k - 1][1]);
  }
  return { mouth: sums[sums.length - 1], along };
};

/**
 * The line to a mouth that gathers most on its way: from heads along the way up, or the fall line
 * through the mouth itself, which is the better one where the ground does not converge.
 */
const lineToMouth = (
  drainage: Drainage,
  mouth: number,
  least: number,
  heads: readonly WaterLine[],
): { line: WaterLine; area: number } | null => {
  const { grid } = drainage;
  const way = wayUp(drainage, mouth, least);
  const mx = nodeX(grid, mouth);
  const my = nodeY(grid, mouth);
  const comesHere = (line: WaterLine): boolean => {
    const [ex, ey] = lastOf(line);
    return Math.hypot(ex - mx, ey - my) < 1;
  };
  const lines: WaterLine[] = heads.filter(comesHere);
  const stride = Math.max(1, Math.floor(way.length / 10));
  for (let k = way.length - 1, found = 0; k >= 1 && found < 2; k -= stride) {
    const line = traceWater(drainage, nodeX(grid, way[k]), nodeY(grid, way[k]));
    if (!comesHere(line)) continue;
    lines.push(line);
    found++;
  }
  if (way.length > 1) {
    const x = nodeX(grid, way[1]);
    const y = nodeY(grid, way[1]);
    const down = traceWater(drainage, x, y);
    // Followed up, not down from its top: near a high point the way down is anybody's guess.
    const { points } = followFall(grid.surface, grid.outline, [x, y], 1);
    const top = points.slice(1, Math.max(2, points.length - 1)).reverse();
    if (comesHere(down)) lines.push({ ...down, points: levelOff([...top, ...down.points]) });
  }
  let best: WaterLine | null = null;
  let most = 0;
  let area = 0;
  for (const line of lines) {
    const worth = worthOf(drainage, line);
    if (worth.along <= most) continue;
    most = worth.along;
    area = worth.mouth;
    best = line;
  }
  return best === null ? null : { line: best, area };
};

/** The outlet node within a mouth's reach of a place through which most leaves. */
const mouthAt = ({ grid, area, flood }: Drainage, [x, y]: Point): number | null => {
  let best: number | null = null;
  for (const node of flood.order) {
    if (
      flood.parent[node] >= 0 ||
      Math.hypot(nodeX(grid, node) - x, nodeY(grid, node) - y) > MOUTH_REACH
    )
      continue;
    if (area[node] > (best === null ? 0 : area[best])) best = node;
  }
  return best;
};

/** What a main line should be: metres, square metres. */
export interface MainLineWish {
  /** Water at its head. */
  readonly least: number;
  readonly length: number;
  /** The outlet that takes most of the green's water. */
  readonly toward: Point | null;
}

/**
 * The line to the outlet that is wished, or where none of some length leads there to the mouth of the
 * greatest contributing area; short ones only where there is no other.
 */
export const mainLine = (
  drainage: Drainage,
  heads: readonly WaterLine[],
  { least, length: leastLength, toward }: MainLineWish,
): WaterLine | null => {
  const wished = toward === null ? null : mouthAt(drainage, toward);
  const there = wished === null ? null : lineToMouth(drainage, wished, least, heads);
  if (there !== null && lengthOfLine(there.line.points) >= leastLength) return there.line;
  let best: WaterLine | null = null;
  let most = 0;
  let bestIsLong = false;
  for (const mouth of mouthsOf(drainage)) {
    const found = lineToMouth(drainage, mouth, least, heads);
    if (found === null) continue;
    const long = lengthOfLine(found.line.points) >= leastLength;
    if (bestIsLong && !long) continue;
    if (long === bestIsLong && found.area <= most) continue;
    most = found.area;
    best = found.line;
    bestIsLong = long;
  }
  return best;
};

/** Nodes where a channel begins: enough area, and no neighbour above with as much that drains into it. */
export const channelHeads = (drainage: Drainage, least: number): number[] => {
  const { grid, area } = drainage;
  const heads: number[] = [];
  for (let n = 0; n < area.length; n++) {
    if (!grid.inside[n] || area[n] < least) continue;
    let fed = false;
    for (let k = 0; k < 8 && !fed; k++) {
      const other = n + NEIGHBOUR_DY[k] * grid.columns + NEIGHBOUR_DX[k];
      fed = grid.inside[other] === 1 && area[other] >= least && shareTo(drainage, other, n) > 0;
    }
    if (!fed) heads.push(n);
  }
  return heads.sort((a, b) => area[b] - area[a] || a - b).slice(0, HEADS_TRIED);
};
