import { InputFault, namesInPart, quoted } from '../fault.js';
import { insideRing, type Point, signedArea } from '../geometry.js';
import type { CourseMap, LonLat, MapFeature } from './course-map.js';
import { geodesicDistance } from './geodesy.js';
import { middleOf, ringOf } from './hole-site.js';

/** A course that a map holds, by its boundary (leisure=golf_course). */
export interface CourseInMap {
  /** The boundary's name, else its id. */
  readonly name: string;
  readonly id: string;
  /** Lines of play within it. */
  readonly lines: number;
}

/** Features that belong to one course; all others (woods, water, paths) are scenery that courses share. */
const OWNED: ReadonlySet<MapFeature['kind']> = new Set([
  'hole',
  'tee',
  'fairway',
  'green',
  'bunker',
  'pin',
]);
/** What lies outside every boundary belongs to a course no farther off than this, metres. */
const NEAR = 300;

interface Bounded {
  readonly id: string;
  readonly name: string;
  readonly rings: readonly (readonly LonLat[])[];
  /** Square degrees: for telling which of two boundaries is the inner one. */
  readonly size: number;
}

const boundedAreas = (map: CourseMap): Bounded[] => {
  const byId = new Map<string, MapFeature[]>();
  for (const one of map.boundaries) byId.set(one.id, [...(byId.get(one.id) ?? []), one]);
  return [...byId].map(([id, parts]) => {
    const rings = parts.flatMap((one) => (one.shape.kind === 'area' ? [one.shape.rings[0]] : []));
    return {
      id,
      name: parts[0].name?.trim() || id,
      rings,
      size: rings.reduce((sum, ring) => {
        const [x, y] = ring[0];
        return sum + Math.abs(signedArea(ring.map(([lon, lat]): Point => [lon - x, lat - y])));
      }, 0),
    };
  });
};

const holds = (area: Bounded, [x, y]: LonLat): boolean =>
  area.rings.some((ring) => insideRing(ring, x, y));

/** Half or more of a feature's points, or its middle, lie within. */
const holdsMost = (area: Bounded, feature: MapFeature): boolean => {
  const points = ringOf(feature);
  const within = points.filter((at) => holds(area, at)).length;
  return (
    2 * within > points.length || (2 * within === points.length && holds(area, middleOf(feature)))
  );
};

/** The innermost boundary that holds a feature; null for none. */
const ownerOf = (areas: readonly Bounded[], feature: MapFeature): Bounded | null => {
  let owner: Bounded | null = null;
  for (const area of areas) {
    if ((owner === null || area.size < owner.size) && holdsMost(area, feature)) owner = area;
  }
  return owner;
};

interface Owned {
  readonly areas: readonly Bounded[];
  readonly owners: ReadonlyMap<MapFeature, Bounded | null>;
  readonly courses: readonly CourseInMap[];
}

const ownedFeatures = (map: CourseMap): Owned => {
  const areas = boundedAreas(map);
  const owners = new Map<MapFeature, Bounded | null>();
  const lines = new Map<Bounded, number>();
  for (const feature of map.features) {
    if (!OWNED.has(feature.kind)) continue;
    const owner = ownerOf(areas, feature);
    owners.set(feature, owner);
    if (owner !== null && feature.kind === 'hole') lines.set(owner, (lines.get(owner) ?? 0) + 1);
  }
  const courses = areas
    .filter((area) => lines.has(area))
    .map(({ id, name }, _, all) => ({
      id,
      // Two courses of one name are told apart by their ids.
      name: all.filter((other) => other.name === name).length > 1 ? `${name} (${id})` : name,
      lines: lines.get(areas.find((area) => area.id === id)!)!,
    }));
  return { areas, owners, courses };
};

/** The courses of a map that have lines of play within their boundaries, in the order of the map. */
export const coursesOf = (map: CourseMap): readonly CourseInMap[] => ownedFeatures(map).courses;

const said = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, ' ');

const courseNamed = (
  courses: readonly CourseInMap[],
  name: string,
  fault: (problem: string, cure: string) => InputFault,
): CourseInMap => {
  const wanted = said(name);
  const exact = courses.filter((one) => said(one.name) === wanted || one.id === name.trim());
  const found = exact.length > 0 ? exact : courses.filter((one) => said(one.name).includes(wanted));
  if (found.length === 1) return found[0];
  const names = namesInPart(courses.map((one) => one.name));
  throw fault(
    found.length === 0
      ? `the map has no course ${quoted(name)}`
      : `${quoted(name)} could be ${namesInPart(found.map((one) => one.name))}`,
    courses.length === 0
      ? 'it has no boundary (leisure=golf_course) with a hole in it'
      : `its courses are ${names}`,
  );
};

/**
 * The map of one course: what lies within its boundary, what no boundary holds and lies near it, and the
 * scenery. Without a name, a map of one course as it is.
 *
 * @throws InputFault when there are several courses and none is named, or none of that name.
 */
export const mapOfCourse = (
  map: CourseMap,
  name: string | null,
  fault: (problem: string, cure: string) => InputFault = (problem, cure) =>
    new InputFault({ file: map.file }, problem, cure),
): CourseMap => {
  if (map.boundaries.length === 0 && name === null) return map;
  const { areas, owners, courses } = ownedFeatures(map);
  if (name === null && courses.length > 1) {
    throw fault(
      `the map holds ${courses.length} courses: ${namesInPart(courses.map((one) => one.name))}`,
      'name one of them by the key "course" (or --course)',
    );
  }
  const chosen = name === null ? courses[0] : courseNamed(courses, name, fault);
  if (chosen === undefined) return map;
  const own = areas.find((area) => area.id === chosen.id)!;
  const single = courses.length === 1;
  const near = (feature: MapFeature): boolean => {
    const middle = middleOf(feature);
    return own.rings.some((ring) => ring.some((at) => geodesicDistance(at, middle) < NEAR));
  };
  return {
    ...map,
    boundaries: map.boundaries.filter((one) => one.id === chosen.id),
    features: map.features.filter((feature) => {
      const owner = owners.get(feature);
      if (owner === undefined) return true;
      if (owner === null) return single || near(feature);
      // A boundary without holes (a driving range, a resort round several courses) does not part a course.
      return owner === own || !courses.some((one) => one.id === owner.id);
    }),
  };
};
