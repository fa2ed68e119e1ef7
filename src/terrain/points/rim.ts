import type { Point } from '../../geometry.js';
import type { Surface } from '../../surface/surface.js';
import { H, JET_SIZE } from '../../surface/surface.js';
import type { OutlinePlace } from '../outline-index.js';
import type { LevelPoint } from './critical-points.js';
import type { GroundGraph } from './persistence.js';

/** A point of the outline between its samples: `s` counts samples, and fractions between them. */
const rimPoint = (graph: GroundGraph, s: number): { at: Point; place: OutlinePlace } => {
  const count = graph.count - graph.gridCount;
  const k = ((Math.floor(s) % count) + count) % count;
  const next = (k + 1) % count;
  const f = s - Math.floor(s);
  const a = graph.gridCount + k;
  const b = graph.gridCount + next;
  const t1 = graph.edge[next] === graph.edge[k] && next > k ? graph.t[next] : 1;
  return {
    at: [graph.x[a] + f * (graph.x[b] - graph.x[a]), graph.y[a] + f * (graph.y[b] - graph.y[a])],
    place: { edge: graph.edge[k], t: graph.t[k] + f * (t1 - graph.t[k]) },
  };
};

export interface RimExtreme extends LevelPoint {
  readonly place: OutlinePlace;
}

/**
 * The highest (sign 1) or lowest point of the edge to which it rises (falls) from a sample of the outline:
 * along the samples, then by golden section between them.
 * @param entry of the sample in the graph.
 */
export const edgeExtreme = (
  surface: Surface,
  graph: GroundGraph,
  entry: number,
  sign: 1 | -1,
): RimExtreme => {
  const { gridCount, height } = graph;
  const count = graph.count - gridCount;
  const jet = new Float64Array(JET_SIZE);
  const sampled = (k: number): number => sign * height[gridCount + (((k % count) + count) % count)];
  const value = (s: number): number => {
    const [x, y] = rimPoint(graph, s).at;
    surface.at(x, y, jet);
    return sign * jet[H];
  };
  let middle = entry - gridCount;
  for (let moved = 0; moved < count; moved++) {
    const step = sampled(middle + 1) >= sampled(middle - 1) ? 1 : -1;
    if (sampled(middle + step) <= sampled(middle)) break;
    middle += step;
  }
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = middle - 1;
  let high = middle + 1;
  let a = high - golden * (high - low);
  let b = low + golden * (high - low);
  let va = value(a);
  let vb = value(b);
  for (let round = 0; round < 26; round++) {
    if (va >= vb) {
      high = b;
      b = a;
      vb = va;
      a = high - golden * (high - low);
      va = value(a);
    } else {
      low = a;
      a = b;
      va = vb;
      b = low + golden * (high - low);
      vb = value(b);
    }
  }
  const between = (low + high) / 2;
  const best = value(middle) >= value(between) ? middle : between;
  return { kind: sign > 0 ? 'high' : 'low', height: sign * value(best), ...rimPoint(graph, best) };
};
