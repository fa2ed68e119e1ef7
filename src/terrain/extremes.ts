import type { Point } from '../geometry.js';
import { distance } from '../geometry.js';
import { H, JET_SIZE } from '../surface/surface.js';
import type { LevelPoint } from './critical-points.js';
import { extremeNear, levelPointNear, levelPoints } from './critical-points.js';
import type { GroundGrid } from './ground-grid.js';
import { nearestNode } from './ground-grid.js';
import type { GroundGraph, Pair } from './persistence.js';
import { graphOfGround, persistencePairs } from './persistence.js';
import type { CriticalPoint } from './reading.js';

/** Golden-section search for the highest (sign 1) or lowest outline point within two samples of an entry. */
const edgeExtreme = (
  grid: GroundGrid,
  graph: GroundGraph,
  entry: number,
  sign: 1 | -1,
): LevelPoint => {
  const { surface, outline } = grid;
  const rimCount = graph.count - graph.gridCount;
  const jet = new Float64Array(JET_SIZE);
  const at = (s: number): Point => {
    const k = Math.floor(s);
    const a = graph.gridCount + (((k % rimCount) + rimCount) % rimCount);
    const b = graph.gridCount + ((((k + 1) % rimCount) + rimCount) % rimCount);
    const f = s - k;
    return [graph.x[a] + f * (graph.x[b] - graph.x[a]), graph.y[a] + f * (graph.y[b] - graph.y[a])];
  };
  const value = (s: number): number => {
    const [x, y] = at(s);
    surface.at(x, y, jet);
    return sign * jet[H];
  };
  void outline;
  const golden = (Math.sqrt(5) - 1) / 2;
  const middle = entry - graph.gridCount;
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
  const best = value(middle) >= value((low + high) / 2) ? middle : (low + high) / 2;
  return { kind: sign > 0 ? 'high' : 'low', at: at(best), height: sign * value(best) };
};

/** How sure a difference of height between two points is, standard deviation in metres. */
export type ReliefSd = (a: Point, b: Point) => number;

export interface ExtremeOptions {
  /** Least relief of a high or low point that is shown, metres. */
  readonly minRelief: number;
  /** Relief must also exceed this many standard deviations of its own error. */
  readonly reliefSigmas: number;
}

export interface Extremes {
  readonly points: readonly CriticalPoint[];
  /** Every place where the surface is level, shown or not. */
  readonly level: readonly LevelPoint[];
  readonly graph: GroundGraph;
}

/** High and low points that outlast the survey's noise, and the saddles between them. */
export const findExtremes = (
  grid: GroundGrid,
  reliefSd: ReliefSd | null,
  options: ExtremeOptions,
): Extremes => {
  const level = levelPoints(grid);
  const graph = graphOfGround(grid);
  const points: CriticalPoint[] = [];
  const nearSaddle = (entry: number): LevelPoint | null => {
    let best: LevelPoint | null = null;
    let reach = 2.5 * grid.step;
    for (const point of level) {
      if (point.kind !== 'saddle') continue;
      const d = distance(point.at, [graph.x[entry], graph.y[entry]]);
      if (d < reach) {
        reach = d;
        best = point;
      }
    }
    return best;
  };
  const refine = (entry: number, sign: 1 | -1): { point: LevelPoint; onEdge: boolean } => {
    if (entry >= graph.gridCount) {
      return { point: edgeExtreme(grid, graph, entry, sign), onEdge: true };
    }
    const x = graph.x[entry];
    const y = graph.y[entry];
    const kind = sign > 0 ? 'high' : 'low';
    const newton = levelPointNear(grid.surface, x, y, grid.step);
    const point =
      newton !== null && newton.kind === kind
        ? newton
        : (extremeNear(grid.surface, x, y, grid.step, sign) ?? {
            kind,
            at: [x, y] as Point,
            height: graph.height[entry],
          });
    return { point: { ...point, kind }, onEdge: false };
  };
  const take = (pair: Pair, sign: 1 | -1): void => {
    const { point, onEdge } = refine(pair.birth, sign);
    const pass = pair.death < 0 ? null : nearSaddle(pair.death);
    const passHeight =
      pair.death < 0
        ? point.height - sign * pair.relief
        : (pass?.height ?? graph.height[pair.death]);
    const passAt: Point | null =
      pair.death < 0 ? null : (pass?.at ?? [graph.x[pair.death], graph.y[pair.death]]);
    const relief = sign * (point.height - passHeight);
    const sd = reliefSd === null || passAt === null ? 0 : reliefSd(point.at, passAt);
    if (relief < Math.max(options.minRelief, options.reliefSigmas * sd)) return;
    points.push({ kind: point.kind, at: point.at, height: point.height, relief, onEdge });
    if (pass !== null && !points.some((other) => other.at === pass.at)) {
      points.push({ kind: 'saddle', at: pass.at, height: pass.height, relief, onEdge: false });
    }
  };
  for (const sign of [1, -1] as const) {
    for (const pair of persistencePairs(graph, sign, options.minRelief / 2)) take(pair, sign);
  }
  points.sort(
    (a, b) =>
      KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) || b.relief - a.relief || a.at[0] - b.at[0],
  );
  return { points, level, graph };
};

const KINDS = ['high', 'low', 'saddle'] as const;

/** Whether a point is within the node of a critical point. */
export const isAtNode = (grid: GroundGrid, point: Point, node: number): boolean =>
  nearestNode(grid, point[0], point[1]) === node;
