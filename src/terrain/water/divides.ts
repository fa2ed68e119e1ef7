import type { Point } from '../../geometry.js';
import { distance, lengthOf } from '../../geometry.js';
import type { Surface } from '../../surface/surface.js';
import { HX, HXX, HXY, HY, HYY, JET_SIZE } from '../../surface/surface.js';
import { followFall } from '../fall-line.js';
import type { GroundGrid } from '../ground-grid.js';
import type { LineIndex } from '../line-index.js';
import { addLine, nearestLine, newLineIndex } from '../line-index.js';
import type { Extremes } from '../points/extremes.js';
import type { GroundGraph } from '../points/persistence.js';
import { persistencePairs } from '../points/persistence.js';
import type { Stream } from '../reading.js';
import type { Drainage } from './drained-ground.js';
import { gathering } from './gathering.js';
import { traceWater } from './water-line.js';

export interface DivideOptions {
  /** How far a spur must stand over the lower of the valleys beside it, along the edge: metres. */
  readonly minSpur: number;
  /** Divides shorter than this are not drawn, metres. */
  readonly leastDivide: number;
}

/** Lines that run this near each other are one. */
const JOIN_REACH = 0.4;
/** A divide keeps this far from any stream. */
const STREAM_CLEARANCE = 0.35;
/** First step off a saddle along its axis. */
const OFF_SADDLE = 0.05;
/** On a spur the contours bend outwards by more than this on average, 1/m. */
const SPUR_BEND = 0.02;
const SPUR_WINDOW = 3;

/** Unit vectors along which the ground rises (falls) fastest away from a saddle. */
const axisOf = (surface: Surface, at: Point, sign: 1 | -1): Point => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(at[0], at[1], jet);
  const angle = 0.5 * Math.atan2(2 * jet[HXY], jet[HXX] - jet[HYY]) + (sign > 0 ? 0 : Math.PI / 2);
  return [Math.cos(angle), Math.sin(angle)];
};

/** The two starts off a saddle, up (sign 1) or down (-1) its axis. */
const startsOff = (surface: Surface, at: Point, sign: 1 | -1): Point[] => {
  const [ux, uy] = axisOf(surface, at, sign);
  return [OFF_SADDLE, -OFF_SADDLE].map((d): Point => [at[0] + d * ux, at[1] + d * uy]);
};

/** The part of a line before it comes within reach of a filed line, led to that line. */
const untilNear = (line: readonly Point[], index: LineIndex, reach: number): Point[] => {
  const out: Point[] = [];
  for (const p of line) {
    const near = nearestLine(index, p[0], p[1], reach);
    if (near !== null) return out;
    out.push(p);
  }
  return out;
};

/** Entries of the outline where the ground falls outwards from a top of the edge: the feet of spurs. */
const spurFeet = (grid: GroundGrid, graph: GroundGraph, minSpur: number): number[] => {
  const count = graph.count - graph.gridCount;
  const starts = Int32Array.from({ length: count + 1 }, (_, k) => 2 * k);
  const links = new Int32Array(2 * count);
  for (let k = 0; k < count; k++) {
    links[2 * k] = (k + 1) % count;
    links[2 * k + 1] = (k + count - 1) % count;
  }
  const rim: GroundGraph = {
    ...graph,
    count,
    x: graph.x.subarray(graph.gridCount),
    y: graph.y.subarray(graph.gridCount),
    height: graph.height.subarray(graph.gridCount),
    gridCount: 0,
    starts,
    links,
  };
  const jet = new Float64Array(JET_SIZE);
  const { ring } = grid.outline;
  return persistencePairs(rim, 1, minSpur)
    .sort((a, b) => b.relief - a.relief)
    .map((pair) => pair.birth)
    .filter((k) => {
      const [ax, ay] = ring[graph.edge[k]];
      const [bx, by] = ring[(graph.edge[k] + 1) % ring.length];
      grid.surface.at(rim.x[k], rim.y[k], jet);
      return jet[HX] * (by - ay) - jet[HY] * (bx - ax) < 0;
    });
};

