import { InputFault, idInPart, namesInPart, quoted } from '../fault.js';
import { fetchedRecord } from '../fetched-record.js';
import { distance, type Point, type Ring, signedArea, signedDistanceToRing } from '../geometry.js';
import { packedPoints } from '../packed-points.js';
import {
  coordinateSystem,
  localPlane,
  METRES_PER,
  type Plane,
  planeFor,
  tiedPlane,
} from '../survey/crs/plane.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type {
  GreenSite,
  HoleSite,
  LocationOfDay,
  OutlineSite,
  PlacedHoleLocation,
  SurveySource,
} from './course.js';
import type { FaultAt, HoleEntry, LocationEntry } from './course-file.js';
import type { LonLat } from './course-map.js';
import { centroidOf, frameOfGreen, locationOfPoint, pointOfLocation } from './frame.js';
import { alongGeodesics, geodesicLength, geodesicTarget } from './geodesy.js';
import { middleOf } from './hole-site.js';
import { holeAsWritten } from './named-hole.js';

/** How much of a hole's line, from its end back, tells the line of approach, metres. */
const APPROACH = 100;

export interface GreenRequest {
  readonly id: string;
  readonly entry: HoleEntry;
  readonly site: HoleSite;
  readonly source: SurveySource;
  /** Metres. */
  readonly stimp: number;
  /** A fault at a key of the hole's entry. */
  readonly fault: FaultAt;
}

/** The plane of a survey; a file that states its own coordinate system is read into one centred on the green. */
export const planeOfSource = (source: SurveySource, near: LonLat): Plane => {
  if (source.tie !== null) {
    const unit = METRES_PER[source.unit ?? 'm'];
    const [first, second] = source.tie.map(({ local, map }) => ({
      local: [local[0] * unit, local[1] * unit] as const,
      map,
    }));
    return tiedPlane(first, second, source.file);
  }
  if (source.crs !== null) return planeFor(source.crs, near, source.file);
  return localPlane(near[0], near[1]);
};

/** Whether a green lies where the survey's system is of no use, and would lie well with its coordinates exchanged. */
const looksExchanged = (source: SurveySource, plane: Plane, [x, y]: LonLat): boolean => {
  if (source.crs === null || source.tie !== null || Math.abs(x) > 90) return false;
  const { definition } = coordinateSystem(source.crs, source.file);
  return (
    plane.definition !== definition &&
    planeFor(source.crs, [y, x], source.file).definition === definition
  );
};

/** A position in the survey's own numbers, in its plane. */
export const inPlane = (
  source: SurveySource,
  plane: Plane,
  [x, y]: readonly [number, number],
): Point => {
  if (source.crs === null) {
    const unit = METRES_PER[source.unit ?? 'm'];
    return [x * unit, y * unit];
  }
  const system = coordinateSystem(source.crs, source.file);
  if (system.geographic) return plane.toPlane(x, y);
  const unit = source.unit === null ? system.unit : METRES_PER[source.unit];
  if (plane.definition === system.definition) return [x * unit, y * unit];
  const [longitude, latitude] = system.unproject(x * unit, y * unit);
  return plane.toPlane(longitude, latitude);
};

/** Where the green is approached from: along the bearing given, else back along the hole's line. */
const approachPoint = (request: Omit<GreenRequest, 'source' | 'stimp'>, centre: LonLat): LonLat => {
  const { entry, site, fault, id } = request;
  if (entry.approach !== undefined) {
    return geodesicTarget(centre, entry.approach + 180, APPROACH);
  }
  if (site.line === null) {
    throw fault(
      ['hole'],
      `the map has no line of play (golf=hole) with ref ${holeAsWritten(id)}`,
      'give the bearing of the line of approach by the key "approach"',
    );
  }
  const length = geodesicLength(site.line);
  return alongGeodesics(site.line, Math.max(0, length - APPROACH));
};

const placed = (
  name: string,
  entry: LocationEntry,
  outline: Ring,
  toFrame: (at: readonly [number, number]) => Point,
  fault: (problem: string, cure?: string) => InputFault,
): PlacedHoleLocation => {
  try {
    if (entry.at !== undefined) {
      const at = toFrame(entry.at);
      return { ...locationOfPoint(outline, name, at, {}), at };
    }
    const side = entry.left !== undefined ? 'left' : 'right';
    const location = { name, on: entry.on!, in: (entry.left ?? entry.right)!, side } as const;
    return { ...location, at: pointOfLocation(outline, location, {}) };
  } catch (error) {
    if (error instanceof InputFault) throw fault(error.problem, error.cure);
    throw error;
  }
};

interface LocationsOfGreen {
  readonly locations: readonly PlacedHoleLocation[];
  readonly days: readonly LocationOfDay[];
}

