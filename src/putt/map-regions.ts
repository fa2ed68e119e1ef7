import type { Polygon } from '../geometry.js';
import type { OutlineIndex } from '../terrain/outline-index.js';
import { traceIsolines } from '../terrain/regions/isolines.js';
import { assembleRegion, clipToOutline } from '../terrain/regions/region.js';
import type { MapNodes } from './break-map.js';

/** Bilinear value of a field at the nodes of a map; NaN where a corner has none. */
export const mapAt = (
  map: MapNodes,
  field: (node: number) => number,
  x: number,
  y: number,
): number => {
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

/** Ground on the green where a field of the map is at or over a level. */
export const groundOver = (
  outline: OutlineIndex,
  map: MapNodes,
  value: Float64Array,
  level: number,
): Polygon[] => {
  const pieces = clipToOutline(outline, traceIsolines({ ...map, value }, level));
  const [x, y] = outline.ring[0];
  return assembleRegion(outline, pieces, mapAt(map, (node) => value[node], x, y) >= level);
};
