import type { Box, Point, Polygon } from '../geometry.js';
import { boxOf, distance, hypotenuse, lengthOf, signedDistanceToRing } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';
import type { OutlineIndex } from '../terrain/outline-index.js';
import { indexOutline } from '../terrain/outline-index.js';
import { traceIsolines } from '../terrain/regions/isolines.js';
import { assembleRegion, clipToOutline } from '../terrain/regions/region.js';
import { type BreakMap, type MapNodes, type NodeMap, placeOfNode } from './break-map.js';
import { HOLE_RADIUS } from './capture.js';
import { onGreenOf } from './on-green.js';

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

export interface Lane {
  readonly side: 'above' | 'below';
  /** From the hole outwards: the places of no break. */
  readonly axis: readonly Point[];
  readonly polygon: Polygon;
  readonly length: number;
  /** Mean width, metres. */
  readonly width: number;
}

/** Where to leave an approach: ground from which the putt climbs and breaks little. */
export interface Leave {
  readonly polygons: readonly Polygon[];
  /** The place in it with the most room to every side. */
  readonly best: Point;
  /** That room: distance to the nearest ground that is worse, metres. */
  readonly room: number;
}

/** A quarter of the hole's width: under it a putt is straight. */
const STRAIGHT = (2 * HOLE_RADIUS) / 4;
/** Under a whole hole's width of break, a putt that climbs is an easy one. Common practice, no source. */
const EASY = 2 * HOLE_RADIUS;
/** A leave is looked for this near the hole, metres, and not nearer than the other. */
const FARTHEST_LEAVE = 6;
const NEAREST_LEAVE = 0.6;
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

/** Bilinear value of a field at the nodes of a map; NaN where a corner has none. */
const mapAt = (map: MapNodes, field: (node: number) => number, x: number, y: number): number => {
  const u = (x - map.originX) / map.step;
  const v = (y - map.originY) / map.step;
  const i = Math.floor(u);
  const j = Math.floor(v);
  if (i < 0 || j < 0 || i + 1 >= map.columns || j + 1 >= map.rows) return Number.NaN;
  const s = u - i;
  const t = v - j;
  const n = j * map.columns + i;
  return (
    (field(n) * (1 - s) + field(n + 1) * s) * (1 - t) +
    (field(n + map.columns) * (1 - s) + field(n + map.columns + 1) * s) * t
  );
};

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
const laneAlong = (
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

/** Ground on the green where a field of the map is at or over a level. */
const groundOver = (
  outline: OutlineIndex,
  map: MapNodes,
  value: Float64Array,
  level: number,
): Polygon[] => {
  const pieces = clipToOutline(outline, traceIsolines({ ...map, value }, level));
  const [x, y] = outline.ring[0];
  return assembleRegion(outline, pieces, mapAt(map, (node) => value[node], x, y) >= level);
};

/**
 * How easy a putt a leave at each node has, as a length to spare, metres: under 0 it is no leave. Each test is
 * such a length, so that the border lies where the first of them fails. Held to 1 either way.
 */
const spareOf = (map: NodeMap): Float64Array => {
  const { hole, settings } = map;
  const value = new Float64Array(map.columns * map.rows).fill(-1);
  for (let node = 0; node < value.length; node++) {
    const [x, y] = placeOfNode(map, node);
    const away = hypotenuse(x - hole[0], y - hole[1]);
    // So far off that whatever is there does not count.
    if (FARTHEST_LEAVE - away <= -1) continue;
    const climb = map.paceAt(node) - away - settings.past;
    const spare = Math.min(
      EASY - Math.abs(map.aimAt(node)),
      climb,
      FARTHEST_LEAVE - away,
      away - NEAREST_LEAVE,
    );
    if (!Number.isNaN(spare)) value[node] = Math.max(-1, Math.min(1, spare));
  }
  return value;
};

/** Distance from a place to the border of a polygon, negative outside. */
const clearOf = (polygon: Polygon, x: number, y: number): number =>
  polygon.reduce(
    (least, ring, k) => Math.min(least, (k === 0 ? -1 : 1) * signedDistanceToRing(ring, x, y)),
    Infinity,
  );

/** The place in some polygons that is farthest from their borders, on a raster; null where there is none. */
const roomiest = (
  polygons: readonly Polygon[],
  { minX, minY, maxX, maxY }: Box,
  step: number,
): Pick<Leave, 'best' | 'room'> | null => {
  let best: Point | null = null;
  let room = 0;
  for (let y = minY; y <= maxY; y += step) {
    // From one place to the next the distance to a border grows by the way between them at most.
    const passed = polygons.map(() => Number.NEGATIVE_INFINITY);
    for (let x = minX; x <= maxX; x += step) {
      polygons.forEach((polygon, k) => {
        if (x < passed[k]) return;
        const clear = clearOf(polygon, x, y);
        passed[k] = x + room - clear;
        if (clear > room + 1e-9) {
          room = clear;
          best = [x, y];
        }
      });
    }
  }
  return best === null ? null : { best, room };
};

/** Ground near the hole from which a putt climbs and breaks by less than the hole's width. */
const leaveOf = (surface: Surface, map: NodeMap): Leave | null => {
  const outline = indexOutline(surface.outline, boxOf(surface.outline), map.step);
  const polygons = groundOver(outline, map, spareOf(map), 0);
  const found = roomiest(polygons, boxOf(surface.outline), map.step / 2);
  return found === null ? null : { polygons, ...found };
};

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
