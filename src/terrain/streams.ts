import type { Surface } from '../surface/surface.js';
import { H, JET_SIZE } from '../surface/surface.js';
import type { NetworkLine } from './catchments.js';
import { areasAlong } from './catchments.js';
import type { Drainage } from './drainage.js';
import type { GroundPoint } from './fall-line.js';
import { followFall } from './fall-line.js';
import { gathering } from './gathering.js';
import type { GroundGrid } from './ground-grid.js';
import { nodeX, nodeY } from './ground-grid.js';
import type { LineIndex } from './line-index.js';
import { addLine, crossSegments, nearestLine, newLineIndex } from './line-index.js';
import { NEIGHBOUR_DX, NEIGHBOUR_DY } from './priority-flood.js';
import type { Stream } from './reading.js';
import { bend, direction } from './smooth-way.js';
import type { WaterLine } from './water-line.js';
import { levelOff, traceWater } from './water-line.js';

export interface StreamOptions {
  /** Area that must drain through a stream's mouth, share of the green. */
  readonly streamShare: number;
  /** Length of ground above a stream's head, metres. */
  readonly headLength: number;
  /** A stream shorter than this is not drawn (unless it is the main one), metres. */
  readonly leastStream: number;
  /** Height of the ground beside a stream over the stream, on average, metres (again not asked of the main one). */
  readonly leastValley: number;
}

/** A tributary ends where it comes this near to a stream, metres. */
const JOIN_REACH = 0.4;
/** It meets the stream this far downstream of the nearest point. */
const JOIN_AHEAD = 0.8;
/** Its last piece may rise by this much, metres. */
const JOIN_RISE = 2e-4;
/** Mouths nearer than this are one mouth. */
const MOUTH_REACH = 1.5;
const MOUTHS_TRIED = 6;
const HEADS_TRIED = 24;
/** A main line shorter than this share of the green's width gives way to a longer one. */
const SHORT_MAIN = 0.3;
/** A valley's contours bend by more than this on average over its first metres, 1/m. */
const VALLEY_BEND = 0.03;
const VALLEY_WINDOW = 2;
/** The ground to both sides of a stream is looked at from this far, metres. */
const VALLEY_REACH = 1.75;
const MOST_STREAMS = 10;

/** Share of a node's water that goes to a neighbour. */
const shareTo = (drainage: Drainage, from: number, to: number): number => {
  const { first, second, share } = drainage.shares;
  if (first[from] === to) return share[from];
  return second[from] === to ? 1 - share[from] : 0;
};

/** Up from a node to the neighbour that sends it most, until less than `least` square metres come. */
const wayUp = (drainage: Drainage, from: number, least: number): number[] => {
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
  const outlets: number[] = [];
  for (const node of flood.order) if (flood.parent[node] < 0 && area[node] > 0) outlets.push(node);
  const near = (a: number, b: number, reach: number): boolean =>
    Math.hypot(nodeX(grid, a) - nodeX(grid, b), nodeY(grid, a) - nodeY(grid, b)) <= reach;
  const sums = new Map<number, number>();
  for (const a of outlets) {
    let sum = 0;
    for (const b of outlets) if (near(a, b, 1)) sum += area[b];
    sums.set(a, sum);
  }
  const ranked = [...outlets].sort(
    (a, b) => (sums.get(b) ?? 0) - (sums.get(a) ?? 0) || area[b] - area[a] || a - b,
  );
  const mouths: number[] = [];
  for (const node of ranked) {
    if (mouths.length === MOUTHS_TRIED) break;
    if (mouths.every((other) => !near(node, other, 2))) mouths.push(node);
  }
  // Within each window, the node through which most leaves.
  return mouths.map((mouth) =>
    outlets
      .filter((node) => near(node, mouth, 1))
      .reduce((best, node) => (area[node] > area[best] ? node : best), mouth),
  );
};

const lastOf = (line: WaterLine): GroundPoint => line.points[line.points.length - 1];

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
    const { points } = followFall(grid.surface, grid.outline, x, y, 1);
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

