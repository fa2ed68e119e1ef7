import { distance } from '../geometry.js';
import { degreesToRadians } from '../units.js';
import type { HoleSite } from './course.js';
import type { CourseMap, LonLat, MapFeature } from './course-map.js';
import { middleOf, ringOf } from './hole-site.js';
import { onPlane, type PlayLine, stationOf } from './play-line.js';

/** A feature without a number belongs to the hole whose line is nearest, no farther than this, metres. */
const WITHIN = 75;
/** Points of a feature that are looked at: enough for a fairway, cheap for a wood. */
const LOOKED_AT = 24;

const sample = (feature: MapFeature): LonLat[] => {
  const points = ringOf(feature);
  const step = Math.max(1, Math.floor(points.length / LOOKED_AT));
  return points.filter((_, i) => i % step === 0);
};

const nearTo = (play: PlayLine, feature: MapFeature): number => {
  let near = Infinity;
  for (const at of sample(feature)) {
    near = Math.min(near, Math.abs(stationOf(play.points, onPlane(play.plane, at)).off));
  }
  return near;
};

/** The lines of play of the whole course, for telling whose a feature is. */
export type OtherLines = ReadonlyMap<string, readonly LonLat[]>;

export const linesOfCourse = (map: CourseMap): OtherLines =>
  new Map(
    map.features.flatMap((one) =>
      one.kind === 'hole' && one.shape.kind === 'line'
        ? one.refs.map((ref): [string, readonly LonLat[]] => [
            ref,
            one.shape.kind === 'line' ? one.shape.points : [],
          ])
        : [],
    ),
  );

/** Roughly how far a feature's middle lies from a line of the map, metres; good enough to compare. */
const roughly = (line: readonly LonLat[], at: LonLat): number => {
  const squeeze = Math.cos(degreesToRadians(at[1]));
  const flat = ([longitude, latitude]: LonLat): [number, number] => [
    (longitude - at[0]) * squeeze * 111_320,
    (latitude - at[1]) * 111_320,
  ];
  return Math.abs(stationOf(line.map(flat), [0, 0]).off);
};

/**
 * The features that the page of a hole draws and measures: those that carry its number, and those
 * without a number that lie by its line and nearer to it than to any other (a fairway or a rough that
 * encloses the line's own part always does).
 */
export const featuresOfHole = (
  map: CourseMap,
  id: string,
  site: HoleSite,
  play: PlayLine,
  lines: OtherLines,
): MapFeature[] => {
  const start = play.points[0];
  const end = play.points[play.points.length - 1];
  const reach = distance(start, end) + 400;
  return map.features.filter((feature) => {
    if (feature.kind === 'hole') return false;
    if (feature.kind === 'green') return feature === site.green;
    if (feature.kind === 'tee') return site.tees.includes(feature);
    if (feature.refs.length > 0) return feature.refs.includes(id);
    const middle = middleOf(feature);
    if (distance(onPlane(play.plane, middle), start) > reach) return false;
    if (nearTo(play, feature) > WITHIN) return false;
    if (feature.kind === 'water' || feature.kind === 'wood' || feature.kind === 'rough')
      return true;
    const own = roughly(lines.get(id) ?? site.line ?? [], middle);
    for (const [other, line] of lines) {
      if (other !== id && roughly(line, middle) < own) return false;
    }
    return true;
  });
};
