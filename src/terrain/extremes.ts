import type { Point } from '../geometry.js';
import { distance } from '../geometry.js';
import type { LevelPoint } from './critical-points.js';
import { extremeNear, levelPointNear, levelPoints } from './critical-points.js';
import type { GroundGrid } from './ground-grid.js';
import type { GroundGraph, Pair } from './persistence.js';
import { graphOfGround, persistencePairs } from './persistence.js';
import type { CriticalPoint } from './reading.js';
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
