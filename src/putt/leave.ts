import type { Box, Point, Polygon } from '../geometry.js';
import { boxOf, hypotenuse, signedDistanceToRing } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { indexOutline } from '../terrain/outline-index.js';
import { type NodeMap, placeOfNode } from './break-map.js';
import { HOLE_RADIUS } from './capture.js';
import { groundOver } from './map-regions.js';

/** Where to leave an approach: ground from which the putt climbs and breaks little. */
export interface Leave {
  readonly polygons: readonly Polygon[];
  /** The place in it with the most room to every side. */
  readonly best: Point;
  /** That room: distance to the nearest ground that is worse, metres. */
  readonly room: number;
}

/** Under a whole hole's width of break, a putt that climbs is an easy one. Common practice, no source. */
const EASY = 2 * HOLE_RADIUS;
/** A leave is looked for this near the hole, metres, and not nearer than the other. */
const FARTHEST_LEAVE = 6;
const NEAREST_LEAVE = 0.6;
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
export const leaveOf = (surface: Surface, map: NodeMap): Leave | null => {
  const outline = indexOutline(surface.outline, boxOf(surface.outline), map.step);
  const polygons = groundOver(outline, map, spareOf(map), 0);
  const found = roomiest(polygons, boxOf(surface.outline), map.step / 2);
  return found === null ? null : { polygons, ...found };
};
