import { parseJson } from '../checked-json.js';
import { InputFault, idInPart, quotedInPart } from '../fault.js';
import { type Point, signedArea } from '../geometry.js';
import { INPUT_LIMITS } from '../input-limits.js';
import {
  type CourseMap,
  type FeatureShape,
  isPracticeGreen,
  kindOfTags,
  type LonLat,
  type MapFeature,
  refsOf,
} from './course-map.js';
import { bareNumber, numberInName, numberOfTee } from './hole-numbers.js';
import { jsonSequence } from './json-sequence.js';
import { refuseLongNames, tagsOf } from './map-tags.js';
import { elementsOfOverpass, elementsOfXml, geoJsonOfElements } from './osm-elements.js';

interface RawFeature {
  readonly type?: unknown;
  readonly id?: unknown;
  readonly properties?: unknown;
  readonly geometry?: unknown;
}

const isPosition = (value: unknown): value is number[] =>
  Array.isArray(value) &&
  value.length >= 2 &&
  Number.isFinite(value[0]) &&
  Number.isFinite(value[1]);

/** A position of RFC 7946, with the likely cure when it is none on the Earth. */
const positionOf = (value: unknown, file: string, id: string): LonLat => {
  if (!isPosition(value)) {
    throw new InputFault(
      { file, place: idInPart(id) },
      `${quotedInPart(value)} is not a position`,
      'a position is [longitude, latitude] in degrees',
    );
  }
  const [longitude, latitude] = value;
  if (Math.abs(latitude) > 90 && Math.abs(latitude) <= 180 && Math.abs(longitude) <= 90) {
    throw new InputFault(
      { file, place: idInPart(id) },
      `latitude ${latitude} is beyond 90`,
      'latitude and longitude look exchanged: RFC 7946 has the longitude first',
    );
  }
  if (Math.abs(latitude) > 90 || Math.abs(longitude) > 360) {
    throw new InputFault(
      { file, place: idInPart(id) },
      `[${longitude}, ${latitude}] is no longitude and latitude`,
      'the coordinates look projected: export the map in WGS 84 degrees (EPSG:4326)',
    );
  }
  return [longitude, latitude];
};

/** The ring without its repeated end, counter-clockwise, its first point first. */
const openRing = (ring: readonly LonLat[]): readonly LonLat[] => {
  const first = ring[0];
  const last = ring[ring.length - 1];
  const open =
    ring.length > 1 && first[0] === last[0] && first[1] === last[1] ? ring.slice(0, -1) : ring;
  const [x, y] = first;
  const turned = signedArea(open.map(([lon, lat]): Point => [lon - x, lat - y])) < 0;
  return turned ? [first, ...open.slice(1).reverse()] : open;
};

/** The parts of a geometry as shapes; a MultiPolygon or MultiLineString gives several. */
const shapesOf = (geometry: unknown, file: string, id: string): FeatureShape[] => {
  const { type, coordinates, geometries } = (geometry ?? {}) as {
    type?: unknown;
    coordinates?: unknown;
    geometries?: unknown;
  };
  const list = (value: unknown, least: number, what: string): unknown[] => {
    if (!Array.isArray(value) || value.length < least) {
      throw new InputFault(
        { file, place: idInPart(id) },
        `${what} has fewer than ${least} positions`,
      );
    }
    if (value.length > INPUT_LIMITS.mapShape) {
      throw new InputFault(
        { file, place: idInPart(id) },
        `${what} has ${value.length} positions`,
        `leave ${INPUT_LIMITS.mapShape} at most: one each few centimetres is more than is drawn`,
      );
    }
    return value;
  };
  const line = (value: unknown): FeatureShape => ({
    kind: 'line',
    points: list(value, 2, 'the line').map((one) => positionOf(one, file, id)),
  });
  const area = (value: unknown): FeatureShape => ({
    kind: 'area',
    rings: list(value, 1, 'the polygon').map((ring) => {
      const open = openRing(list(ring, 3, 'a ring').map((one) => positionOf(one, file, id)));
      if (open.length < 3)
        throw new InputFault({ file, place: idInPart(id) }, 'a ring has fewer than 3 points');
      return open;
    }),
  });
  switch (type) {
    case 'Point':
      return [{ kind: 'point', at: positionOf(coordinates, file, id) }];
    case 'MultiPoint':
      return list(coordinates, 1, 'the geometry').map((at) => ({
        kind: 'point',
        at: positionOf(at, file, id),
      }));
    case 'LineString':
      return [line(coordinates)];
    case 'MultiLineString':
      return list(coordinates, 1, 'the geometry').map(line);
    case 'Polygon':
      return [area(coordinates)];
    case 'MultiPolygon':
      return list(coordinates, 1, 'the geometry').map(area);
    case 'GeometryCollection':
      return list(geometries, 1, 'the collection').flatMap((one) => shapesOf(one, file, id));
    default:
      throw new InputFault(
        { file, place: idInPart(id) },
        `the geometry ${type === undefined ? 'is missing and' : quotedInPart(type)} is not one of RFC 7946`,
      );
  }
};

/** Kinds that are ground: a way of theirs that ends where it began is an area. */
const AREAS: ReadonlySet<MapFeature['kind']> = new Set([
  'tee',
  'fairway',
  'green',
  'bunker',
  'water',
  'rough',
  'wood',
  'course',
]);

