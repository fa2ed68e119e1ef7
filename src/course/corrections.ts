import { InputFault, idInPart, quoted } from '../fault.js';
import { insideRing } from '../geometry.js';
import type { HoleEntry, Path, PlaceOnMap, TeeEntry } from './course-file.js';
import type { CourseMap, LonLat, MapFeature, MapFinding } from './course-map.js';
import { besideLine, flatRound } from './flat.js';
import { geodesicDistance } from './geodesy.js';
import { middleOf, ringOf } from './hole-site.js';
import { holeAsWritten } from './named-hole.js';

/** A point names a feature that it lies in, or no farther from than this, metres. */
const NEAR = 15;
/** No tee lies farther from its hole's line than this, metres: it is another hole's, or a slip. */
const TEE_REACH = 150;
/** No point of a line lies farther from all that is on the map than this, metres. */
const LINE_REACH = 1000;
/** No hole is shorter or longer, metres. */
const SHORTEST_LINE = 30;
const LONGEST_LINE = 1500;

/** What an entry of the course file names in the map. */
export type NamedInMap = Pick<HoleEntry, 'green' | 'line' | 'tees'>;

/** A hole of the course file, with its id and the fault at one of its keys. */
export interface CorrectedHole {
  readonly id: string;
  readonly entry: NamedInMap;
  readonly fault: (path: Path, problem: string, cure?: string) => InputFault;
}

const isPoint = (place: PlaceOnMap): place is LonLat => Array.isArray(place);

const reach = (feature: MapFeature, at: LonLat): number =>
  feature.shape.kind === 'area' && insideRing(feature.shape.rings[0], at[0], at[1])
    ? 0
    : Math.min(...ringOf(feature).map((p) => geodesicDistance(p, at)));

/** The feature of a kind that an id or a point names; null for a point far from all. */
const featureNamed = (
  map: CourseMap,
  kind: MapFeature['kind'],
  place: PlaceOnMap,
  missing: (problem: string, cure: string) => InputFault,
): MapFeature | null => {
  const all = map.features.filter((one) => one.kind === kind);
  if (isPoint(place)) {
    const [nearest] = all
      .map((feature) => ({ feature, away: reach(feature, place) }))
      .sort((a, b) => a.away - b.away);
    return nearest !== undefined && nearest.away <= NEAR ? nearest.feature : null;
  }
  const id = String(place);
  const found =
    all.find((one) => one.id === id) ?? all.find((one) => one.id.split('/').pop() === id);
  if (found !== undefined) return found;
  const some = all.slice(0, 6).map((one) => idInPart(one.id));
  throw missing(
    `no ${kind === 'hole' ? 'line of play' : kind} with the id ${quoted(id)}`,
    all.length === 0
      ? 'the map has none'
      : `the map has ${some.join(', ')}${all.length > 6 ? ' …' : ''}; or give a point, [longitude, latitude]`,
  );
};

/** The green that a hole's key names, by its id. */
export const namedGreens = (
  map: CourseMap,
  holes: readonly CorrectedHole[],
): ReadonlyMap<string, string> => {
  const greens = new Map<string, string>();
  for (const { id, entry, fault } of holes) {
    if (entry.green === undefined) continue;
    const place = entry.green;
    const green = featureNamed(map, 'green', place, (problem, cure) =>
      fault(['green'], `${problem}, which hole ${holeAsWritten(id)} names`, cure),
    );
    if (green === null) {
      throw fault(
        ['green'],
        `no green lies within ${NEAR} m of [${(place as LonLat).join(', ')}]`,
        'a point is [longitude, latitude] in degrees',
      );
    }
    greens.set(id, green.id);
  }
  return greens;
};

const withoutRef = (feature: MapFeature, id: string): MapFeature =>
  feature.refs.includes(id)
    ? { ...feature, refs: feature.refs.filter((ref) => ref !== id) }
    : feature;

