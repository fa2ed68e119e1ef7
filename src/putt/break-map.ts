import type { Point } from '../geometry.js';
import { boxOf, distance, hypotenuse } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { confirm, leastDemanding } from './candidates.js';
import { HOLE_RADIUS } from './capture.js';
import type { Fan } from './fan.js';
import { fanFrom } from './fan.js';
import { isSame, launchesInPatch } from './fan-patch.js';
import type { PuttSettings } from './putt.js';
import type { Launch } from './shoot.js';
import { launchSpeedOf } from './shoot.js';
import type { PuttGround } from './workspace.js';
import { paceOf, puttGround } from './workspace.js';

/** The nodes of a map of putts: a square grid, row by row from its lower left. */
export interface MapNodes {
  readonly hole: Point;
  readonly settings: PuttSettings;
  readonly originX: number;
  readonly originY: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
}

/** A map of which a node is worked out when it is asked for: aim and pace as in `BreakMap`. */
export interface NodeMap extends MapNodes {
  readonly aimAt: (node: number) => number;
  readonly paceAt: (node: number) => number;
}

/**
 * Aim and pace of a ball anywhere on a green, for one hole location: values at the nodes of a square
 * grid, row by row from its lower left. NaN where no pace holds the putt, in the hole, and farther than
 * a node from the green (nodes just outside carry the lines up to the edge).
 */
export interface BreakMap extends MapNodes {
  /** Aim beside the hole's centre, metres, positive left (`PuttSolution.aimOffset`). */
  readonly aim: Float64Array;
  /** Length of the level putt with the same launch speed, metres. */
  readonly pace: Float64Array;
  /** Number of different putts that hold from the node. */
  readonly choices: Uint8Array;
  /** 1 where the putt crosses ground that nothing is known of, and so has no value; null where there is none. */
  readonly unknown: Uint8Array | null;
}

/** Whether a way, point after point, crosses ground that nothing is known of; null: none does. */
export type CrossesUnknown = ((way: readonly Point[]) => boolean) | null;

/** Spacing of the map's nodes, metres. */
const MAP_STEP = 0.5;

const nodesOver = (surface: Surface, hole: Point, settings: PuttSettings): MapNodes => {
  const step = MAP_STEP;
  const box = boxOf(surface.outline);
  // Nodes lie at multiples of the step, so that maps of neighbouring holes share them.
  const originX = (Math.floor(box.minX / step) - 1) * step;
  const originY = (Math.floor(box.minY / step) - 1) * step;
  const columns = Math.ceil((box.maxX - originX) / step) + 2;
  const rows = Math.ceil((box.maxY - originY) / step) + 2;
  return { hole, settings, originX, originY, step, columns, rows };
};

/** Where a node is. */
export const placeOfNode = ({ originX, originY, step, columns }: MapNodes, node: number): Point => [
  originX + (node % columns) * step,
  originY + Math.floor(node / columns) * step,
];

/** What is known of a node: NaN for an aim and a pace that it has not. */
interface NodePutt {
  readonly aim: number;
  readonly pace: number;
  readonly choices: number;
  readonly unknown: boolean;
}

const NO_PUTT: NodePutt = { aim: Number.NaN, pace: Number.NaN, choices: 0, unknown: false };
const UNKNOWN_PUTT: NodePutt = { ...NO_PUTT, unknown: true };

/**
 * The putt of a node, by one fan of motions backward from the hole. A node is read off the fan's patches;
 * where several putts hold, the forward motion ranks them and the least demanding is shown.
 */
const puttsOfNodes = (
  surface: Surface,
  nodes: MapNodes,
  crossesUnknown: CrossesUnknown,
): ((node: number) => NodePutt) => {
  const { hole, settings, step } = nodes;
  const w = puttGround(surface, settings);
  const launchesAt = launchesOfNodes(fanFrom(w, hole), nodes);
  return (node) => {
    const ball = placeOfNode(nodes, node);
    if (distance(ball, hole) <= HOLE_RADIUS || !isNearGreen(w, ball, step)) return NO_PUTT;
    const found = launchesAt(node);
    const launch = found.length > 1 ? bestLaunch(w, ball, hole, found) : (found[0] ?? null);
    if (crossesUnknown?.(wayOf(w, ball, hole, launch)) === true) return UNKNOWN_PUTT;
    if (launch === null) return NO_PUTT;
    const lx = hole[0] - ball[0];
    const ly = hole[1] - ball[1];
    const across = lx * launch.vy - ly * launch.vx;
    const along = lx * launch.vx + ly * launch.vy;
    return {
      aim: along > 0 ? (hypotenuse(lx, ly) * across) / along : Number.NaN,
      pace: paceOf(w, launchSpeedOf(w, ball, launch)),
      choices: found.length,
      unknown: false,
    };
  };
};

