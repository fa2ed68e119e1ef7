import { InputFault, quoted, quotedInPart } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { counted } from '../../wording.js';
import { codeOf } from '../crs/definitions.js';
import { METRES_PER } from '../crs/plane.js';
import type { ByteSource } from './byte-source.js';
import { namedColumn } from './column-names.js';
import type { FileReader, ReadContext, ReadPoint } from './file-reader.js';

interface Geometry {
  readonly type?: unknown;
  readonly coordinates?: unknown;
  readonly geometries?: unknown;
  readonly geometry?: unknown;
  readonly features?: unknown;
  readonly properties?: unknown;
}

/** Metres per unit of a height whose property names its unit ("elev_ft"); 1 where it names none. */
const heightScale = (name: string): number => {
  const { unit } = namedColumn(name);
  return unit === null ? 1 : unit.factor * METRES_PER[unit.unit];
};

/** Properties that may hold the height of a point without a third coordinate. */
const heightOf = (properties: unknown, fault: (problem: string) => InputFault): number | null => {
  if (typeof properties !== 'object' || properties === null) return null;
  for (const [name, value] of Object.entries(properties)) {
    const height = typeof value === 'string' && value.trim() !== '' ? Number(value) : value;
    if (typeof height !== 'number' || namedColumn(name).column !== 'z') continue;
    if (!Number.isFinite(height))
      throw fault(`${quotedInPart(value)} in ${quoted(name)} is no height`);
    return height * heightScale(name);
  }
  return null;
};

type Parsed = Geometry & {
  readonly crs?: { readonly properties?: { readonly name?: unknown } };
};

type FaultOf = (problem: string, cure: string) => InputFault;

/** Whether the first line that holds something is JSON of its own, and the next one begins such. */
const isLinesOfJson = (text: string): boolean => {
  const [first, next] = text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');
  return first?.endsWith('}') === true && next !== undefined && next.slice(0, 2).includes('{');
};

const parsedOf = async (bytes: ByteSource, fault: FaultOf): Promise<Parsed> => {
  if (bytes.size > SURVEY_LIMITS.geojson) {
    throw fault('the GeoJSON file is longer than 128 MB', 'export the points as CSV');
  }
  const text = new TextDecoder().decode(await bytes.read(0, bytes.size));
  let parsed: unknown;
  try {
    parsed = JSON.parse(text.replace(/^\ufeff/, ''));
  } catch {
    throw isLinesOfJson(text.slice(0, 1 << 16))
      ? fault(
          'each line is JSON of its own, which is not read',
          'export the points as one GeoJSON FeatureCollection, or as CSV',
        )
      : fault(
          'the file begins like JSON and is not sound',
          'export it again, or the points as CSV',
        );
  }
  if (typeof parsed === 'object' && parsed !== null) {
    if (typeof (parsed as Parsed).type === 'string') return parsed as Parsed;
  }
  throw fault('this is JSON and not GeoJSON', 'export the points as GeoJSON or CSV');
};

/** The code of the system that the older member names; null for longitude and latitude on WGS 84. */
const codeNamed = ({ crs }: Parsed): number | string | null => {
  const name = crs?.properties?.name;
  return typeof name === 'string' ? codeOf(name.replace(/CRS84$/, '')) : null;
};

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** Where the positions of a file go, and what came of them. */
interface Positions {
  readonly context: ReadContext;
  readonly take: ReadPoint;
  readonly fault: FaultOf;
  readonly breaklines: [number, number, number][][];
  given: number;
  /** Without a height. */
  flat: number;
}

/** Takes a position; null where it has no height. */
const takePosition = (
  positions: Positions,
  value: unknown,
  height: number | null,
  place: string,
): [number, number, number] | null => {
  const [x, y, z] = listOf(value);
  const h = typeof z === 'number' ? z : height;
  if (typeof x !== 'number' || typeof y !== 'number') {
    throw positions.fault(
      `${place} has a position that is no list of numbers`,
      'a position is [longitude, latitude, height]',
    );
  }
  if (h === null) {
    positions.flat += 1;
    return null;
  }
  positions.given += 1;
  positions.take(x, y, h, () => place);
  return [x, y, h];
};

const takeLines = (
  positions: Positions,
  { type, coordinates }: Geometry,
  height: number | null,
  place: string,
): void => {
  const lines =
    type === 'LineString'
      ? [coordinates]
      : type === 'MultiPolygon'
        ? listOf(coordinates).flatMap(listOf)
        : listOf(coordinates);
  for (const line of lines) {
    const all = listOf(line);
    // A ring ends where it began; the point is one.
    const spots = (/Polygon$/.test(String(type)) ? all.slice(0, -1) : all).flatMap((at) => {
      const taken = takePosition(positions, at, height, place);
      return taken === null ? [] : [positions.context.place(...taken)];
    });
    if (/LineString$/.test(String(type)) && spots.length > 1 && height === null) {
      positions.breaklines.push(spots);
    }
  }
};

const walk = (
  positions: Positions,
  one: unknown,
  height: number | null,
  place: string,
  depth = 0,
): void => {
  if (typeof one !== 'object' || one === null || depth > SURVEY_LIMITS.geojsonDepth) return;
  const { type, coordinates, geometries, geometry, features, properties } = one as Geometry;
  if (type === 'FeatureCollection') {
    listOf(features).forEach((feature, k) => {
      walk(positions, feature, null, `feature ${k + 1}`, depth + 1);
    });
  } else if (type === 'Feature') {
    const own = heightOf(properties, (problem) =>
      positions.fault(
        `${place}: ${problem}`,
        'write a number of metres, or of the unit that is named',
      ),
    );
    walk(positions, geometry, own, place, depth + 1);
  } else if (type === 'GeometryCollection') {
    for (const part of listOf(geometries)) walk(positions, part, height, place, depth + 1);
  } else if (type === 'Point') takePosition(positions, coordinates, height, place);
  else if (type === 'MultiPoint') {
    for (const at of listOf(coordinates)) takePosition(positions, at, height, place);
  } else takeLines(positions, one as Geometry, height, place);
};

/**
 * GeoJSON (RFC 7946): points, vertices of lines and of areas with a third coordinate, or points with the
 * height among their properties. Longitude and latitude on WGS 84, unless the older member `crs` names
 * another system. Lines are breaklines.
 *
 * @throws InputFault for JSON that is no GeoJSON, and for features without heights.
 */
export const readGeoJson: FileReader = async (bytes, context) => {
  const { source } = context.options;
  const fault: FaultOf = (problem, cure) => new InputFault({ file: source }, problem, cure);
  const parsed = await parsedOf(bytes, fault);
  const named = codeNamed(parsed);
  const take = context.begin({
    crs: named === null ? 'EPSG:4326' : `EPSG:${named}`,
    unit: null,
    verticalUnit: null,
    ...(named === null ? { degrees: true } : {}),
  });
  const positions: Positions = { context, take, fault, breaklines: [], given: 0, flat: 0 };
  walk(positions, parsed, null, 'the geometry');
  const { given, flat, breaklines } = positions;
  if (given === 0) {
    throw fault(
      flat === 0 ? 'the GeoJSON holds no positions' : 'the positions have no heights',
      'a survey gives [longitude, latitude, height], or a property named height',
    );
  }
  return {
    kind: 'points',
    cellSize: null,
    breaklines,
    notes: flat === 0 ? [] : [`passed over: ${counted(flat, 'position')} without a height`],
    how: named === null ? 'GeoJSON, longitude, latitude, height' : 'GeoJSON, east, north, height',
  };
};
