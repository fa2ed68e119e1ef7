import { InputFault, idInPart, quoted } from '../fault.js';
import { insideRing } from '../geometry.js';
import type { HoleSite } from './course.js';
import type { CourseMap, LonLat, MapFeature } from './course-map.js';
import { geodesicDistance } from './geodesy.js';
import { holeAsWritten } from './named-hole.js';

/** Of several greens with a hole's number, the one within this of the end of its line, metres. */
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

/**
 * The parts of a settled map (`settleMap`) that belong to one hole: those that bear its number.
 *
 * @throws InputFault when two lines or two greens claim the hole.
 */
export const siteOfHole = (map: CourseMap, id: string, greenId: string | null): HoleSite => {
  const lines = linesOfHole(map, id);
  if (lines.length > 1) {
    throw new InputFault(
      { file: map.file, place: idInPart(lines[1].id) },
      `a second line of play for hole ${holeAsWritten(id)} (the first is ${idInPart(lines[0].id)})`,
      'keep the holes of one course in the map, or give the other course other numbers',
    );
  }
  const line = lines[0] ?? null;
  const points = line === null ? null : pointsOfLine(line);
  const greens = map.features.filter((one) => one.kind === 'green' && one.shape.kind === 'area');
  const green = greenOf(map, id, greenId, greens, points);
  return {
    line: points,
    lineId: line?.id ?? null,
    green,
    tees: map.features.filter((one) => one.kind === 'tee' && one.refs.includes(id)),
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
      `no green with the id ${quoted(greenId)}, which hole ${holeAsWritten(id)} names`,
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
      { file: map.file, place: idInPart(own[1].id) },
      `a second green for hole ${holeAsWritten(id)} (the first is ${own[0].id})`,
      'name one of them by the key "green" of the hole in the course file',
    );
  }
  return null;
};
