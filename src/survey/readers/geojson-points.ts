import { InputFault, quotedInPart } from '../../fault.js';
import { codeOf } from '../crs/definitions.js';
import { namedColumn } from './column-names.js';
import type { FileReader } from './file-reader.js';

/** Longer files are read by other readers. */
const LONGEST = 128 * 1024 * 1024;

interface Geometry {
  readonly type?: unknown;
  readonly coordinates?: unknown;
  readonly geometries?: unknown;
  readonly geometry?: unknown;
  readonly features?: unknown;
  readonly properties?: unknown;
}

/** Properties that may hold the height of a point without a third coordinate. */
const heightOf = (properties: unknown, fault: (problem: string) => InputFault): number | null => {
  if (typeof properties !== 'object' || properties === null) return null;
  for (const [name, value] of Object.entries(properties)) {
    const height = typeof value === 'string' && value.trim() !== '' ? Number(value) : value;
    if (typeof height !== 'number' || namedColumn(name).column !== 'z') continue;
    if (!Number.isFinite(height)) throw fault(`${quotedInPart(value)} in "${name}" is no height`);
    return height;
  }
  return null;
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
  const fault = (problem: string, cure: string): InputFault =>
    new InputFault({ file: source }, problem, cure);
  if (bytes.size > LONGEST)
    throw fault('the GeoJSON file is longer than 128 MB', 'export the points as CSV');
  const text = new TextDecoder().decode(await bytes.read(0, bytes.size));
  let parsed: Geometry & { readonly crs?: { readonly properties?: { readonly name?: unknown } } };
  try {
    parsed = JSON.parse(text.replace(/^\ufeff/, '')) as typeof parsed;
  } catch {
    throw fault(
      'the file begins like JSON and is not sound',
      'export it again, or the points as CSV',
    );
  }
  if (typeof parsed !== 'object' || parsed === null || typeof parsed.type !== 'string') {
    throw fault('this is JSON and not GeoJSON', 'export the points as GeoJSON or CSV');
  }
  const name = parsed.crs?.properties?.name;
  const named = typeof name === 'string' ? codeOf(name.replace(/CRS84$/, '')) : null;
  const take = context.begin({
    crs: named === null ? 'EPSG:4326' : `EPSG:${named}`,
    unit: null,
    verticalUnit: null,
    ...(named === null ? { degrees: true } : {}),
  });
  const breaklines: [number, number, number][][] = [];
  let given = 0;
  let flat = 0;
  const spot = (
    value: unknown,
    height: number | null,
    place: string,
  ): [number, number, number] | null => {
    const [x, y, z] = Array.isArray(value) ? (value as unknown[]) : [];
    const h = typeof z === 'number' ? z : height;
    if (typeof x !== 'number' || typeof y !== 'number') {
      throw fault(
        `${place} has a position that is no list of numbers`,
        'a position is [longitude, latitude, height]',
      );
    }
    if (h === null) {
      flat += 1;
      return null;
    }
    given += 1;
    take(x, y, h, () => place);
    return [x, y, h];
  };
  const list = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);
  const walk = (one: unknown, height: number | null, place: string, depth: number): void => {
    if (typeof one !== 'object' || one === null || depth > 20) return;
    const { type, coordinates, geometries, geometry, features, properties } = one as Geometry;
    if (type === 'FeatureCollection') {
      list(features).forEach((feature, k) => {
        walk(feature, null, `feature ${k + 1}`, depth + 1);
      });
    } else if (type === 'Feature') {
      const height = heightOf(properties, (problem) =>
        fault(`${place}: ${problem}`, 'write a number of metres, or of the unit that is named'),
      );
      walk(geometry, height, place, depth + 1);
    } else if (type === 'GeometryCollection') {
      for (const part of list(geometries)) walk(part, height, place, depth + 1);
    } else if (type === 'Point') spot(coordinates, height, place);
    else if (type === 'MultiPoint') for (const at of list(coordinates)) spot(at, height, place);
    else {
      const lines =
        type === 'LineString'
          ? [coordinates]
          : type === 'MultiPolygon'
            ? list(coordinates).flatMap(list)
            : list(coordinates);
      for (const line of lines) {
        const spots = list(line).flatMap((at) => {
          const placed = spot(at, height, place);
          return placed === null ? [] : [context.place(...placed)];
        });
        if (/LineString$/.test(String(type)) && spots.length > 1 && height === null)
          breaklines.push(spots);
      }
    }
  };
  walk(parsed, null, 'the geometry', 0);
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
    notes: flat === 0 ? [] : [`passed over: ${flat} positions without a height`],
    how: 'GeoJSON, longitude, latitude, height',
  };
};
