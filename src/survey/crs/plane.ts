import proj4 from 'proj4';
import { InputFault, quoted, quotedInPart } from '../../fault.js';
import type { Point } from '../../geometry.js';
import { METRES_PER_FOOT, METRES_PER_US_SURVEY_FOOT } from '../../units.js';
import { definitionOf } from './definitions.js';

export type LengthUnit = 'm' | 'ft' | 'us-ft';

export const METRES_PER: Readonly<Record<LengthUnit, number>> = {
  m: 1,
  ft: METRES_PER_FOOT,
  'us-ft': METRES_PER_US_SURVEY_FOOT,
};

/**
 * A flat frame in metres in which a green is surveyed and drawn: a projected coordinate system, a local
 * one, or a builder's grid tied to the map. Longitude and latitude are WGS 84 degrees.
 */
export interface Plane {
  /** "EPSG:27700", "local transverse Mercator at 51.5, -0.1", "local frame". */
  readonly name: string;
  /** The definition string of the frame; null when it is a local frame without one. */
  readonly definition: string | null;
  toPlane(longitude: number, latitude: number): Point;
  toMap(x: number, y: number): Point;
}

/** A coordinate system, taken apart: coordinates times `unit` are what `project` and `unproject` use. */
export interface CoordinateSystem {
  readonly name: string;
  readonly definition: string;
  readonly geographic: boolean;
  /** Metres per unit of its own coordinates; 1 when geographic (degrees). */
  readonly unit: number;
  /** WGS 84 degrees to metres (or degrees, when geographic). */
  project(longitude: number, latitude: number): Point;
  unproject(x: number, y: number): Point;
}

const WGS84 = '+proj=longlat +datum=WGS84 +no_defs';

/** Systems that are held, those asked for last: what the library makes of one takes 3 kB, and each green has frames. */
const MOST_HELD = 16;
const held = new Map<string, CoordinateSystem>();

/**
 * Reads an EPSG code ("EPSG:32630", "32630"), a PROJ definition string ("+proj=utm +zone=30 ...") or
 * the text of a WKT 1 definition.
 *
 * @throws InputFault when the code is not among those shipped, or the definition cannot be used.
 */
export const coordinateSystem = (crs: string, file?: string): CoordinateSystem => {
  const system = held.get(crs) ?? systemOf(crs, file);
  held.delete(crs);
  held.set(crs, system);
  if (held.size > MOST_HELD) held.delete(held.keys().next().value as string);
  return system;
};

/** A position in the other system; no number where it has none there, of which the library would make an error. */
const across = (
  way: (at: [number, number]) => readonly number[],
  x: number,
  y: number,
): [number, number] => {
  if (!Number.isFinite(x) || !Number.isFinite(y)) return [Number.NaN, Number.NaN];
  const at = way([x, y]);
  return [at[0], at[1]];
};

