import sax from 'sax';
import { InputFault } from '../../fault.js';
import type { Stated } from '../crs/placement.js';
import type { LengthUnit } from '../crs/plane.js';
import { type ByteSource, pieces } from './byte-source.js';
import type { FileReader, ReadPoint } from './file-reader.js';

/** LandXML 1.2: linearUnit of Imperial, and of Metric. */
const UNITS: Readonly<Record<string, LengthUnit>> = {
  foot: 'ft',
  ussurveyfoot: 'us-ft',
  meter: 'm',
  metre: 'm',
};

/** Vertices of a surface that are held at once; each face names three of them. */
const VERTEX_LIMIT = 4_000_000;

/** Text of one element (a point, a list of points). */
const TEXT_LIMIT = 64 * 1024 * 1024;

type Spot = readonly [number, number, number];

/** Names of vertices are numbers nearly always, and numbers take less room. */
const keyOf = (id: string): string | number => (/^\d{1,15}$/.test(id) ? Number(id) : id);

const numbersOf = (text: string, source: string, place: () => string): number[] => {
  const trimmed = text.trim();
  if (trimmed === '') return [];
  return trimmed.split(/\s+/).map((field) => {
    const value = Number(field);
    if (!Number.isFinite(value)) {
      throw new InputFault(
        { file: source, place: place() },
        `"${field.slice(0, 30)}" is not a number`,
        'a point is northing, easting and height, parted by spaces',
      );
    }
    return value;
  });
};

const decode = async function* (bytes: ByteSource): AsyncGenerator<string> {
  const head = await bytes.read(0, 4);
  const encoding =
    head[0] === 0xff && head[1] === 0xfe
      ? 'utf-16le'
      : head[0] === 0xfe && head[1] === 0xff
        ? 'utf-16be'
        : 'utf-8';
  const decoder = new TextDecoder(encoding);
  for await (const piece of pieces(bytes)) yield decoder.decode(piece, { stream: true });
  yield decoder.decode();
};

/**
 * LandXML surfaces: the vertices of the triangles in use, and breaklines. A vertex that no visible face
 * uses is left out, since contractors' surfaces keep deleted ones; a file without faces gives all its
 * points. Coordinates are northing, easting, height, as the schema has them.
 *
 * @throws InputFault for XML that is not well formed, a wrong number, and a face of an unknown vertex.
 */