/** The hole locations of an entry, by name and by day, on the outline in the frame of its green. */
const locationsOf = (
  entry: HoleEntry,
  inFrame: Ring,
  toFrame: (at: readonly [number, number]) => Point,
  fault: FaultAt,
): LocationsOfGreen => {
  const locations = Object.entries(entry.locations ?? {}).map(([name, location]) =>
    placed(name, location, inFrame, toFrame, (problem, cure) =>
      fault(['locations', name], problem, cure),
    ),
  );
  const days = Object.entries(entry.days ?? {})
    .map(([day, location]): LocationOfDay => {
      if (typeof location !== 'string') {
        const at = placed(`day ${day}`, location, inFrame, toFrame, (problem, cure) =>
          fault(['days', day], problem, cure),
        );
        return { day: Number(day), location: { ...at, name: day } };
      }
      const named = locations.find((one) => one.name === location);
      if (named !== undefined) return { day: Number(day), location: named };
      throw fault(
        ['days', day],
        `the green has no hole location ${quoted(location)}`,
        locations.length === 0
          ? 'name it under "locations", or write { on: 12, left: 5 }'
          : `it has ${namesInPart(locations.map((one) => one.name))}`,
      );
    })
    .sort((a, b) => a.day - b.day);
  return { locations, days };
};

/**
 * A green with its frame, its drains and its hole locations, from the map and the course file.
 *
 * @throws InputFault when the map has no such green, or a location or drain lies off it.
 */
export const greenSite = (request: GreenRequest): GreenSite => {
  const { id, entry, site, source, stimp, fault } = request;
  if (site.green === null || site.green.shape.kind !== 'area') {
    throw fault(
      ['hole'],
      `the map has no green for hole ${holeAsWritten(id)}`,
      `give a golf=green the tag ref=${holeAsWritten(id)}, or name its id by the key "green"`,
    );
  }
  const middle = middleOf(site.green);
  const plane = planeOfSource(source, middle);
  if (looksExchanged(source, plane, middle)) {
    throw fault(
      ['survey'],
      `green ${idInPart(site.green.id)} of the map lies outside ${idInPart(source.crs ?? '')}, the survey's coordinate system`,
      'with latitude and longitude exchanged it lies inside: RFC 7946 has the longitude first',
    );
  }
  const ring = site.green.shape.rings[0].map(([longitude, latitude]) =>
    plane.toPlane(longitude, latitude),
  );
  const outline = signedArea(ring) > 0 ? ring : ring.reverse();
  const centre = centroidOf(outline);
  const centreOnMap = plane.toMap(centre[0], centre[1]);
  const from = approachPoint(request, [centreOnMap[0], centreOnMap[1]]);
  const approachFrom = plane.toPlane(from[0], from[1]);
  const frame = frameOfGreen(outline, approachFrom);
  const inFrame = ringInFrame(frame, outline);
  const toFrame = (at: readonly [number, number]): Point => {
    const [x, y] = inPlane(source, plane, at);
    return toGreenFrame(frame, x, y);
  };
  const drains = (entry.drains ?? []).map((drain, i) => {
    const at = inPlane(source, plane, drain);
    if (!(signedDistanceToRing(outline, at[0], at[1]) <= 2)) {
      throw fault(
        ['drains', i],
        `the drain [${drain.join(', ')}] is off its green`,
        'drains are given in the coordinates of the survey',
      );
    }
    return at;
  });
  const { locations, days } = locationsOf(entry, inFrame, toFrame, fault);
  const told = {
    survey: source,
    plane,
    approachFrom,
    frame,
    drains,
    stimp,
    trust: entry.trust ?? null,
    locations,
    days,
  };
  return fetchedRecord(told, { outline: packedPoints(outline) });
};

/**
 * A green without a survey, from the map alone; its hole locations are given by paces, or by longitude and
 * latitude. Null where the map shows no area of it, or its line ends before it has a direction.
 *
 * @throws InputFault when a location lies off the green.
 */
export const outlineSite = (
  request: Omit<GreenRequest, 'source' | 'stimp'>,
): OutlineSite | null => {
  const { entry, site, fault } = request;
  if (site.green?.shape.kind !== 'area') return null;
  const middle = middleOf(site.green);
  const plane = localPlane(middle[0], middle[1]);
  const ring = site.green.shape.rings[0].map(([lon, lat]): Point => plane.toPlane(lon, lat));
  const outline = signedArea(ring) > 0 ? ring : ring.reverse();
  const northUp = site.line === null && entry.approach === undefined;
  const from = northUp
    ? geodesicTarget(middle, 180, APPROACH)
    : approachPoint(request, [middle[0], middle[1]]);
  const approachFrom = plane.toPlane(from[0], from[1]);
  if (distance(approachFrom, plane.toPlane(middle[0], middle[1])) < 1) return null;
  const frame = frameOfGreen(outline, approachFrom);
  const toFrame = ([lon, lat]: readonly [number, number]): Point =>
    toGreenFrame(frame, ...plane.toPlane(lon, lat));
  const placedOn = locationsOf(entry, ringInFrame(frame, outline), toFrame, fault);
  return fetchedRecord({ plane, frame, northUp, ...placedOn }, { outline: packedPoints(outline) });
};
