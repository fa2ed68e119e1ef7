import { InputFault } from '../fault.js';
import { distance, insideRing, nearestOnSegment, type Point } from '../geometry.js';
import type { HoleSite } from './course.js';
import type { CourseMap, LonLat, MapFeature } from './course-map.js';
import { geodesicDistance } from './geodesy.js';

/** How far a tee without a number may lie from the start of a hole's line, metres. */
const TEE_REACH = 60;
/** Forward tees lie beside the first part of the line: so much of it, and no farther from it, metres. */
const TEE_PART = 0.45;
const TEE_BESIDE = 22;
/** How far a green without a number may lie from the end of a hole's line, metres. */
const GREEN_REACH = 30;

export const ringOf = (feature: MapFeature): readonly LonLat[] =>
  feature.shape.kind === 'area'
    ? feature.shape.rings[0]
    : feature.shape.kind === 'line'
      ? feature.shape.points
      : [feature.shape.at];

/** The mean of a feature's points: near enough for telling which of two features is nearer. */
export const middleOf = (feature: MapFeature): LonLat => {
  const points = ringOf(feature);
  const sum = points.reduce(([x, y], p) => [x + p[0], y + p[1]], [0, 0]);
  return [sum[0] / points.length, sum[1] / points.length];
};

const reachTo = (feature: MapFeature, at: LonLat): number =>
  feature.shape.kind === 'area' && insideRing(feature.shape.rings[0], at[0], at[1])
    ? 0
    : Math.min(...ringOf(feature).map((p) => geodesicDistance(p, at)));

const nearest = (
  features: readonly MapFeature[],
  at: LonLat,
  within: number,
): MapFeature | null => {
  let best: MapFeature | null = null;
  let reach = within;
  for (const feature of features) {
    // A coarse test first: a degree of latitude is never shorter than 110 km.
    if (Math.abs(ringOf(feature)[0][1] - at[1]) * 110_000 > within + 2000) continue;
    const d = reachTo(feature, at);
    if (d <= reach) {
      reach = d;
      best = feature;
    }
  }
  return best;
};

const linesOf = (map: CourseMap): MapFeature[] =>
  map.features.filter((one) => one.kind === 'hole' && one.shape.kind === 'line');

/** The lines of play that carry this number. */
export const linesOfHole = (map: CourseMap, id: string): MapFeature[] =>
  linesOf(map).filter((one) => one.refs.includes(id));

const pointsOfLine = (line: MapFeature): readonly LonLat[] =>
  line.shape.kind === 'line' ? line.shape.points : [];

/** The line of the map runs from tee to green (OpenStreetMap wiki, golf=hole); one drawn the other way is turned. */
const playedWay = (points: readonly LonLat[], green: MapFeature | null): readonly LonLat[] =>
  green !== null && reachTo(green, points[0]) < reachTo(green, points[points.length - 1])
    ? [...points].reverse()
    : points;

/** Metres east and north of a place, near enough for comparing distances of some hundred metres. */
const flatRound =
  (home: LonLat) =>
  ([longitude, latitude]: LonLat): Point => {
    const squeeze = Math.cos((home[1] * Math.PI) / 180);
    return [(longitude - home[0]) * squeeze * 111_320, (latitude - home[1]) * 111_320];
  };

/** How far a tee lies from where a line is teed off: from its start, or from beside its first part; null when it does not. */
const teeingDistance = (tee: LonLat, line: readonly LonLat[]): number | null => {
  const flat = flatRound(tee);
  const points = line.map(flat);
  const toStart = Math.hypot(...points[0]);
  let length = 0;
  for (let i = 1; i < points.length; i++) length += distance(points[i - 1], points[i]);
  let beside = Infinity;
  let walked = 0;
  for (let i = 1; i < points.length && walked < TEE_PART * length; i++) {
    const near = nearestOnSegment(points[i - 1], points[i], [0, 0]);
    if (walked + distance(points[i - 1], near) <= TEE_PART * length) {
      beside = Math.min(beside, Math.hypot(...near));
    }
    walked += distance(points[i - 1], points[i]);
  }
  if (beside <= TEE_BESIDE) return Math.min(beside, toStart);
  return toStart <= TEE_REACH ? toStart : null;
};

/** A tee without a number belongs to the line that it is nearest to as a tee. */
const isTeeOf = (
  tee: MapFeature,
  line: readonly LonLat[],
  lines: readonly MapFeature[],
): boolean => {
  const at = middleOf(tee);
  const own = teeingDistance(at, line);
  if (own === null) return false;
  const ends = [line[0], line[line.length - 1]];
  return lines.every((other) => {
    const points = pointsOfLine(other);
    // The line itself, as drawn or turned round.
    if (ends.includes(points[0]) && ends.includes(points[points.length - 1])) return true;
    const theirs = teeingDistance(at, points);
    return theirs === null || theirs >= own;
  });
};

/**
 * The parts of the map that belong to one hole: its line by `ref`; its green by `ref`, else where the
 * line ends; its tees by `ref`, else those that lie at the start of this line or beside its first part,
 * and nearer to it than to any other.
 *
 * @throws InputFault when two lines or two greens claim the hole.
 */
export const siteOfHole = (map: CourseMap, id: string, greenId: string | null): HoleSite => {
  const lines = linesOfHole(map, id);
  if (lines.length > 1) {
    throw new InputFault(
      { file: map.file, place: lines[1].id },
      `a second line of play for hole ${id} (the first is ${lines[0].id})`,
      'keep the holes of one course in the map, or give the other course other numbers',
    );
  }
  const line = lines[0] ?? null;
  const raw = line === null ? null : pointsOfLine(line);
  const greens = map.features.filter((one) => one.kind === 'green' && one.shape.kind === 'area');
  const green = greenOf(map, id, greenId, greens, raw);
  const points = raw === null ? null : playedWay(raw, green);
  const tees = map.features.filter((one) => one.kind === 'tee');
  const own = tees.filter((one) => one.refs.includes(id));
  const found =
    own.length > 0 || points === null
      ? own
      : tees.filter((tee) => tee.refs.length === 0 && isTeeOf(tee, points, linesOf(map)));
  return {
    line: points,
    lineId: line?.id ?? null,
    green,
    tees: found,
    tags: line?.tags ?? green?.tags ?? {},
  };
};

const greenOf = (
  map: CourseMap,
  id: string,
  greenId: string | null,
  greens: readonly MapFeature[],
  line: readonly LonLat[] | null,
): MapFeature | null => {
  if (greenId !== null) {
    const named = greens.find((one) => one.id === greenId);
    if (named !== undefined) return named;
    throw new InputFault(
      { file: map.file },
      `no green with the id "${greenId}", which hole ${id} names`,
      `the greens of the map are ${greens
        .slice(0, 6)
        .map((one) => one.id)
        .join(', ')}${greens.length > 6 ? ' …' : ''}`,
    );
  }
  const own = greens.filter((one) => one.refs.includes(id));
  if (own.length === 1) return own[0];
  const end = line?.[line.length - 1];
  if (own.length > 1) {
    const at = end === undefined ? null : nearest(own, end, GREEN_REACH);
    if (at !== null) return at;
    throw new InputFault(
      { file: map.file, place: own[1].id },
      `a second green for hole ${id} (the first is ${own[0].id})`,
      'name one of them by the key "green" of the hole in the course file',
    );
  }
  if (line === null || end === undefined) return null;
  const free = greens.filter((one) => one.refs.length === 0);
  // A line drawn from green to tee ends at the tee: then its start tells the green.
  return nearest(free, end, GREEN_REACH) ?? nearest(free, line[0], GREEN_REACH);
};