export const readLandXml: FileReader = async (bytes, context) => {
  const { source } = context.options;
  const parser = sax.parser(true, { position: true });
  const place = (): string => `line ${parser.line + 1}`;
  const fault = (problem: string, cure?: string): InputFault =>
    new InputFault({ file: source, place: place() }, problem, cure);

  const path: string[] = [];
  let attributes: Readonly<Record<string, string>> = {};
  let text: string[] = [];
  let textLength = 0;
  let failure: unknown = null;
  /** The first fault stands; the parser goes on to the end of its piece. */
  const fail = (fault: unknown): void => {
    failure ??= fault;
  };
  let root: string | null = null;
  let stated: Stated = { crs: null, unit: null, verticalUnit: null };

  // One surface at a time: vertices by id, and whether a face uses them.
  let vertices = new Map<string | number, number>();
  let spots: number[] = [];
  let used: boolean[] = [];
  let faces = 0;
  const surfaces: string[] = [];
  let name: string | null = null;
  const loose: Spot[] = [];
  const rings: Spot[][] = [];
  let take: ReadPoint | null = null;
  const begin = (): ReadPoint => {
    take ??= context.begin(stated);
    return take;
  };
  let given = 0;

  const spot = (values: readonly number[]): Spot => {
    if (values.length < 3) throw fault('a point without a height', 'northing, easting and height');
    return [values[1], values[0], values[2]];
  };

  const wanted = (): boolean =>
    context.options.surface === undefined ||
    context.options.surface === null ||
    context.options.surface === name;

  const endSurface = (): void => {
    const keep = wanted() ? begin() : () => null;
    const count = spots.length / 3;
    for (let i = 0; i < count; i++) {
      if (faces > 0 && !used[i]) continue;
      keep(spots[3 * i], spots[3 * i + 1], spots[3 * i + 2], () => `vertex ${i + 1}`);
      if (wanted()) given += 1;
    }
    if (count === 0) {
      for (const [x, y, z] of loose) keep(x, y, z, () => 'source data');
      if (wanted()) given += loose.length;
    }
    vertices = new Map();
    spots = [];
    used = [];
    faces = 0;
    loose.length = 0;
    surfaces.push(name ?? `${surfaces.length + 1}`);
  };

  const endElement = (element: string): void => {
    const content = text.join('');
    text = [];
    textLength = 0;
    if (element === 'P') {
      const [x, y, z] = spot(numbersOf(content, source, place));
      const id = keyOf(attributes.id ?? String(spots.length / 3 + 1));
      if (spots.length / 3 >= VERTEX_LIMIT)
        throw fault('more than 4 million vertices in one surface');
      vertices.set(id, spots.length / 3);
      spots.push(x, y, z);
    } else if (element === 'F') {
      if (attributes.i === '1') return;
      const ids = content.trim().split(/\s+/);
      if (ids.length < 3) throw fault('a face with fewer than three vertices');
      faces += 1;
      for (const id of ids.slice(0, 3)) {
        const at = vertices.get(keyOf(id));
        if (at === undefined)
          throw fault(`a face names the vertex "${id.slice(0, 20)}", which is not there`);
        used[at] = true;
      }
    } else if (element === 'PntList3D') {
      const values = numbersOf(content, source, place);
      if (values.length % 3 !== 0)
        throw fault('a list of points whose numbers do not come in threes');
      const list: Spot[] = [];
      for (let i = 0; i < values.length; i += 3)
        list.push([values[i + 1], values[i], values[i + 2]]);
      if (path.includes('Breakline')) {
        if (wanted()) rings.push(list);
      } else if (path.includes('DataPoints') || path.includes('SourceData')) loose.push(...list);
    } else if (element === 'CgPoint' && path.includes('CgPoints')) {
      const values = numbersOf(content, source, place);
      if (values.length >= 3) loose.push([values[1], values[0], values[2]]);
    } else if (element === 'Surface') {
      endSurface();
    }
  };

  parser.onerror = (error) => {
    fail(
      new InputFault(
        { file: source, place: place() },
        `the XML is not well formed (${error.message.split('\n')[0]})`,
        'the file is cut off or damaged; export it again',
      ),
    );
  };
  parser.onopentag = (node) => {
    if (failure !== null) return;
    const element = node.name.slice(node.name.indexOf(':') + 1);
    if (root === null) {
      root = element;
      if (element !== 'LandXML') {
        fail(
          fault(
            `an XML file of the kind "${element.slice(0, 30)}"`,
            'export the surface as LandXML',
          ),
        );
        return;
      }
    }
    path.push(element);
    if (path.length > 200) fail(fault('elements nested more than 200 deep'));
    attributes = node.attributes as Record<string, string>;
    text = [];
    textLength = 0;
    if (element === 'Surface') name = attributes.name ?? null;
    if (element === 'Metric' || element === 'Imperial') {
      const unit = UNITS[(attributes.linearUnit ?? '').toLowerCase()] ?? null;
      const said = (attributes.elevationUnit ?? '').toLowerCase();
      // The schema's "feet" does not tell which foot: that of the positions, if they are in feet.
      const vertical =
        said === 'feet' ? (unit === 'us-ft' ? 'us-ft' : 'ft') : (UNITS[said] ?? null);
      if (unit === null && attributes.linearUnit !== undefined) {
        fail(
          fault(
            `the unit "${attributes.linearUnit.slice(0, 20)}" is not read`,
            'metres, international feet or US survey feet',
          ),
        );
      }
      stated = { ...stated, unit, verticalUnit: vertical };
    }
    if (element === 'CoordinateSystem' && /^\d{4,6}$/.test(attributes.epsgCode ?? '')) {
      stated = { ...stated, crs: `EPSG:${attributes.epsgCode}` };
    }
  };
  parser.ontext = (piece) => {
    if (failure !== null) return;
    textLength += piece.length;
    if (textLength > TEXT_LIMIT) fail(fault('an element of more than 64 MB'));
    else text.push(piece);
  };
  parser.onclosetag = () => {
    if (failure !== null) return;
    try {
      endElement(path.pop() ?? '');
    } catch (error) {
      fail(error);
    }
    attributes = {};
  };

  for await (const piece of decode(bytes)) {
    // The parser keeps its text in one string; slices keep it short.
    for (let at = 0; at < piece.length; at += 32_768) {
      parser.write(piece.slice(at, at + 32_768));
      if (failure !== null) throw failure;
    }
  }
  parser.close();
  if (failure !== null) throw failure;
  if (surfaces.length === 0 && loose.length > 0) endSurface();
  begin();
  if (surfaces.length > 1 && (context.options.surface ?? null) === null) {
    throw new InputFault(
      { file: source },
      `the file holds ${surfaces.length} surfaces`,
      `name one by --surface or the key surface: ${surfaces
        .slice(0, 8)
        .map((one) => `"${one}"`)
        .join(', ')
        .slice(0, 140)}`,
    );
  }
  if (given === 0) {
    throw new InputFault(
      { file: source },
      context.options.surface === undefined || context.options.surface === null
        ? 'no surface with points in the LandXML file'
        : `no surface "${context.options.surface}" with points in the LandXML file`,
      surfaces.length === 0
        ? 'export the surface with its points and faces'
        : `its surfaces: ${surfaces.slice(0, 8).join(', ').slice(0, 120)}`,
    );
  }
  return {
    kind: 'tin',
    cellSize: null,
    breaklines: rings
      .filter((ring) => ring.length > 1)
      .map((ring) => ring.map((s) => context.place(...s))),
    notes: [],
    how: `LandXML, northing, easting, height${surfaces.length > 0 && name !== null ? `, surface "${(context.options.surface ?? surfaces[0]).slice(0, 40)}"` : ''}`,
  };
};
