import type { Course, Hole } from '../course/course.js';
import type { LonLat, MapFeature } from '../course/course-map.js';
import { rounded, shortDigest } from './short-digest.js';

/** Degrees: one centimetre on the ground. Maps that are written again round their coordinates. */
const PLACE = 1e7;

/** A place of a map, to the centimetre. */
export const mapPlace = ([longitude, latitude]: LonLat): [number, number] => [
  rounded(longitude, PLACE),
  rounded(latitude, PLACE),
];

/** The shape of what a map shows. */
export const placedShape = ({ shape }: MapFeature): unknown =>
  shape.kind === 'point'
    ? mapPlace(shape.at)
    : shape.kind === 'line'
      ? shape.points.map(mapPlace)
      : shape.rings.map((ring) => ring.map(mapPlace));

/** A digest of the edge of a hole's green; null where it has none. */
export const outlineOf = (hole: Hole): string | null => {
  if (hole.site.green !== null) return shortDigest(placedShape(hole.site.green));
  const site = hole.green ?? hole.outline ?? null;
  return site === null ? null : shortDigest(site.outline.map((p) => p.map((v) => rounded(v, 100))));
};

/** Where a course lies: the mean of a corner of each of its greens, or of its lines' starts. */
export const whereOf = ({ holes }: Course): readonly [number, number] | null => {
  const places = holes.flatMap(({ site }): LonLat[] => {
    const ring = site.green?.shape.kind === 'area' ? site.green.shape.rings[0] : site.line;
    return ring === null || ring === undefined ? [] : [ring[0]];
  });
  if (places.length === 0) return null;
  const mean = (i: 0 | 1): number =>
    rounded(places.reduce((sum, one) => sum + one[i], 0) / places.length, 1000);
  return [mean(0), mean(1)];
};