/** The line to the mouth of the greatest contributing area; short ones only where there is no other. */
const mainLine = (
  drainage: Drainage,
  least: number,
  heads: readonly WaterLine[],
  leastLength: number,
): WaterLine | null => {
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

/** Leaves out the top of a line where the contours do not yet bend towards it by more than `bend`, 1/m. */
const fromValleyHead = (grid: GroundGrid, line: WaterLine, bend: number): WaterLine => {
  const { points } = line;
  const jet = new Float64Array(JET_SIZE);
  const bends = points.map(([x, y]) => gathering(grid.surface, x, y, jet));
  for (let k = 0; k < points.length; k++) {
    let sum = 0;
    let length = 0;
    for (let m = k; m + 1 < points.length && length < VALLEY_WINDOW; m++) {
      const step = Math.hypot(points[m + 1][0] - points[m][0], points[m + 1][1] - points[m][1]);
      sum += step * Math.max(-1, Math.min(1, bends[m]));
      length += step;
    }
    if (length > 0 && sum / length > bend) return { ...line, points: points.slice(k) };
  }
  return { ...line, points: points.slice(-1) };
};

/** The main line without its top on a crown or a spur, as long as most of it is left. */
const offTheRidge = (grid: GroundGrid, line: WaterLine, leastLength: number): WaterLine => {
  const least = Math.max(leastLength, lengthOfLine(line.points) / 3);
  for (const bend of [VALLEY_BEND / 2, -VALLEY_BEND, -3 * VALLEY_BEND]) {
    const cut = fromValleyHead(grid, line, bend);
    if (lengthOfLine(cut.points) >= least) return cut;
  }
  return line;
};

/**
 * How deep the valley is that a line runs in, metres: the mean height, to both sides, over the line itself.
 */
const valleyDepth = (surface: Surface, points: readonly GroundPoint[]): number => {
  const jet = new Float64Array(JET_SIZE);
  let sum = 0;
  let length = 0;
  for (let k = 0; k + 1 < points.length; k++) {
    const [ax, ay] = points[k];
    const [bx, by] = points[k + 1];
    const step = Math.hypot(bx - ax, by - ay);
    if (step === 0) continue;
    const nx = (-(by - ay) / step) * VALLEY_REACH;
    const ny = ((bx - ax) / step) * VALLEY_REACH;
    surface.at(ax + nx, ay + ny, jet);
    const left = jet[H];
    surface.at(ax - nx, ay - ny, jet);
    const right = jet[H];
    surface.at(ax, ay, jet);
    sum += step * ((left + right) / 2 - jet[H]);
    length += step;
  }
  return length === 0 ? 0 : sum / length;
};

/** Nodes where a channel begins: enough area, and no neighbour above with as much that drains into it. */
const channelHeads = (drainage: Drainage, least: number): number[] => {
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

interface Joined {
  readonly points: readonly GroundPoint[];
  /** Length before it joins, metres. */
  readonly length: number;
  readonly parent: number;
  readonly joint: number;
  readonly mouth: 'edge' | 'drain' | 'stream';
}

const lengthOfLine = (points: readonly GroundPoint[]): number => {
  let sum = 0;
  for (let k = 1; k < points.length; k++) {
    sum += Math.hypot(points[k][0] - points[k - 1][0], points[k][1] - points[k - 1][1]);
  }
  return sum;
};

/** First crossing of a segment with any of the lines. */
const firstCrossing = (
  lines: readonly NetworkLine[],
  a: GroundPoint,
  b: GroundPoint,
): { along: number; line: number; vertex: number; at: GroundPoint } | null => {
  let best: { along: number; line: number; vertex: number; at: GroundPoint } | null = null;
  lines.forEach(({ points }, line) => {
    for (let v = 0; v + 1 < points.length; v++) {
      const hit = crossSegments(a, b, points[v], points[v + 1]);
      if (hit === null || (best !== null && hit[0] >= best.along)) continue;
      const u = hit[1];
      const [p, q] = [points[v], points[v + 1]];
      best = {
        along: hit[0],
        line,
        vertex: v,
        at: [p[0] + u * (q[0] - p[0]), p[1] + u * (q[1] - p[1]), p[2] + u * (q[2] - p[2])],
      };
    }
  });
  return best;
};

/**
 * Ends a line at point k by leading it into the stream that runs near it there; null where that way
 * would rise.
 */
const leadInto = (
  surface: Surface,
  line: WaterLine,
  k: number,
  parent: number,
  vertex: number,
  lines: readonly NetworkLine[],
): Joined | null => {
  const points = line.points.slice(0, k + 1);
  const from = points[k];
  const stream = lines[parent].points;
  let joint = vertex;
  let ahead = 0;
  while (joint + 1 < stream.length && (ahead < JOIN_AHEAD || stream[joint][2] > from[2])) {
    ahead += Math.hypot(
      stream[joint + 1][0] - stream[joint][0],
      stream[joint + 1][1] - stream[joint][1],
    );
    joint++;
  }
  const end = stream[joint];
  if (end[2] > from[2]) return null;
  const curve = bend(
    from,
    direction(points[Math.max(0, k - 1)], from),
    end,
    direction(stream[Math.max(0, joint - 1)], end),
    0.12,
  );
  const jet = new Float64Array(JET_SIZE);
  let lowest = from[2];
  for (const p of curve) {
    const last = points[points.length - 1];
    const hit = firstCrossing(lines, last, [p[0], p[1], 0]);
    if (hit !== null) {
      points.push(hit.at);
      return joinedAt(points, hit.line, hit.vertex);
    }
    surface.at(p[0], p[1], jet);
    // Under the water of a hollow the stream's level stands for the ground.
    const height = Math.max(jet[H], end[2]);
    if (height > lowest + JOIN_RISE) return null;
    lowest = Math.min(lowest, height);
    points.push([p[0], p[1], height]);
  }
  return joinedAt(points, parent, joint);
};

const joinedAt = (points: readonly GroundPoint[], parent: number, joint: number): Joined => ({
  points: levelOff(points),
  length: lengthOfLine(points),
  parent,
  joint,
  mouth: 'stream',
});

/** Cuts a line where it comes to a stream that is already drawn. */
const joinStreams = (
  surface: Surface,
  line: WaterLine,
  lines: readonly NetworkLine[],
  index: LineIndex,
): Joined => {
  const [ex, ey] = lastOf(line);
  const mouth = nearestLine(index, ex, ey, MOUTH_REACH);
  const reach = mouth === null ? JOIN_REACH : MOUTH_REACH;
  for (let k = 0; k < line.points.length; k++) {
    const [x, y] = line.points[k];
    const near = nearestLine(index, x, y, reach);
    if (near === null) continue;
    if (mouth !== null && near.line !== mouth.line && near.distance >= JOIN_REACH) continue;
    const joined = leadInto(surface, line, k, near.line, near.vertex, lines);
    if (joined !== null) return joined;
    // No falling way over to it yet: on down its own way, but never across.
    const next = line.points[k + 1];
    const hit = next === undefined ? null : firstCrossing(lines, line.points[k], next);
    if (hit !== null) {
      return joinedAt([...line.points.slice(0, k + 1), hit.at], hit.line, hit.vertex);
    }
  }
  return {
    points: line.points,
    length: lengthOfLine(line.points),
    parent: -1,
    joint: 0,
    mouth: line.mouth,
  };
};

/** The drainage lines of a green: the main one, then the others by the area that they bring. */
export const streamsOf = (
  drainage: Drainage,
  greenArea: number,
  options: StreamOptions,
): Stream[] => {
  const grid: GroundGrid = drainage.grid;
  const headArea = options.headLength * grid.step;
  const leastArea = options.streamShare * greenArea;
  const heads = channelHeads(drainage, leastArea / 2).map((head) => {
    const way = wayUp(drainage, head, headArea);
    const top = way[way.length - 1];
    return traceWater(drainage, nodeX(grid, top), nodeY(grid, top));
  });
  const leastMain = SHORT_MAIN * Math.sqrt(greenArea);
  const whole = mainLine(drainage, headArea, heads, leastMain);
  if (whole === null) return [];
  const main = offTheRidge(grid, whole, leastMain);
  const lines: NetworkLine[] = [{ points: main.points, parent: -1, joint: 0 }];
  const mouths: Stream['mouth'][] = [main.mouth];
  const index = newLineIndex(0.5);
  addLine(index, 0, main.points);
  for (const head of heads) {
    if (lines.length === MOST_STREAMS) break;
    const joined = joinStreams(grid.surface, fromValleyHead(grid, head, VALLEY_BEND), lines, index);
    if (joined.length < options.leastStream) continue;
    if (valleyDepth(grid.surface, joined.points) < options.leastValley) continue;
    const [hx, hy] = joined.points[0];
    if (nearestLine(index, hx, hy, options.leastStream) !== null) continue;
    const sums = areasAlong(drainage, [
      ...lines.map((other) => ({ ...other, parent: -1 })),
      { points: joined.points, parent: -1, joint: 0 },
    ])[lines.length];
    if (sums[sums.length - 1] < leastArea) continue;
    addLine(index, lines.length, joined.points);
    lines.push(joined);
    mouths.push(joined.mouth);
  }
  const areas = areasAlong(drainage, lines);
  const orders: number[] = [];
  for (const line of lines) orders.push(line.parent < 0 ? 1 : orders[line.parent] + 1);
  return lines.map((line, k) => ({
    order: orders[k],
    main: k === 0,
    points: line.points,
    area: areas[k],
    mouth: mouths[k],
  }));
};