const placeOfTee = (tee: TeeEntry): PlaceOnMap =>
  typeof tee === 'object' && !Array.isArray(tee)
    ? (tee as { at: PlaceOnMap }).at
    : (tee as PlaceOnMap);

const nameGiven = (tee: TeeEntry): string | null =>
  typeof tee === 'object' && !Array.isArray(tee) ? ((tee as { name?: string }).name ?? null) : null;

const greenAt = (features: readonly MapFeature[], at: LonLat): MapFeature | undefined =>
  features.find((one) => one.kind === 'green' && reach(one, at) === 0);

/** A line that is given from the green to the tee would turn the hole about. */
const refuseReversed = (
  features: readonly MapFeature[],
  line: readonly LonLat[],
  fault: CorrectedHole['fault'],
): void => {
  const [first, last] = [line[0], line[line.length - 1]];
  if (greenAt(features, first) === undefined || greenAt(features, last) !== undefined) return;
  throw fault(
    ['line'],
    `the line begins on a green, at [${String(first)}], and ends on none`,
    'list its points from the tee to the green',
  );
};

/** How far the nearest feature of the map lies from a place, by the features' points, metres. */
const awayFromAll = (features: readonly MapFeature[], at: LonLat): number => {
  const { toFlat } = flatRound(at);
  let near = Infinity;
  for (const feature of features) {
    for (const p of ringOf(feature)) near = Math.min(near, Math.hypot(...toFlat(p)));
  }
  return near;
};

const lengthInWords = (metres: number): string =>
  metres < 10_000 ? `${Math.round(metres)} m` : `${Math.round(metres / 1000)} km`;

/** A line whose points lie off the map, or that is no length of a hole, is a slip of its key and not of the map. */
const refuseOddLine = (
  features: readonly MapFeature[],
  line: readonly LonLat[],
  fault: CorrectedHole['fault'],
): void => {
  line.forEach(([first, second], i) => {
    const isPlace = Math.abs(second) <= 90;
    const away = isPlace ? awayFromAll(features, [first, second]) : Infinity;
    if (away <= LINE_REACH) return;
    const exchanged = Math.abs(first) <= 90 && awayFromAll(features, [second, first]) <= LINE_REACH;
    throw fault(
      ['line', i],
      isPlace
        ? `the point [${first}, ${second}] of the line lies ${lengthInWords(away)} from all that is on the map`
        : `the point [${first}, ${second}] of the line has no latitude`,
      exchanged
        ? 'its latitude and longitude are exchanged: write [longitude, latitude]'
        : 'a point is [longitude, latitude] in degrees',
    );
  });
  const long = line.slice(1).reduce((sum, p, i) => sum + geodesicDistance(line[i], p), 0);
  if (long >= SHORTEST_LINE && long <= LONGEST_LINE) return;
  throw fault(
    ['line'],
    `the line is ${lengthInWords(long)} long`,
    'list its points from the tee to the green',
  );
};

/** A tee that the course file names lies on no green, and within reach of the hole's line. */
const refuseFarTee = (
  map: CourseMap,
  { id, fault }: CorrectedHole,
  at: LonLat,
  path: Path,
): void => {
  const green = greenAt(map.features, at);
  if (green !== undefined) {
    const whose = green.refs.length === 0 ? '' : ` of hole ${green.refs.join(', ')}`;
    throw fault(path, `the tee lies on the green${whose}`, 'name the place where the hole begins');
  }
  const line = map.features.find((one) => one.kind === 'hole' && one.refs.includes(id));
  if (line === undefined) return;
  const flat = flatRound(at);
  const points = ringOf(line).map(flat.toFlat);
  const away = points.length < 2 ? 0 : besideLine(points, [0, 0]);
  if (away <= TEE_REACH) return;
  throw fault(
    path,
    `the tee lies ${Math.round(away)} m from the line of hole ${id}`,
    `a tee lies within ${TEE_REACH} m of it: name another, or give the line by the key "line"`,
  );
};

