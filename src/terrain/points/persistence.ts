import { orderOf } from '../../surface/order-of-values.js';
import { H, JET_SIZE } from '../../surface/surface.js';
import type { GroundGrid } from '../ground-grid.js';
import { nodeX, nodeY } from '../ground-grid.js';
import type { OutlineIndex } from '../outline-index.js';

/**
 * The green as a graph: grid nodes inside it, then points along its outline; each with its height. The
 * outline takes part so that a top on the edge is seen where it is.
 */
export interface GroundGraph {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly height: Float64Array;
  /** Number of grid nodes; entries from there on are outline samples, counter-clockwise. */
  readonly gridCount: number;
  /** Outline edge and fraction of the outline samples. */
  readonly edge: Int32Array;
  readonly t: Float64Array;
  /** Neighbours of entry k: links[starts[k]] .. links[starts[k + 1] - 1]. */
  readonly starts: Int32Array;
  readonly links: Int32Array;
}

const sampleOutline = (
  outline: OutlineIndex,
  spacing: number,
): { x: number[]; y: number[]; edge: number[]; t: number[] } => {
  const { ring } = outline;
  const out = { x: [] as number[], y: [] as number[], edge: [] as number[], t: [] as number[] };
  for (let e = 0; e < ring.length; e++) {
    const [ax, ay] = ring[e];
    const [bx, by] = ring[(e + 1) % ring.length];
    const parts = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / spacing));
    for (let k = 0; k < parts; k++) {
      const t = k / parts;
      out.x.push(ax + t * (bx - ax));
      out.y.push(ay + t * (by - ay));
      out.edge.push(e);
      out.t.push(t);
    }
  }
  return out;
};

/** Sets the pairs of neighbours of which the first lies in a row, from `end` on; the new end. */
const pairsOfRow = (
  name: Int32Array,
  columns: number,
  j: number,
  pairs: Int32Array,
  from: number,
): number => {
  let end = from;
  for (let n = j * columns; n < (j + 1) * columns; n++) {
    const self = name[n];
    if (self < 0) continue;
    for (let k = 0; k < 4; k++) {
      const other = name[k === 0 ? n + 1 : n + columns + (k === 3 ? -1 : k - 1)];
      if (!(other >= 0)) continue;
      pairs[end++] = self;
      pairs[end++] = other;
    }
  }
  return end;
};

/** The neighbours of each entry by pairs of neighbours, in their order. */
const linksOf = (pairs: Int32Array, count: number): Pick<GroundGraph, 'starts' | 'links'> => {
  const starts = new Int32Array(count + 1);
  for (const one of pairs) starts[one + 1]++;
  for (let a = 0; a < count; a++) starts[a + 1] += starts[a];
  const place = starts.slice();
  const links = new Int32Array(pairs.length);
  for (let k = 0; k < pairs.length; k += 2) {
    const [a, b] = [pairs[k], pairs[k + 1]];
    links[place[a]++] = b;
    links[place[b]++] = a;
  }
  return { starts, links };
};

export const graphOfGround = (grid: GroundGrid): GroundGraph => {
  const { columns, rows, inside } = grid;
  const name = new Int32Array(columns * rows).fill(-1);
  const gridCount = grid.insideCount;
  const rim = sampleOutline(grid.outline, grid.step);
  const count = gridCount + rim.x.length;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const height = new Float64Array(count);
  let k = 0;
  for (let n = 0; n < inside.length; n++) {
    if (!inside[n]) continue;
    name[n] = k;
    x[k] = nodeX(grid, n);
    y[k] = nodeY(grid, n);
    height[k] = grid.height[n];
    k++;
  }
  const jet = new Float64Array(JET_SIZE);
  for (let r = 0; r < rim.x.length; r++) {
    x[gridCount + r] = rim.x[r];
    y[gridCount + r] = rim.y[r];
    grid.surface.at(rim.x[r], rim.y[r], jet);
    height[gridCount + r] = jet[H];
  }
  const pairs = new Int32Array(2 * (4 * gridCount + 5 * rim.x.length));
  let end = 0;
  for (let j = 0; j < rows; j++) end = pairsOfRow(name, columns, j, pairs, end);
  for (let r = 0; r < rim.x.length; r++) {
    const self = gridCount + r;
    pairs[end++] = self;
    pairs[end++] = gridCount + ((r + 1) % rim.x.length);
    const i = Math.floor((rim.x[r] - grid.originX) / grid.step);
    const j = Math.floor((rim.y[r] - grid.originY) / grid.step);
    for (let dj = 0; dj <= 1; dj++) {
      for (let di = 0; di <= 1; di++) {
        const other = name[(j + dj) * columns + i + di];
        if (other < 0) continue;
        pairs[end++] = self;
        pairs[end++] = other;
      }
    }
  }
  const { starts, links } = linksOf(pairs.subarray(0, end), count);
  return {
    count,
    x,
    y,
    height,
    gridCount,
    edge: Int32Array.from(rim.edge),
    t: Float64Array.from(rim.t),
    starts,
    links,
  };
};

/** A top and the pass at which its ground meets higher ground. */
export interface Pair {
  readonly birth: number;
  /** Entry of the pass; -1 for the highest top of all. */
  readonly death: number;
  /** Height of the top over the pass; for the highest top, over the lowest ground. */
  readonly relief: number;
}

/**
 * Zero-dimensional persistence of the ground (Edelsbrunner, Letscher & Zomorodian, Discrete Comput. Geom.
 * 28, 2002): entries join from the highest down; where two tops meet, the lower one's relief is settled.
 * @param sign 1 for tops, -1 for bottoms.
 */
export const persistencePairs = (graph: GroundGraph, sign: 1 | -1, minRelief: number): Pair[] => {
  const { count, height, starts, links } = graph;
  const order = orderOf(height, sign);
  const root = new Int32Array(count).fill(-1);
  const find = (a: number): number => {
    let r = a;
    while (root[r] !== r) {
      root[r] = root[root[r]];
      r = root[r];
    }
    return r;
  };
  const pairs: Pair[] = [];
  for (const entry of order) {
    root[entry] = entry;
    // The root of a component is its top: a plain entry joins the component, it founds none.
    let mine = -1;
    for (let k = starts[entry]; k < starts[entry + 1]; k++) {
      if (root[links[k]] < 0 || links[k] === entry) continue;
      const other = find(links[k]);
      if (mine < 0) {
        mine = other;
        root[entry] = other;
        continue;
      }
      if (other === mine) continue;
      const higher =
        sign * (height[other] - height[mine]) > 0 ||
        (height[other] === height[mine] && other < mine);
      const [keep, lose] = higher ? [other, mine] : [mine, other];
      const relief = sign * (height[lose] - height[entry]);
      if (relief >= minRelief) pairs.push({ birth: lose, death: entry, relief });
      root[lose] = keep;
      mine = keep;
    }
  }
  if (count > 0) {
    const top = order[0];
    pairs.push({
      birth: top,
      death: -1,
      relief: sign * (height[top] - height[order[count - 1]]),
    });
  }
  return pairs;
};
