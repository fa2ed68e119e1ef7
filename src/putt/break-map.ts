import type { Point } from '../geometry.js';
import { boxOf, distance } from '../geometry.js';
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

/**
 * Aim and pace of a ball anywhere on a green, for one hole location: values at the nodes of a square
 * grid, row by row from its lower left. NaN where no pace holds the putt, in the hole, and farther than
 * a node from the green (nodes just outside carry the lines up to the edge).
 */
export interface BreakMap {
  readonly hole: Point;
  readonly settings: PuttSettings;
  readonly originX: number;
  readonly originY: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
  /** Aim beside the hole's centre, metres, positive left (`PuttSolution.aimOffset`). */
  readonly aim: Float64Array;
  /** Length of the level putt with the same launch speed, metres. */
  readonly pace: Float64Array;
  /** Number of different putts that hold from the node. */
  readonly choices: Uint8Array;
}

/** Spacing of the map's nodes, metres. */
const MAP_STEP = 0.5;

/**
 * The map by one fan of motions backward from the hole. Each node is read off the fan's patches;
 * where several putts hold, the forward motion ranks them and the least demanding is shown.
 */
export const breakMap = (
  surface: Surface,
  hole: Point,
  settings: PuttSettings,
  step = MAP_STEP,
): BreakMap => {
  const w = puttGround(surface, settings);
  const box = boxOf(surface.outline);
  // Nodes lie at multiples of the step, so that maps of neighbouring holes share them.
  const originX = (Math.floor(box.minX / step) - 1) * step;
  const originY = (Math.floor(box.minY / step) - 1) * step;
  const columns = Math.ceil((box.maxX - originX) / step) + 2;
  const rows = Math.ceil((box.maxY - originY) / step) + 2;
  const count = columns * rows;
  const aim = new Float64Array(count).fill(Number.NaN);
  const pace = new Float64Array(count).fill(Number.NaN);
  const choices = new Uint8Array(count);
  const launches = launchesAtNodes(fanFrom(w, hole), { originX, originY, step, columns, rows });
  for (let node = 0; node < count; node++) {
    const found = launches[node];
    const ball: Point = [
      originX + (node % columns) * step,
      originY + Math.floor(node / columns) * step,
    ];
    if (found === undefined || distance(ball, hole) <= HOLE_RADIUS) continue;
    if (!isNearGreen(w, ball, step)) continue;
    choices[node] = found.length;
    const launch = found.length === 1 ? found[0] : bestLaunch(w, ball, hole, found);
    const lx = hole[0] - ball[0];
    const ly = hole[1] - ball[1];
    const across = lx * launch.vy - ly * launch.vx;
    const along = lx * launch.vx + ly * launch.vy;
    aim[node] = along > 0 ? (Math.hypot(lx, ly) * across) / along : Number.NaN;
    pace[node] = paceOf(w, launchSpeedOf(w, ball, launch));
  }
  return { hole, settings, originX, originY, step, columns, rows, aim, pace, choices };
};

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

type MapNodes = Pick<BreakMap, 'originX' | 'originY' | 'step' | 'columns' | 'rows'>;

/** The fan's launches from each node of a grid: patch by patch, so that the cost is that of the nodes. */
const launchesAtNodes = (
  fan: Fan,
  { originX, originY, step, columns, rows }: MapNodes,
): (Launch[] | undefined)[] => {
  const { boxes, count } = fan.patches;
  const at: (Launch[] | undefined)[] = new Array(columns * rows).fill(undefined);
  for (let k = 0; k < count; k++) {
    const c0 = Math.max(0, Math.ceil((boxes[4 * k] - originX) / step));
    const r0 = Math.max(0, Math.ceil((boxes[4 * k + 1] - originY) / step));
    const c1 = Math.min(columns - 1, Math.floor((boxes[4 * k + 2] - originX) / step));
    const r1 = Math.min(rows - 1, Math.floor((boxes[4 * k + 3] - originY) / step));
    for (let r = r0; r <= r1; r++) {
      for (let c = c0; c <= c1; c++) {
        const node = r * columns + c;
        for (const launch of launchesInPatch(fan, k, originX + c * step, originY + r * step)) {
          const others = at[node];
          if (others === undefined) at[node] = [launch];
          else if (!others.some((other) => isSame(other, launch))) others.push(launch);
        }
      }
    }
  }
  return at;
};
