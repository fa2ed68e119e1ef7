import { InputFault } from '../fault.js';
import { insideRing } from '../geometry.js';
import type { HoleSite } from './course.js';
import type { CourseMap, LonLat, MapFeature } from './course-map.js';
import { geodesicDistance } from './geodesy.js';

/** How far a tee or a green without a number may lie from the end of a hole's line, metres. */
const TEE_REACH = 60;
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

/**
 * The parts of the map that belong to one hole: its line by `ref`; its green by `ref`, else where the
 * line ends; its tees by `ref`, else those that lie at the start of this line and of no other.
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
  const start = points?.[0];
  const starts = linesOf(map).map((one) => pointsOfLine(one)[0]);
  const found =
    own.length > 0 || start === undefined
      ? own
      : tees.filter((tee) => {
          if (tee.refs.length > 0) return false;
          const reach = reachTo(tee, start);
          return (
            reach <= TEE_REACH &&
            starts.every((other) => other === start || reachTo(tee, other) >= reach)
          );
        });
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