/** What the course file names and bears another hole's number on the map: taken, and told. */
export const otherNumbers = (map: CourseMap, holes: readonly CorrectedHole[]): MapFinding[] =>
  holes.flatMap(({ id, entry }) => {
    const silent = (problem: string): InputFault => new InputFault({}, problem);
    const bearing = (kind: 'green' | 'tee' | 'hole', place: PlaceOnMap): MapFinding[] => {
      const feature = featureNamed(map, kind, place, silent);
      if (feature === null || feature.refs.length === 0 || feature.refs.includes(id)) return [];
      const what = kind === 'hole' ? 'line of play' : kind;
      return [
        {
          severity: 'warning',
          feature: feature.id,
          problem: `hole ${id}: the ${what} that the course file names bears the number ${feature.refs.join(', ')} on the map`,
          cure: 'look whether it is meant',
        },
      ];
    };
    return [
      ...(entry.green === undefined ? [] : bearing('green', entry.green)),
      ...(entry.line === undefined || Array.isArray(entry.line)
        ? []
        : bearing('hole', entry.line as string | number)),
      ...(entry.tees ?? []).flatMap((tee) => bearing('tee', placeOfTee(tee))),
    ];
  });

/** The map with the lines of play that the course file gives, by id or as points. */
export const withNamedLines = (map: CourseMap, holes: readonly CorrectedHole[]): CourseMap => {
  let features = [...map.features];
  for (const { id, entry, fault } of holes) {
    if (entry.line === undefined) continue;
    const { line } = entry;
    const others = features.map((one) => (one.kind === 'hole' ? withoutRef(one, id) : one));
    if (Array.isArray(line)) {
      refuseOddLine(map.features, line as readonly LonLat[], fault);
      refuseReversed(features, line as readonly LonLat[], fault);
      const old = features.find((one) => one.kind === 'hole' && one.refs.includes(id));
      features = [
        ...others.filter((one) => one.kind !== 'hole' || one.id !== old?.id || one.refs.length > 0),
        {
          id: old?.id ?? `line of hole ${id}`,
          kind: 'hole',
          refs: [id],
          name: old?.name ?? null,
          tags: old?.tags ?? {},
          shape: { kind: 'line', points: line as readonly LonLat[] },
        },
      ];
      continue;
    }
    const named = featureNamed(map, 'hole', line as string | number, (problem, cure) =>
      fault(['line'], problem, cure),
    )!;
    features = others.map((one) =>
      one.kind === 'hole' && one.id === named.id ? { ...one, refs: [id] } : one,
    );
  }
  return { ...map, features };
};

/** The settled map with the tees that the course file names for a hole in place of those found; a point off every tee is one. */
export const withNamedTees = (map: CourseMap, holes: readonly CorrectedHole[]): CourseMap => {
  let features = [...map.features];
  for (const hole of holes) {
    const { id, entry, fault } = hole;
    if (entry.tees === undefined) continue;
    features = features.map((one) => (one.kind === 'tee' ? withoutRef(one, id) : one));
    entry.tees.forEach((tee, i) => {
      const place = placeOfTee(tee);
      const name = nameGiven(tee);
      const found = featureNamed({ ...map, features }, 'tee', place, (problem, cure) =>
        fault(['tees', i], problem, cure),
      );
      refuseFarTee(map, hole, found === null ? (place as LonLat) : middleOf(found), ['tees', i]);
      if (found === null) {
        features.push({
          id: `tee ${i + 1} of hole ${id}`,
          kind: 'tee',
          refs: [id],
          name: name ?? `Tee ${i + 1}`,
          tags: {},
          shape: { kind: 'point', at: place as LonLat },
        });
        return;
      }
      features[features.indexOf(found)] = {
        ...found,
        refs: [...found.refs, id],
        name: name ?? found.name,
      };
    });
  }
  return { ...map, features };
};