/** The lower part of a rising line, as far as the ground falls away to both sides of it. */
const alongSpur = (surface: Surface, line: readonly Point[]): Point[] => {
  const jet = new Float64Array(JET_SIZE);
  const bends = line.map(([x, y]) => Math.max(-1, Math.min(1, gathering(surface, x, y, jet))));
  let end = 0;
  for (let k = 0; k < line.length; k++) {
    let sum = 0;
    let length = 0;
    for (let m = k; m + 1 < line.length && length < SPUR_WINDOW; m++) {
      const step = distance(line[m], line[m + 1]);
      sum += step * bends[m];
      length += step;
    }
    if (length > 0 && sum / length > -SPUR_BEND) break;
    end = k;
  }
  return line.slice(0, end + 1);
};

/** Parts of a line that keep clear of the streams. */
const clearOf = (line: readonly Point[], streams: LineIndex, least: number): Point[][] => {
  const parts: Point[][] = [];
  let part: Point[] = [];
  const close = (): void => {
    if (part.length > 1 && lengthOf(part) >= least) parts.push(part);
    part = [];
  };
  for (const p of line) {
    if (nearestLine(streams, p[0], p[1], STREAM_CLEARANCE) === null) part.push(p);
    else close();
  }
  close();
  return parts;
};

const plan = (points: readonly (readonly [number, number, number])[]): Point[] =>
  points.map(([x, y]): Point => [x, y]);

/**
 * Divides: from each saddle up both sides to the high points, and from the feet of the spurs up the green,
 * where the ground falls away to both sides. They follow the surface's own lines of steepest rise, so
 * that no water crosses them.
 */
export const divideLines = (
  drainage: Drainage,
  extremes: Extremes,
  streams: readonly Stream[],
  options: DivideOptions,
): Point[][] => {
  const { grid } = drainage;
  const water = newLineIndex(0.5);
  streams.forEach((stream, k) => {
    addLine(water, k, stream.points);
  });
  const index = newLineIndex(0.5);
  const divides: Point[][] = [];
  const take = (line: readonly Point[]): void => {
    for (const part of clearOf(untilNear(line, index, JOIN_REACH), water, options.leastDivide)) {
      addLine(index, divides.length, part);
      divides.push(part);
    }
  };
  for (const saddle of extremes.points) {
    if (saddle.kind !== 'saddle') continue;
    const arms = startsOff(grid.surface, saddle.at, 1).map(([x, y]) =>
      plan(followFall(grid.surface, grid.outline, [x, y], 1).points),
    );
    // Both arms as one line through the saddle.
    take([...arms[0].reverse(), saddle.at, ...arms[1]]);
  }
  const { graph } = extremes;
  for (const k of spurFeet(grid, graph, options.minSpur)) {
    const entry = graph.gridCount + k;
    const walk = followFall(grid.surface, grid.outline, [graph.x[entry], graph.y[entry]], 1);
    take(alongSpur(grid.surface, plan(walk.points)));
  }
  return divides;
};

/** Valleys: the way of the water from each saddle down both sides, until it meets a stream or another valley. */
export const valleyLines = (
  drainage: Drainage,
  extremes: Extremes,
  streams: readonly Stream[],
): Point[][] => {
  const index = newLineIndex(0.5);
  streams.forEach((stream, k) => {
    addLine(index, k, stream.points);
  });
  const valleys: Point[][] = [];
  for (const saddle of extremes.points) {
    if (saddle.kind !== 'saddle') continue;
    const near: Point[][] = [];
    for (const [x, y] of startsOff(drainage.grid.surface, saddle.at, -1)) {
      const line = untilNear(plan(traceWater(drainage, x, y).points), index, JOIN_REACH);
      if (line.length > 1) near.push([saddle.at, ...line]);
    }
    for (const line of near) {
      addLine(index, streams.length + valleys.length, line);
      valleys.push(line);
    }
  }
  return valleys;
};
