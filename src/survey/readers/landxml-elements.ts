import { type InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { ownValue } from '../../own-value.js';
import type { Stated } from '../crs/placement.js';
import type { LengthUnit } from '../crs/plane.js';
import type { ReadContext, ReadPoint } from './file-reader.js';

/** LandXML 1.2: linearUnit of Imperial, and of Metric. */
const UNITS: Readonly<Record<string, LengthUnit>> = {
  foot: 'ft',
  ussurveyfoot: 'us-ft',
  meter: 'm',
  metre: 'm',
};

type Spot = readonly [number, number, number];

/** Names of vertices are numbers nearly always, and numbers take less room. */
const keyOf = (id: string): string | number => (/^\d{1,15}$/.test(id) ? Number(id) : id);

/** A file while it is read: one surface at a time, and what is kept of all of them. */
export interface LandXmlReading {
  readonly context: ReadContext;
  /** Null where every surface is wanted, or the only one. */
  readonly asked: string | null;
  stated: Stated;
  take: ReadPoint | null;
  /** Of the surface that is open: vertices by id, and whether a face uses them. */
  name: string | null;
  vertices: Map<string | number, number>;
  spots: number[];
  used: boolean[];
  faces: number;
  loose: Spot[];
  /** Of all: the names, the breaklines and the points given. */
  readonly surfaces: string[];
  readonly rings: Spot[][];
  given: number;
}

export const newReading = (context: ReadContext): LandXmlReading => ({
  context,
  asked: context.options.surface ?? null,
  stated: { crs: null, unit: null, verticalUnit: null },
  take: null,
  name: null,
  vertices: new Map(),
  spots: [],
  used: [],
  faces: 0,
  loose: [],
  surfaces: [],
  rings: [],
  given: 0,
});

export const beginReading = (reading: LandXmlReading): ReadPoint => {
  reading.take ??= reading.context.begin(reading.stated);
  return reading.take;
};

const isWanted = ({ asked, name }: LandXmlReading): boolean => asked === null || asked === name;

/** Gives the points of the surface that ends, and makes room for the next. */
export const endSurface = (reading: LandXmlReading): void => {
  const { spots, used, faces, loose, surfaces } = reading;
  const wanted = isWanted(reading);
  const keep = wanted ? beginReading(reading) : () => null;
  const count = spots.length / 3;
  let given = 0;
  for (let i = 0; i < count; i++) {
    if (faces > 0 && !used[i]) continue;
    keep(spots[3 * i], spots[3 * i + 1], spots[3 * i + 2], () => `vertex ${i + 1}`);
    given += 1;
  }
  if (count === 0) {
    for (const [x, y, z] of loose) keep(x, y, z, () => 'source data');
    given += loose.length;
  }
  if (wanted) reading.given += given;
  reading.vertices = new Map();
  reading.spots = [];
  reading.used = [];
  reading.faces = 0;
  reading.loose = [];
  surfaces.push(reading.name ?? `${surfaces.length + 1}`);
};

/** An element that has ended, with its text. */
export interface Ended {
  readonly name: string;
  /** The elements that it stands in. */
  readonly path: readonly string[];
  readonly attributes: Readonly<Record<string, string>>;
  readonly text: string;
  readonly numbers: () => number[];
  readonly fault: (problem: string, cure?: string) => InputFault;
}

const addVertex = (reading: LandXmlReading, { attributes, numbers, fault }: Ended): void => {
  const values = numbers();
  if (values.length < 3) throw fault('a point without a height', 'northing, easting and height');
  const at = reading.spots.length / 3;
  if (at >= SURVEY_LIMITS.vertices) throw fault('more than 4 million vertices in one surface');
  reading.vertices.set(keyOf(attributes.id ?? String(at + 1)), at);
  reading.spots.push(values[1], values[0], values[2]);
};

const addFace = (reading: LandXmlReading, { attributes, text, fault }: Ended): void => {
  if (attributes.i === '1') return;
  const ids = text.trim().split(/\s+/);
  if (ids.length < 3) throw fault('a face with fewer than three vertices');
  reading.faces += 1;
  for (const id of ids.slice(0, 3)) {
    const at = reading.vertices.get(keyOf(id));
    if (at === undefined)
      throw fault(`a face names the vertex ${quoted(id, 20)}, which is not there`);
    reading.used[at] = true;
  }
};

const addList = (reading: LandXmlReading, { path, numbers, fault }: Ended): void => {
  const values = numbers();
  if (values.length % 3 !== 0) throw fault('a list of points whose numbers do not come in threes');
  const list: Spot[] = [];
  for (let i = 0; i < values.length; i += 3) list.push([values[i + 1], values[i], values[i + 2]]);
  if (path.includes('Breakline')) {
    if (isWanted(reading)) reading.rings.push(list);
  } else if (path.includes('DataPoints') || path.includes('SourceData')) {
    for (const spot of list) reading.loose.push(spot);
  }
};

export const endElement = (reading: LandXmlReading, ended: Ended): void => {
  if (ended.name === 'P') addVertex(reading, ended);
  else if (ended.name === 'F') addFace(reading, ended);
  else if (ended.name === 'PntList3D') addList(reading, ended);
  else if (ended.name === 'CgPoint' && ended.path.includes('CgPoints')) {
    const values = ended.numbers();
    if (values.length >= 3) reading.loose.push([values[1], values[0], values[2]]);
  } else if (ended.name === 'Surface') endSurface(reading);
};

/** What an element states as it begins: the surface's name, units, a coordinate system. */
export const openElement = (
  reading: LandXmlReading,
  element: string,
  attributes: Readonly<Record<string, string>>,
  fault: (problem: string, cure?: string) => InputFault,
): void => {
  if (element === 'Surface') reading.name = attributes.name ?? null;
  if (element === 'Metric' || element === 'Imperial') {
    const unit = ownValue(UNITS, (attributes.linearUnit ?? '').toLowerCase()) ?? null;
    const said = (attributes.elevationUnit ?? '').toLowerCase();
    // The schema's "feet" does not tell which foot: that of the positions, if they are in feet.
    const verticalUnit =
      said === 'feet' ? (unit === 'us-ft' ? 'us-ft' : 'ft') : (ownValue(UNITS, said) ?? null);
    if (unit === null && attributes.linearUnit !== undefined) {
      throw fault(
        `the unit ${quoted(attributes.linearUnit, 20)} is not read`,
        'metres, international feet or US survey feet',
      );
    }
    const isLate = reading.take !== null && reading.context.options.unit == null;
    if (isLate && (unit ?? 'm') !== (reading.stated.unit ?? 'm')) {
      throw fault(
        'the units stand behind the surfaces, which are read without them',
        'name the unit: --unit m, ft or us-ft, or the key unit in the course file',
      );
    }
    reading.stated = { ...reading.stated, unit, verticalUnit };
  }
  if (element === 'CoordinateSystem' && /^\d{4,6}$/.test(attributes.epsgCode ?? '')) {
    reading.stated = { ...reading.stated, crs: `EPSG:${attributes.epsgCode}` };
  }
};
