import type { Point, Polygon } from '../geometry.js';
import { boxOf, distance, hypotenuse } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';
import { indexOutline } from '../terrain/outline-index.js';
import { type BreakMap, type NodeMap, placeOfNode } from './break-map.js';
import { HOLE_RADIUS } from './capture.js';
import { type Leave, leaveOf } from './leave.js';
import { groundOver } from './map-regions.js';
import { onGreenOf } from './on-green.js';
import { type Lane, laneAlong, STRAIGHT } from './straight-lane.js';

/**
 * What the ground means for a putt at one hole location. Metres, in the frame of the green; regions are
 * places of the ball.
 */
export interface PuttRegions {
  readonly hole: Point;
  /** Straight lanes: above and below the hole, where the break is under a quarter of the hole's width. */
  readonly lanes: readonly Lane[];
  readonly leave: Leave | null;
  /** Null where they were not asked for. */
  readonly bends: PuttBends | null;
}

/** How the whole of a green bends putts to one hole location. */
export interface PuttBends {
  /** Where every ball bends to the left (right), as seen from the ball, by more than a lane allows. */
  readonly left: readonly Polygon[];
  readonly right: readonly Polygon[];
  /** Where no pace holds a putt. */
  readonly noPace: readonly Polygon[];
}

/**
 * Lanes and the best leave, from aim and pace at the nodes that lie by them. (A room apart from the
 * reading of the ground, since it takes the solver; it borrows the reading's way of making regions.)
 */
export const lanesAndLeave = (surface: Surface, map: NodeMap): PuttRegions => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(map.hole[0], map.hole[1], jet);
  const grade = hypotenuse(jet[HX], jet[HY]) || 1;
  const up: Point = [jet[HX] / grade, jet[HY] / grade];
  const lanes = [
    laneAlong(surface, map, up, 'above'),
    laneAlong(surface, map, [-up[0], -up[1]], 'below'),
  ].filter((lane): lane is Lane => lane !== null);
  return { hole: map.hole, lanes, leave: leaveOf(surface, map), bends: null };
};

/** The map's field with the nodes without a value filled from their neighbours, so that its lines run through. */
const filledOut = (map: BreakMap, field: Float64Array): Float64Array => {
  // A place of which nothing is known breaks neither way.
  const out = field.map((value, n) => (map.unknown?.[n] === 1 ? 0 : value));
  let front: number[] = [];
  for (let n = 0; n < out.length; n++) if (!Number.isNaN(out[n])) front.push(n);
  if (front.length === 0) return out.fill(0);
  while (front.length > 0) {
    const next: number[] = [];
    for (const n of front) {
      const i = n % map.columns;
      const j = (n - i) / map.columns;
      for (const [di, dj] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ]) {
        if (i + di < 0 || j + dj < 0 || i + di >= map.columns || j + dj >= map.rows) continue;
        const other = (j + dj) * map.columns + i + di;
        if (!Number.isNaN(out[other])) continue;
        out[other] = out[n];
        next.push(other);
      }
    }
    front = next;
  }
  return out;
};

const negative = (field: Float64Array): Float64Array => field.map((value) => -value);

const bendsOf = (surface: Surface, map: BreakMap): PuttBends => {
  const outline = indexOutline(surface.outline, boxOf(surface.outline), map.step);
  const aim = filledOut(map, map.aim);
  const onGreen = onGreenOf(surface.outline);
  const missing = map.aim.map((value, node) => {
    const [x, y] = placeOfNode(map, node);
    // Nodes off the green and in the hole have no value either; they say nothing.
    const counts =
      map.unknown?.[node] !== 1 && onGreen(x, y) && distance([x, y], map.hole) > HOLE_RADIUS;
    return Number.isNaN(value) && counts ? 1 : 0;
  });
  return {
    // An aim to the left is a ball that bends to the right.
    right: groundOver(outline, map, aim, STRAIGHT),
    left: groundOver(outline, map, negative(aim), STRAIGHT),
    noPace: groundOver(outline, map, missing, 0.5),
  };
};

/** Lanes, the best leave and bends, from the map of aim and pace over the green. */
export const puttRegions = (surface: Surface, map: BreakMap): PuttRegions => ({
  ...lanesAndLeave(surface, {
    ...map,
    aimAt: (node) => map.aim[node],
    paceAt: (node) => map.pace[node],
  }),
  bends: bendsOf(surface, map),
});
