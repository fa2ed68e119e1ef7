import type { Point } from '../../geometry.js';
import type { Surface } from '../../surface/surface.js';
import type { GroundPoint } from '../fall-line.js';
import { sampleGround } from '../ground-grid.js';
import type { LineIndex } from '../line-index.js';
import { addLine, newLineIndex } from '../line-index.js';
import { graphOfGround } from '../points/persistence.js';
import type { Reading, Stream } from '../reading.js';
import type { NetworkLine } from './catchments.js';
import { type DrainageOptions, drainGround } from './drainage.js';
import type { Drainage } from './drained-ground.js';
import { drawnGrounds } from './drawn-ground.js';

/** What is known of a green's water before any is poured. */
export interface WaterGround {
  readonly drainage: Drainage;
  readonly draws: readonly Drainage[];
  readonly declared: readonly Point[];
  readonly reading: Pick<Reading, 'streams' | 'critical' | 'valleys' | 'hollows'>;
  /** The drainage lines, each as far as it joins another, and the whole way from each. */
  readonly lines: readonly NetworkLine[];
  readonly index: LineIndex;
}

/** A drainage line's mouth lies on the stream that it joins, to this, metres. */
export const ON_LINE = 1e-5;

/** The segment of a line on which a point lies, or -1. */
const segmentAt = (points: readonly GroundPoint[], [x, y]: GroundPoint): number => {
  for (let v = 0; v + 1 < points.length; v++) {
    const [ax, ay] = points[v];
    const [dx, dy] = [points[v + 1][0] - ax, points[v + 1][1] - ay];
    const t = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1);
    const s = Math.min(1, Math.max(0, t));
    if (Math.hypot(ax + s * dx - x, ay + s * dy - y) < ON_LINE) return v;
  }
  return -1;
};

/** One way and its rest, which may begin with the place where the first ends. */
export const goingOn = (
  way: readonly GroundPoint[],
  rest: readonly GroundPoint[],
): GroundPoint[] => {
  const [x, y] = way[way.length - 1];
  const first = rest.findIndex((p) => Math.hypot(p[0] - x, p[1] - y) > ON_LINE);
  return first < 0 ? [...way] : [...way, ...rest.slice(first)];
};

/** The way down a drainage line and those that it joins, to the place where the water leaves. */
const wholeWay = (streams: readonly Stream[], k: number): GroundPoint[] => {
  let way: GroundPoint[] = [...streams[k].points];
  let at = k;
  for (let legs = 0; streams[at].mouth === 'stream' && legs < streams.length; legs++) {
    const last = way[way.length - 1];
    const segments = streams.map((one, m) => (m === at ? -1 : segmentAt(one.points, last)));
    const next = segments.findIndex((segment) => segment >= 0);
    if (next < 0) break;
    way = goingOn(way, streams[next].points.slice(segments[next] + 1));
    at = next;
  }
  return way;
};

type WaterOptions = DrainageOptions & { readonly gridStep: number };

/** What `waterGround` does, in steps that are short each: it pauses after each of them, and ends with the green drained. */
export function* drainInSteps(
  surface: Surface,
  reading: WaterGround['reading'],
  options: WaterOptions,
): Generator<void, WaterGround, void> {
  const grid = sampleGround(surface, options.gridStep);
  const drainage = drainGround(grid, graphOfGround(grid), options);
  const lines = reading.streams.map((_, k): NetworkLine => {
    return { points: wholeWay(reading.streams, k), parent: -1, joint: 0 };
  });
  const index = newLineIndex(0.5);
  reading.streams.forEach(({ points }, k) => {
    addLine(index, k, points);
  });
  yield;
  const draws: Drainage[] = [];
  for (const drawn of drawnGrounds(surface, options)) {
    draws.push(drawn);
    yield;
  }
  return { drainage, draws, declared: options.drains, reading, lines, index };
}

/** Drains a green once for all water that is poured on it; `reading` is of the same surface, whole. */
export const waterGround = (
  surface: Surface,
  reading: WaterGround['reading'],
  options: WaterOptions,
): WaterGround => {
  const steps = drainInSteps(surface, reading, options);
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
};