/** Whether a closed way is a line or an area depends on what it is; some writers of maps cannot tell. */
const asKind = (kind: MapFeature['kind'], shape: FeatureShape): FeatureShape => {
  if (kind === 'path' && shape.kind === 'area') {
    return { kind: 'line', points: [...shape.rings[0], shape.rings[0][0]] };
  }
  if (AREAS.has(kind) && shape.kind === 'line' && shape.points.length > 3) {
    const ring = openRing(shape.points);
    if (ring.length < shape.points.length) return { kind: 'area', rings: [ring] };
  }
  return shape;
};

/**
 * The holes that a feature names: by its ref, or where it has none by the name of a hole, a green or a tee; a practice green
 * names itself by a word, "practice" when it has none.
 */
const refsOfTags = (tags: Readonly<Record<string, string>>): string[] => {
  const refs = refsOf(tags.ref);
  if (refs.length > 0) return refs;
  if (isPracticeGreen(tags)) return ['practice'];
  const named =
    tags.name === undefined
      ? null
      : tags.golf === 'hole'
        ? numberInName(tags.name)
        : tags.golf === 'green'
          ? bareNumber(tags.name)
          : tags.golf === 'tee'
            ? numberOfTee(tags.name)
            : null;
  return named === null ? [] : [named];
};

/** The features of a collection, or the one that stands alone; null for what is neither. */
const listedIn = (value: unknown): RawFeature[] | null => {
  const { type, features } = (value ?? {}) as { type?: unknown; features?: unknown };
  if (type === 'FeatureCollection' && Array.isArray(features)) return features;
  return type === 'Feature' ? [value as RawFeature] : null;
};

const featuresOf = (collection: unknown, file: string): MapFeature[] => {
  const list = listedIn(collection);
  if (list === null) {
    throw new InputFault(
      { file },
      'neither GeoJSON nor an OpenStreetMap extract',
      'a map is a GeoJSON FeatureCollection (RFC 7946), a .osm file or an Overpass JSON answer',
    );
  }
  return list.flatMap((raw, i): MapFeature[] => {
    const named =
      typeof raw?.id === 'string' || typeof raw?.id === 'number'
        ? raw.id
        : (raw?.properties as { '@id'?: unknown } | null | undefined)?.['@id'];
    const id =
      typeof named === 'string' || typeof named === 'number' ? `${named}` : `feature ${i + 1}`;
    if (raw === null || typeof raw !== 'object' || raw.type !== 'Feature') {
      throw new InputFault({ file, place: idInPart(id) }, 'not a GeoJSON feature');
    }
    const tags = tagsOf(raw.properties);
    const geometryType = (raw.geometry as { type?: unknown } | null | undefined)?.type;
    const kind = kindOfTags(tags, geometryType === 'Point' || geometryType === 'MultiPoint');
    if (kind === null) return [];
    refuseLongNames(tags, { file, place: idInPart(id) });
    return shapesOf(raw.geometry, file, id).map((shape) => ({
      id,
      kind,
      refs: refsOfTags(tags),
      name: tags.name ?? null,
      tags,
      shape: asKind(kind, shape),
    }));
  });
};

const mapPositions = (shape: FeatureShape, move: (at: LonLat) => LonLat): FeatureShape => {
  switch (shape.kind) {
    case 'point':
      return { kind: 'point', at: move(shape.at) };
    case 'line':
      return { kind: 'line', points: shape.points.map(move) };
    case 'area':
      return { kind: 'area', rings: shape.rings.map((ring) => ring.map(move)) };
  }
};

export const firstPosition = (shape: FeatureShape): LonLat =>
  shape.kind === 'point' ? shape.at : shape.kind === 'line' ? shape.points[0] : shape.rings[0][0];

/** Longitudes that go on without a jump from the first feature's, so that the antimeridian is no edge. */
const unwrapped = (features: readonly MapFeature[]): MapFeature[] => {
  if (features.length === 0) return [];
  const [home] = firstPosition(features[0].shape);
  const move = ([longitude, latitude]: LonLat): LonLat => {
    const turns = Math.round((longitude - home) / 360);
    return turns === 0 ? [longitude, latitude] : [longitude - 360 * turns, latitude];
  };
  return features.map((one) => ({ ...one, shape: mapPositions(one.shape, move) }));
};

const mapOf = (collection: unknown, file: string): CourseMap => {
  const all = unwrapped(featuresOf(collection, file));
  return {
    file,
    features: all.filter((one) => one.kind !== 'course'),
    boundaries: all.filter((one) => one.kind === 'course' && one.shape.kind === 'area'),
  };
};

/** A sequence as one collection; what is no feature in it stays, to be told by its place. */
const collected = (values: readonly unknown[]): unknown => ({
  type: 'FeatureCollection',
  features: values.flatMap((one) => listedIn(one) ?? [one]),
});

/**
 * Reads the map of a course from the text of a GeoJSON file (RFC 7946, or a sequence of features by RFC 8142 or by lines),
 * an OpenStreetMap XML file or an Overpass JSON answer, told apart by their content. Features that no page shows are left out.
 *
 * @throws InputFault with the feature's id when the file or a geometry is damaged.
 */
export const readMap = (text: string, file: string): CourseMap => {
  const start = text.replace(/^\uFEFF/, '').trimStart();
  if (start.startsWith('<')) {
    return mapOf(geoJsonOfElements(elementsOfXml(start, file), file), file);
  }
  const plain = text.replace(/^\uFEFF/, '');
  const sequence = jsonSequence(plain, file);
  const value = sequence === null ? parseJson(plain, file) : collected(sequence);
  const isOverpass = typeof value === 'object' && value !== null && 'elements' in value;
  const collection = isOverpass
    ? geoJsonOfElements(elementsOfOverpass(value as { elements?: unknown }, file), file)
    : value;
  return mapOf(collection, file);
};
