import { InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { counted } from '../../wording.js';
import { stateOfWkt } from '../crs/file-crs.js';
import type { LengthUnit } from '../crs/plane.js';
import type { FileReader } from './file-reader.js';
import { linesOf } from './text-lines.js';

/**
 * Drawings as text (DXF, the published reference of its group codes): points, corners of 3D faces and
 * vertices of lines. Group code 8 is the layer; 10, 20, 30 and the codes after them are x, y and z.
 */

type Spot = [number, number, number];

interface Entity {
  kind: string;
  layer: string;
  flags: number;
  /** Coordinates by group code: 10 to 13, 20 to 23, 30 to 33; lists for polylines. */
  readonly values: Map<number, number[]>;
  readonly line: number;
}

/** $INSUNITS 1: inches. Programs write it where nobody set a unit, and no green is surveyed in it: not heeded, and told. */
const INCHES = 1;

/** $INSUNITS: feet, miles, millimetres, centimetres, metres, kilometres, yards, decimetres, US survey feet. */
const UNITS: Readonly<Record<number, readonly [LengthUnit, number]>> = {
  2: ['ft', 1],
  3: ['ft', 5280],
  4: ['m', 0.001],
  5: ['m', 0.01],
  6: ['m', 1],
  7: ['m', 1000],
  10: ['ft', 3],
  14: ['m', 0.1],
  21: ['us-ft', 1],
};

const KINDS = new Set(['POINT', '3DFACE', 'LINE', 'LWPOLYLINE', 'POLYLINE', 'VERTEX', 'SEQEND']);
interface Drawing {
  readonly points: { readonly spot: Spot; readonly layer: string; readonly line: number }[];
  readonly faces: { readonly corners: Spot[]; readonly layer: string; readonly line: number }[];
  readonly strings: {
    readonly spots: Spot[];
    readonly layer: string;
    readonly line: number;
    readonly isContour: boolean;
  }[];
  unit: number;
  passed: number;
}

const spotsOf = ({ values, kind }: Entity): Spot[] => {
  const at = (code: number, k: number): number => values.get(code)?.[k] ?? 0;
  if (kind === 'LWPOLYLINE') {
    const height = values.get(38)?.[0] ?? 0;
    return (values.get(10) ?? []).map((x, k) => [x, at(20, k), height]);
  }
  const count = kind === '3DFACE' ? 4 : kind === 'LINE' ? 2 : 1;
  return Array.from({ length: count }, (_, k) => k)
    .filter((k) => values.has(10 + k))
    .map((k) => [at(10 + k, 0), at(20 + k, 0), at(30 + k, 0)]);
};

/** Adds an entity to the drawing; a polyline stays open until its end. */
const add = (drawing: Drawing, entity: Entity, open: { spots: Spot[]; entity: Entity } | null) => {
  const { layer, line, kind } = entity;
  if (kind === 'POLYLINE') return { spots: [], entity };
  if (kind === 'VERTEX') {
    // Flag 16: a control point of a spline, not of the line.
    if (open !== null && (entity.flags & 16) === 0) open.spots.push(...spotsOf(entity));
    return open;
  }
  if (kind === 'SEQEND') {
    if (open !== null) {
      const { spots, entity: head } = open;
      drawing.strings.push({
        spots,
        layer: head.layer,
        line: head.line,
        isContour: (head.flags & 8) === 0,
      });
    }
    return null;
  }
  const spots = spotsOf(entity);
  if (kind === 'POINT') for (const spot of spots) drawing.points.push({ spot, layer, line });
  else if (kind === '3DFACE') drawing.faces.push({ corners: spots, layer, line });
  else drawing.strings.push({ spots, layer, line, isContour: kind === 'LWPOLYLINE' });
  return null;
};

const readDrawing = async (bytes: Parameters<FileReader>[0], source: string): Promise<Drawing> => {
  const drawing: Drawing = { points: [], faces: [], strings: [], unit: 0, passed: 0 };
  let code: number | null = null;
  let section = '';
  let expectsSection = false;
  let variable = '';
  let entity: Entity | null = null;
  let open: { spots: Spot[]; entity: Entity } | null = null;
  let spots = 0;
  for await (const lines of linesOf(bytes, source)) {
    for (const { number, text } of lines) {
      const value = text.trim();
      if (code === null) {
        if (value === '' && entity === null) continue;
        code = /^\d{1,4}$/.test(value) ? Number(value) : Number.NaN;
        if (Number.isNaN(code)) {
          throw new InputFault(
            { file: source, place: `line ${number}` },
            `${quoted(value, 20)} is no group code`,
            'the drawing is cut off or damaged; save it again as DXF text',
          );
        }
        continue;
      }
      const group = code;
      code = null;
      if (group === 0) {
        if (entity !== null) open = add(drawing, entity, open);
        entity = null;
        expectsSection = value === 'SECTION';
        if (value === 'ENDSEC') section = '';
        if (section !== 'ENTITIES') continue;
        if (KINDS.has(value))
          entity = { kind: value, layer: '0', flags: 0, values: new Map(), line: number };
        else drawing.passed += 1;
      } else if (group === 2 && expectsSection) {
        section = value;
        expectsSection = false;
      } else if (group === 9) variable = value;
      else if (group === 70 && section === 'HEADER' && variable === '$INSUNITS')
        drawing.unit = Number(value);
      else if (entity !== null && group === 8) entity.layer = value;
      else if (entity !== null && group === 70) entity.flags = Number(value) || 0;
      else if (entity !== null && ((group >= 10 && group <= 38) || group === 38)) {
        const coordinate = Number(value);
        if (!Number.isFinite(coordinate) || value === '') {
          throw new InputFault(
            { file: source, place: `line ${number}` },
            `${quoted(value, 20)} is not a coordinate`,
            'the drawing is damaged; save it again as DXF text',
          );
        }
        const list = entity.values.get(group);
        if (list === undefined) entity.values.set(group, [coordinate]);
        else list.push(coordinate);
        spots += 1;
        if (spots > 3 * SURVEY_LIMITS.vertices) {
          throw new InputFault(
            { file: source },
            'more than 4 million places in one drawing',
            'export the layer of the ground alone',
          );
        }
      }
    }
  }
  if (entity !== null) add(drawing, entity, open);
  return drawing;
};

/** The part of a drawing that is read, and how its layers were chosen. */
interface Chosen {
  /** Null where all layers are taken. */
  readonly named: readonly string[] | null;
  /** The layers of the drawing that hold ground, in their order, and as a fault lists them. */
  readonly layers: readonly string[];
  readonly points: Drawing['points'];
  readonly faces: Drawing['faces'];
  readonly strings: Drawing['strings'];
}

const listed = (layers: Iterable<string>): string =>
  [...layers].slice(0, 8).join(', ').slice(0, 110);

const chosenOf = (drawing: Drawing, layer: string | null, source: string): Chosen => {
  const all = [...drawing.points, ...drawing.faces, ...drawing.strings];
  const named = layer === null ? null : layer.split(',').map((name) => name.trim());
  const isWanted = (one: { readonly layer: string }): boolean =>
    named === null || named.includes(one.layer);
  const faces = drawing.faces.filter(isWanted);
  const surfaces = new Set(faces.map((one) => one.layer));
  if (named === null && surfaces.size > 1) {
    throw new InputFault(
      { file: source },
      `faces lie on ${surfaces.size} layers, which may be two surfaces`,
      `name one by --layer or the key layer: ${listed(surfaces)}`,
    );
  }
  return {
    named,
    layers: [...new Set(all.map((one) => one.layer))],
    points: drawing.points.filter(isWanted),
    faces,
    strings: drawing.strings.filter(isWanted),
  };
};

/** All places of what is read, the single points first, then faces, then lines. */
const placesOf = ({ points, faces, strings }: Chosen): { spot: Spot; line: number }[] => [
  ...points.map(({ spot, line }) => ({ spot, line })),
  ...faces.flatMap(({ corners, line }) => corners.map((spot) => ({ spot, line }))),
  ...strings.flatMap(({ spots, line }) => spots.map((spot) => ({ spot, line }))),
];

/** The share of a drawing's places that have a height; refuses one in which none has. */
const highShare = (
  spots: number,
  high: number,
  { named, layers }: Chosen,
  source: string,
): number => {
  if (high > 0) return high / spots;
  throw new InputFault(
    { file: source },
    spots === 0
      ? 'the drawing holds no points, faces or lines'
      : 'all places of the drawing lie at height 0',
    spots === 0 && named !== null
      ? `its layers with ground: ${listed(layers)}`
      : 'export points, 3D faces or 3D polylines with their heights',
  );
};

const notesOf = (flat: number, passed: number, { named, layers }: Chosen): string[] => [
  ...(flat === 0 ? [] : [`passed over: ${counted(flat, 'place')} at height 0`]),
  ...(passed === 0
    ? []
    : [
        `passed over: ${counted(passed, 'entity', 'entities')} of the drawing that ${passed === 1 ? 'is no point, face or line' : 'are no points, faces or lines'}`,
      ]),
  ...(named === null && layers.length > 1 ? [`layers taken together: ${listed(layers)}`] : []),
];

/**
 * DXF: points, corners of faces, and vertices of lines that have heights; lines in space are breaklines,
 * lines at one height are contours. Layers to read are named, or all that hold ground are taken.
 *
 * @throws InputFault for a drawing without heights, and for faces on several layers of which none is named.
 */
export const readDxf: FileReader = async (bytes, context) => {
  const { source, layer, beside } = context.options;
  const drawing = await readDrawing(bytes, source);
  const chosen = chosenOf(drawing, layer ?? null, source);
  const places = placesOf(chosen);
  const high = places.filter(({ spot }) => spot[2] !== 0).length;
  const share = highShare(places.length, high, chosen, source);
  // Flat linework (outlines, text frames) stands at 0 among places that do not.
  const dropZero = share > 0.5 || drawing.points.some(({ spot }) => Math.abs(spot[2]) > 1);
  const [unit, factor] = UNITS[drawing.unit] ?? [null, 1];
  const system =
    beside?.prj === undefined
      ? { crs: null, unit: null, verticalUnit: null }
      : stateOfWkt(beside.prj);
  const take = context.begin({
    crs: system.crs,
    unit: unit ?? system.unit,
    verticalUnit: unit ?? system.verticalUnit,
  });
  const seen = new Set<string>();
  let flat = 0;
  for (const { spot, line } of places) {
    if (dropZero && spot[2] === 0) {
      flat += 1;
      continue;
    }
    // Faces share their corners, and a fourth corner repeats the third.
    const key = spot.join(' ');
    if (seen.has(key)) continue;
    seen.add(key);
    take(spot[0] * factor, spot[1] * factor, spot[2] * factor, () => `line ${line}`);
  }
  const breaklines = chosen.strings
    .filter(
      ({ spots, isContour }) =>
        !isContour && spots.length > 1 && spots.every(([, , z]) => z !== 0 || !dropZero),
    )
    .map(({ spots }) =>
      spots.map(([x, y, z]) => context.place(x * factor, y * factor, z * factor)),
    );
  const { named } = chosen;
  return {
    kind: chosen.faces.length > 0 ? 'tin' : 'points',
    cellSize: null,
    breaklines,
    notes: [
      ...notesOf(flat, drawing.passed, chosen),
      ...(drawing.unit === INCHES
        ? [
            'the drawing states inches, as programs write where no unit was set: not heeded; name the unit',
          ]
        : []),
    ],
    how: `DXF, x east, y north, z height${named === null ? '' : `, layer ${named.join(', ').slice(0, 40)}`}`,
    unitWhence: 'the drawing states it',
  };
};
