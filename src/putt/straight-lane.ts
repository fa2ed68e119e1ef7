import type { Point, Polygon } from '../geometry.js';
import { distance, lengthOf } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import type { NodeMap } from './break-map.js';
import { HOLE_RADIUS } from './capture.js';
import { mapAt } from './map-regions.js';
import { onGreenOf } from './on-green.js';

export interface Lane {
  readonly side: 'above' | 'below';
  /** From the hole outwards: the places of no break. */
  readonly axis: readonly Point[];
  readonly polygon: Polygon;
  readonly length: number;
  /** Mean width, metres. */
  readonly width: number;
}

/** A quarter of the hole's width: under it a putt is straight. */
export const STRAIGHT = (2 * HOLE_RADIUS) / 4;
/** A lane is followed outwards in rings this far apart, from the first, metres. */
const RING = 0.25;
const FIRST_RING = 0.5;
/** Farther out a lane has both its borders, or it ends. */
const NEAR_HOLE = 1.5;
/** Half a lane is no wider than this, metres. */
const WIDEST = 2;
/** A lane's axis turns by no more than this from ring to ring, radians. */
const TURN = 0.35;
const SHORTEST_LANE = 1;

/**
 * Where the aim, walked by angle round the hole from `start`, first comes to `level`; null where it does
 * not within `reach` radians or where no putt holds.
 */
const angleOfAim = (
  aimAt: (angle: number) => number,
  start: number,
  level: number,
  reach: number,
): number | null => {
  const first = aimAt(start);
  if (Number.isNaN(first)) return null;
  const parts = 24;
  for (const turn of [1, -1]) {
    let last = first;
    for (let k = 1; k <= parts; k++) {
      const angle = start + (turn * reach * k) / parts;
      const value = aimAt(angle);
      if (Number.isNaN(value)) break;
      if ((last - level) * (value - level) <= 0 && last !== value) {
        const f = (level - last) / (value - last);
        return start + (turn * reach * (k - 1 + f)) / parts;
      }
      last = value;
    }
  }
  return null;
};

/** Follows the straight lane outwards from the hole, starting along `toward`. */
export const laneAlong = (
  surface: Surface,
  map: NodeMap,
  toward: Point,
  side: 'above' | 'below',
): Lane | null => {
  const { hole } = map;
  const isOnGreen = onGreenOf(surface.outline);
  const axis: Point[] = [];
  const left: Point[] = [];
  const right: Point[] = [];
  const onRing = (radius: number, angle: number): Point => [
    hole[0] + radius * Math.cos(angle),
    hole[1] + radius * Math.sin(angle),
  ];
  /** The border of the lane, or where the ring comes to the edge of the green before it. */
  const onGreen = (radius: number, middle: number, border: number): Point => {
    if (isOnGreen(...onRing(radius, border))) return onRing(radius, border);
    let [inside, outside] = [middle, border];
    for (let round = 0; round < 14; round++) {
      const angle = (inside + outside) / 2;
      if (isOnGreen(...onRing(radius, angle))) inside = angle;
      else outside = angle;
    }
    return onRing(radius, inside);
  };
  let heading = Math.atan2(toward[1], toward[0]);
  for (let radius = FIRST_RING; ; radius += RING) {
    const aimAt = (angle: number): number => {
      const [x, y] = onRing(radius, angle);
      return mapAt(map, map.aimAt, x, y);
    };
    const reach = axis.length === 0 ? 0.8 : TURN;
    const middle = angleOfAim(aimAt, heading, 0, reach);
    if (middle === null) {
      // A node of the map may lie in the hole, where no putt is: the rings that touch it are passed over.
      if (axis.length === 0 && radius < NEAR_HOLE) continue;
      break;
    }
    if (!isOnGreen(...onRing(radius, middle))) break;
    const one = angleOfAim(aimAt, middle, STRAIGHT, Math.PI / 2);
    const other = angleOfAim(aimAt, middle, -STRAIGHT, Math.PI / 2);
    if ((one === null || other === null) && radius > NEAR_HOLE) break;
    // So near the hole that every putt is straight: as wide as the quadrant.
    const a = one ?? middle + Math.PI / 4;
    const b = other ?? middle - Math.PI / 4;
    // Farther apart than any ground so even: the map breaks off between two kinds of putt.
    if (radius * Math.max(Math.abs(a - middle), Math.abs(b - middle)) > WIDEST && radius > WIDEST) {
      break;
    }
    axis.push(onRing(radius, middle));
    left.push(onGreen(radius, middle, Math.min(Math.max(a, b), middle + Math.PI / 4)));
    right.push(onGreen(radius, middle, Math.max(Math.min(a, b), middle - Math.PI / 4)));
    heading = middle;
  }
  if (axis.length < 2) return null;
  const length = lengthOf([hole, ...axis]);
  if (length < SHORTEST_LANE) return null;
  let width = 0;
  for (let k = 0; k < left.length; k++) width += distance(left[k], right[k]);
  return {
    side,
    axis: [hole, ...axis],
    polygon: [[hole, ...right, ...left.reverse()]],
    length,
    width: width / left.length,
  };
};
