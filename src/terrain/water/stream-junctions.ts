import type { Surface } from '../../surface/surface.js';
import { H, JET_SIZE } from '../../surface/surface.js';
import type { GroundPoint } from '../fall-line.js';
import { lengthOfLine } from '../fall-line.js';
import type { LineIndex } from '../line-index.js';
import { crossSegments, nearestLine } from '../line-index.js';
import type { NetworkLine } from './catchments.js';
import { lastOf } from './main-line.js';
import { bend, direction } from './smooth-way.js';
import type { WaterLine } from './water-line.js';
import { levelOff } from './water-line.js';

/** A tributary ends where it comes this near to a stream, metres. */
const JOIN_REACH = 0.4;
/** It meets the stream this far downstream of the nearest point. */
const JOIN_AHEAD = 0.8;
/** Its last piece may rise by this much, metres. */
const JOIN_RISE = 2e-4;
/** Mouths nearer than this are one mouth. */
const MOUTH_REACH = 1.5;

export interface Joined {
  readonly points: readonly GroundPoint[];
  /** Length before it joins, metres. */
  readonly length: number;
  readonly parent: number;
  readonly joint: number;
  readonly mouth: 'edge' | 'drain' | 'stream';
}

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
  near: { readonly line: number; readonly vertex: number },
  lines: readonly NetworkLine[],
): Joined | null => {
  const points = line.points.slice(0, k + 1);
  const from = points[k];
  const stream = lines[near.line].points;
  let joint = near.vertex;
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
  return joinedAt(points, near.line, joint);
};

const joinedAt = (points: readonly GroundPoint[], parent: number, joint: number): Joined => ({
  points: levelOff(points),
  length: lengthOfLine(points),
  parent,
  joint,
  mouth: 'stream',
});

/** Cuts a line where it comes to a stream that is already drawn; mouths nearer than `mouthReach` are one mouth. */
export const joinStreams = (
  surface: Surface,
  line: WaterLine,
  lines: readonly NetworkLine[],
  index: LineIndex,
  mouthReach = MOUTH_REACH,
): Joined => {
  const [ex, ey] = lastOf(line);
  const mouth = nearestLine(index, ex, ey, mouthReach);
  const reach = mouth === null ? JOIN_REACH : mouthReach;
  for (let k = 0; k < line.points.length; k++) {
    const [x, y] = line.points[k];
    const near = nearestLine(index, x, y, reach);
    if (near === null) continue;
    if (mouth !== null && near.line !== mouth.line && near.distance >= JOIN_REACH) continue;
    const joined = leadInto(surface, line, k, near, lines);
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
