import type { Point } from '../../geometry.js';
import { distance, insideRing } from '../../geometry.js';
import type { GroundGrid } from '../ground-grid.js';
import type { CriticalPoint } from '../reading.js';
import type { LevelPoint } from './critical-points.js';
import { extremeNear, levelPointNear, levelPoints } from './critical-points.js';
import type { GroundGraph, Pair } from './persistence.js';
import { graphOfGround, persistencePairs } from './persistence.js';
import { edgeExtreme } from './rim.js';

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
      return { point: edgeExtreme(grid.surface, graph, entry, sign), onEdge: true };
    }
    const x = graph.x[entry];
    const y = graph.y[entry];
    const kind = sign > 0 ? 'high' : 'low';
    const { surface, step } = grid;
    const onGreen = (point: LevelPoint): boolean => insideRing(grid.outline.ring, ...point.at);
    const newton = levelPointNear(surface, x, y, step);
    if (newton !== null && newton.kind === kind && onGreen(newton)) {
      return { point: newton, onEdge: false };
    }
    const searched = extremeNear(surface, x, y, step, sign);
    if (searched !== null && onGreen(searched)) return { point: searched, onEdge: false };
    // A node at the very edge, beyond which the ground goes on rising (falling).
    const rim = nearestSample(graph, x, y, 1.5 * step);
    if (rim >= 0) return { point: edgeExtreme(surface, graph, rim, sign), onEdge: true };
    return { point: { kind, at: [x, y], height: graph.height[entry] }, onEdge: false };
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

/** The sample of the outline nearest to a point within `reach`; -1 where there is none. */
const nearestSample = (graph: GroundGraph, x: number, y: number, reach: number): number => {
  let best = -1;
  let least = reach;
  for (let k = graph.gridCount; k < graph.count; k++) {
    const d = Math.hypot(graph.x[k] - x, graph.y[k] - y);
    if (d >= least) continue;
    least = d;
    best = k;
  }
  return best;
};

const KINDS = ['high', 'low', 'saddle'] as const;