/** The map of all nodes. */
export const breakMap = (
  surface: Surface,
  hole: Point,
  settings: PuttSettings,
  crossesUnknown: CrossesUnknown = null,
): BreakMap => {
  const nodes = nodesOver(surface, hole, settings);
  const puttOf = puttsOfNodes(surface, nodes, crossesUnknown);
  const count = nodes.columns * nodes.rows;
  const aim = new Float64Array(count);
  const pace = new Float64Array(count);
  const choices = new Uint8Array(count);
  const unknown = crossesUnknown === null ? null : new Uint8Array(count);
  for (let node = 0; node < count; node++) {
    const putt = puttOf(node);
    aim[node] = putt.aim;
    pace[node] = putt.pace;
    choices[node] = putt.choices;
    if (unknown !== null && putt.unknown) unknown[node] = 1;
  }
  return { ...nodes, aim, pace, choices, unknown };
};

/** The same map for those who ask for few of its nodes. */
export const nodeMap = (
  surface: Surface,
  hole: Point,
  settings: PuttSettings,
  crossesUnknown: CrossesUnknown = null,
): NodeMap => {
  const nodes = nodesOver(surface, hole, settings);
  const puttOf = puttsOfNodes(surface, nodes, crossesUnknown);
  const known: (NodePutt | undefined)[] = new Array(nodes.columns * nodes.rows).fill(undefined);
  const at = (node: number): NodePutt => {
    const found = known[node] ?? puttOf(node);
    known[node] = found;
    return found;
  };
  return { ...nodes, aimAt: (node) => at(node).aim, paceAt: (node) => at(node).pace };
};

/** A map of all nodes for those who ask for few. */
export const nodesOf = (map: BreakMap): NodeMap => ({
  ...map,
  aimAt: (node) => map.aim[node],
  paceAt: (node) => map.pace[node],
});

/** The way of a putt; without one the straight line. */
const wayOf = (w: PuttGround, ball: Point, hole: Point, launch: Launch | null): readonly Point[] =>
  (launch === null ? null : confirm(w, ball, hole, launch)?.leg.path) ?? [ball, hole];

const bestLaunch = (
  w: PuttGround,
  ball: Point,
  hole: Point,
  launches: readonly Launch[],
): Launch => {
  const confirmed = launches.flatMap((launch) => confirm(w, ball, hole, launch) ?? []);
  return leastDemanding(w, confirmed)?.launch ?? launches[0];
};

const isNearGreen = (w: PuttGround, [x, y]: Point, step: number): boolean => {
  for (const dx of [0, -step, step]) {
    for (const dy of [0, -step, step]) if (w.onGreen(x + dx, y + dy)) return true;
  }
  return false;
};

/** The fan's patches filed by the nodes in their boxes: those of node n are patches[starts[n]] to patches[starts[n + 1] - 1]. */
const patchesByNode = (
  { patches: { boxes, count } }: Fan,
  { originX, originY, step, columns, rows }: MapNodes,
): { readonly starts: Int32Array; readonly patches: Int32Array } => {
  const overNodes = (visit: (node: number, patch: number) => void): void => {
    for (let k = 0; k < count; k++) {
      const c0 = Math.max(0, Math.ceil((boxes[4 * k] - originX) / step));
      const r0 = Math.max(0, Math.ceil((boxes[4 * k + 1] - originY) / step));
      const c1 = Math.min(columns - 1, Math.floor((boxes[4 * k + 2] - originX) / step));
      const r1 = Math.min(rows - 1, Math.floor((boxes[4 * k + 3] - originY) / step));
      for (let r = r0; r <= r1; r++) for (let c = c0; c <= c1; c++) visit(r * columns + c, k);
    }
  };
  const starts = new Int32Array(columns * rows + 1);
  overNodes((node) => {
    starts[node + 1] += 1;
  });
  for (let node = 0; node < columns * rows; node++) starts[node + 1] += starts[node];
  const next = starts.slice();
  const patches = new Int32Array(starts[columns * rows]);
  overNodes((node, patch) => {
    patches[next[node]++] = patch;
  });
  return { starts, patches };
};

/** The fan's launches from a node, in the order of its patches. */
const launchesOfNodes = (fan: Fan, nodes: MapNodes): ((node: number) => Launch[]) => {
  const { starts, patches } = patchesByNode(fan, nodes);
  return (node) => {
    const [x, y] = placeOfNode(nodes, node);
    const found: Launch[] = [];
    for (let k = starts[node]; k < starts[node + 1]; k++) {
      for (const launch of launchesInPatch(fan, patches[k], x, y)) {
        if (!found.some((other) => isSame(other, launch))) found.push(launch);
      }
    }
    return found;
  };
};