const systemOf = (crs: string, file: string | undefined): CoordinateSystem => {
  const where = { ...(file === undefined ? {} : { file }), place: 'crs' };
  const definition = definitionOf(crs);
  if (definition === null) {
    throw new InputFault(
      where,
      `the coordinate system ${quoted(crs, 60)} is not known`,
      'give an EPSG code such as EPSG:32630, or a definition string that begins with "+proj="',
    );
  }
  /** What the library makes of the definition; one that is damaged has many ways to go wrong. */
  const usable = <T>(make: () => T): T => {
    try {
      return make();
    } catch {
      throw new InputFault(
        where,
        `the definition of the coordinate system ${quotedInPart(definition)} cannot be used`,
        'give a complete definition string, such as "+proj=utm +zone=30 +datum=WGS84"',
      );
    }
  };
  const proj = usable(() => new proj4.Proj(definition)) as unknown as {
    projName?: string;
    to_meter?: number | undefined;
    datum_params?: unknown;
    axis?: string;
  };
  const geographic = proj.projName === 'longlat' || /\+proj=(longlat|latlong)/.test(definition);
  const unit = geographic ? 1 : (proj.to_meter ?? 1);
  if (!Number.isFinite(unit) || unit <= 0) {
    throw new InputFault(where, 'the unit of the coordinate system is not a positive length');
  }
  // Coordinates are brought to metres before they reach the projection, so that a file in feet can be
  // read against a system defined in metres, and the other way round.
  if (!geographic) proj.to_meter = 1;
  proj.axis = 'enu';
  const both = usable(() => proj4(WGS84, proj as unknown as string));
  return {
    name: /^\s*\+|\[/.test(crs)
      ? 'own definition'
      : crs.toUpperCase().replace(/^(\d+)$/, 'EPSG:$1'),
    definition,
    geographic,
    unit,
    project: (longitude, latitude) => across(both.forward, longitude, latitude),
    unproject: (x, y) => across(both.inverse, x, y),
  };
};

/** A transverse Mercator frame centred on a point: lengths within a course are true to 1 in 100 million. */
export const localPlane = (longitude: number, latitude: number): Plane => {
  const definition = `+proj=tmerc +lat_0=${latitude} +lon_0=${longitude} +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs`;
  return {
    name: `local transverse Mercator at ${latitude.toFixed(5)}, ${longitude.toFixed(5)}`,
    definition,
    // Asked for each time: a course has two or three such frames a green, and works in one at a time.
    toPlane: (...at) => coordinateSystem(definition).project(...at),
    toMap: (...at) => coordinateSystem(definition).unproject(...at),
  };
};

/** Lengths of a projected system may differ from true ones by this much before it is not used as a frame. */
const SCALE_TOLERANCE = 0.0015;

/** Metres of the projected system per true metre, along the parallel and the meridian, the one further from 1. */
const scaleAt = (system: CoordinateSystem, longitude: number, latitude: number): number => {
  const local = localPlane(longitude, latitude);
  const centre = system.project(longitude, latitude);
  let worst = 1;
  for (const [dx, dy] of [
    [100, 0],
    [0, 100],
  ] as const) {
    const [lon, lat] = local.toMap(dx, dy);
    const [x, y] = system.project(lon, lat);
    const scale = Math.hypot(x - centre[0], y - centre[1]) / 100;
    if (!(Math.abs(scale - 1) <= Math.abs(worst - 1))) worst = scale;
  }
  return worst;
};

/**
 * The frame in which a survey of this coordinate system is used near a point of the map: the system
 * itself (in metres) when it is projected and true to scale there, else a local transverse Mercator
 * frame (longitude and latitude are not a plane; Web Mercator stretches lengths by 1/cos(latitude)).
 */
export const planeFor = (crs: string, near: Point, file?: string): Plane => {
  const system = coordinateSystem(crs, file);
  if (system.geographic) return localPlane(near[0], near[1]);
  const scale = scaleAt(system, near[0], near[1]);
  if (!(Math.abs(scale - 1) <= SCALE_TOLERANCE)) return localPlane(near[0], near[1]);
  return {
    name: system.name,
    definition: system.definition,
    toPlane: system.project,
    toMap: system.unproject,
  };
};

/** One mark known both in a survey's local frame (metres) and on the map (degrees). */
export interface Tie {
  readonly local: Point;
  readonly map: Point;
}

/**
 * A local frame tied to the map by two marks. The frame is turned and shifted, never stretched.
 *
 * @throws InputFault when the marks coincide, or their distances differ by over 1 in 100 (a wrong unit,
 * exchanged axes or a wrong mark).
 */
export const tiedPlane = (first: Tie, second: Tie, file?: string): Plane => {
  const where = { ...(file === undefined ? {} : { file }), place: 'tie' };
  const map = localPlane((first.map[0] + second.map[0]) / 2, (first.map[1] + second.map[1]) / 2);
  const a = map.toPlane(first.map[0], first.map[1]);
  const b = map.toPlane(second.map[0], second.map[1]);
  const inLocal: Point = [second.local[0] - first.local[0], second.local[1] - first.local[1]];
  const onMap: Point = [b[0] - a[0], b[1] - a[1]];
  const localLength = Math.hypot(...inLocal);
  const mapLength = Math.hypot(...onMap);
  if (!(localLength > 1) || !(mapLength > 1)) {
    throw new InputFault(
      where,
      'the two marks of the tie lie within 1 m of each other',
      'choose two marks as far apart as the survey reaches',
    );
  }
  const ratio = localLength / mapLength;
  if (!(Math.abs(ratio - 1) < 0.01)) {
    const feet = Math.abs(ratio * METRES_PER_FOOT - 1) < 0.01;
    throw new InputFault(
      where,
      `the marks are ${localLength.toFixed(2)} m apart in the local frame and ${mapLength.toFixed(2)} m on the map`,
      feet
        ? 'the local coordinates look like feet; state the unit'
        : 'check the marks, their order and the unit',
    );
  }
  const turn = Math.atan2(onMap[1], onMap[0]) - Math.atan2(inLocal[1], inLocal[0]);
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  // The middle of the two marks is where their small disagreement is shared.
  const lx = (first.local[0] + second.local[0]) / 2;
  const ly = (first.local[1] + second.local[1]) / 2;
  const mx = (a[0] + b[0]) / 2;
  const my = (a[1] + b[1]) / 2;
  return {
    name: 'local frame tied by two marks',
    definition: null,
    toPlane: (longitude, latitude) => {
      const [x, y] = map.toPlane(longitude, latitude);
      return [lx + (x - mx) * cos + (y - my) * sin, ly - (x - mx) * sin + (y - my) * cos];
    },
    toMap: (x, y) => {
      const dx = x - lx;
      const dy = y - ly;
      return map.toMap(mx + dx * cos - dy * sin, my + dx * sin + dy * cos);
    },
  };
};
