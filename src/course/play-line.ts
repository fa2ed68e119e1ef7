import { distance, nearestOnSegment, type Point } from '../geometry.js';
import { localPlane, type Plane } from '../survey/crs/plane.js';
import type { HoleSite } from './course.js';
import type { FeatureKind, LonLat, MapFeature } from './course-map.js';
import { centroidOf } from './frame.js';
import { geodesicDistance } from './geodesy.js';
import { middleOf } from './hole-site.js';

/**
 * The line of play of one hole in a flat frame centred on it (transverse Mercator, true to scale within
 * a hole to a tenth of a millimetre). The frame serves to find places; lengths shown are measured between them on
 * the ellipsoid.
 */
export interface PlayLine {
  readonly plane: Plane;
  /** From the rearmost tee by the corners to the middle of the green, metres in `plane`. */
  readonly points: readonly Point[];
}

export const onPlane = (plane: Plane, [longitude, latitude]: LonLat): Point =>
  plane.toPlane(longitude, latitude);

export const onMap = (plane: Plane, [x, y]: Point): LonLat => plane.toMap(x, y);

/** Length on the ellipsoid between two places of a plane, metres. */
export const trueDistance = (plane: Plane, a: Point, b: Point): number =>
  geodesicDistance(onMap(plane, a), onMap(plane, b));

export const trueLength = (plane: Plane, line: readonly Point[]): number => {
  let sum = 0;
  for (let i = 1; i < line.length; i++) sum += trueDistance(plane, line[i - 1], line[i]);
  return sum;
};

/** Width of a stream drawn as a line, when its tag `width` states none, metres. */
const STREAM = 2;

/** A band round a line, as a ring. */
const bandRound = (line: readonly Point[], half: number): Point[] => {
  const side = (sign: 1 | -1): Point[] =>
    line.map((p, i) => {
      const a = line[Math.max(0, i - 1)];
      const b = line[Math.min(line.length - 1, i + 1)];
      const reach = distance(a, b) || 1;
      return [
        p[0] + (sign * half * (b[1] - a[1])) / reach,
        p[1] - (sign * half * (b[0] - a[0])) / reach,
      ];
    });
  return [...side(1), ...side(-1).reverse()];
};

/** A feature's outer ring in a plane; a stream drawn as a line is a band of its width. */
export const ringOnPlane = (plane: Plane, feature: MapFeature): Point[] => {
  if (feature.shape.kind === 'area') return feature.shape.rings[0].map((at) => onPlane(plane, at));
  if (feature.shape.kind === 'line' && feature.kind === 'water') {
    const stated = Number.parseFloat(feature.tags.width ?? '');
    const width = stated > 0 && stated < 100 ? stated : STREAM;
    return bandRound(
      feature.shape.points.map((at) => onPlane(plane, at)),
      width / 2,
    );
  }
  return [];
};

/** The outer rings of all features of some kinds. */
export const ringsOf = (
  plane: Plane,
  features: readonly MapFeature[],
  kinds: readonly FeatureKind[],
): Point[][] =>
  features
    .filter(({ kind }) => kinds.includes(kind))
    .map((one) => ringOnPlane(plane, one))
    .filter((ring) => ring.length > 2);

/** The middle of a tee or a green: the centroid of its area. */
export const centreOf = (plane: Plane, feature: MapFeature): Point =>
  feature.shape.kind === 'area'
    ? centroidOf(ringOnPlane(plane, feature))
    : onPlane(plane, middleOf(feature));

/** How far along a line, and how far to its right, a point lies (at the nearest place of the line). */
export const stationOf = (
  line: readonly Point[],
  at: Point,
): { readonly along: number; readonly off: number } => {
  let best = { along: 0, off: Infinity };
  let walked = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const near = nearestOnSegment(a, b, at);
    const off = distance(near, at);
    if (off < Math.abs(best.off)) {
      const cross = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]);
      best = { along: walked + distance(a, near), off: cross > 0 ? -off : off };
    }
    walked += distance(a, b);
  }
  return best;
};

/** The place `along` metres from the start of a line; the line goes straight on past its ends. */
export const placeAlong = (
  line: readonly Point[],
  along: number,
): { readonly at: Point; readonly toward: Point } => {
  let left = along;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const side = distance(a, b);
    if (side > 0 && (left <= side || i === line.length - 1)) {
      const toward: Point = [(b[0] - a[0]) / side, (b[1] - a[1]) / side];
      return { at: [a[0] + left * toward[0], a[1] + left * toward[1]], toward };
    }
    left -= side;
  }
  return { at: line[0], toward: [0, 1] };
};

/** The part of a line from a place on, beginning at `start` (a tee beside the line). */
export const lineFrom = (line: readonly Point[], start: Point): Point[] => {
  const { along } = stationOf(line, start);
  const rest: Point[] = [start];
  let walked = 0;
  for (let i = 1; i < line.length; i++) {
    walked += distance(line[i - 1], line[i]);
    // A corner less than a stride ahead of the tee is the tee itself.
    if (walked > along + 1 || i === line.length - 1) rest.push(line[i]);
  }
  return rest;
};

/** The hole's line with its end moved to the middle of the green, in a frame centred on the hole. */
export const playLineOf = (site: HoleSite): PlayLine | null => {
  if (site.line === null) return null;
  const [first, last] = [site.line[0], site.line[site.line.length - 1]];
  const plane = localPlane((first[0] + last[0]) / 2, (first[1] + last[1]) / 2);
  const points = site.line.map((at) => onPlane(plane, at));
  if (site.green !== null) points[points.length - 1] = centreOf(plane, site.green);
  return { plane, points };
};
