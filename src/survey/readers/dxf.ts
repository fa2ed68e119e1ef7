import { InputFault } from '../../fault.js';
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

/** $INSUNITS: 2 feet, 4 millimetres, 5 centimetres, 6 metres, 21 US survey feet. */
const UNITS: Readonly<Record<number, readonly [LengthUnit, number]>> = {
  2: ['ft', 1],
  4: ['m', 0.001],
  5: ['m', 0.01],
  6: ['m', 1],
  21: ['us-ft', 1],
};

const KINDS = new Set(['POINT', '3DFACE', 'LINE', 'LWPOLYLINE', 'POLYLINE', 'VERTEX', 'SEQEND']);
const SPOT_LIMIT = 4_000_000;

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
            `"${value.slice(0, 20)}" is no group code`,
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
            `"${value.slice(0, 20)}" is not a coordinate`,
            'the drawing is damaged; save it again as DXF text',
          );
        }
        const list = entity.values.get(group);
        if (list === undefined) entity.values.set(group, [coordinate]);
        else list.push(coordinate);
        spots += 1;
        if (spots > 3 * SPOT_LIMIT) {
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

/**
 * DXF: points, corners of faces, and vertices of lines that have heights; lines in space are breaklines,
 * lines at one height are contours. Layers to read are named, or all that hold ground are taken.
 *
 * @throws InputFault for a drawing without heights, and for faces on several layers of which none is named.
 */
export const readDxf: FileReader = async (bytes, context) => {
  const { source, layer } = context.options;
  const drawing = await readDrawing(bytes, source);
  const all = [...drawing.points, ...drawing.faces, ...drawing.strings];
  const layers = [...new Set(all.map((one) => one.layer))];
  const chosen =
    layer === null || layer === undefined
      ? null
      : new Set(layer.split(',').map((name) => name.trim()));
  const listed = layers.slice(0, 8).join(', ').slice(0, 110);
  const isWanted = (one: { readonly layer: string }): boolean =>
    chosen === null || chosen.has(one.layer);
  const surfaces = new Set(drawing.faces.filter(isWanted).map((one) => one.layer));
  if (chosen === null && surfaces.size > 1) {
    throw new InputFault(
      { file: source },
      `faces lie on ${surfaces.size} layers, which may be two surfaces`,
      `name one by --layer or the key layer: ${[...surfaces].slice(0, 8).join(', ').slice(0, 110)}`,
    );
  }
  const strings = drawing.strings.filter(isWanted);
  const corners = drawing.faces
    .filter(isWanted)
    .flatMap(({ corners: list, line }) => list.map((spot) => ({ spot, line })));
  const spots = [
    ...drawing.points.filter(isWanted).map(({ spot, line }) => ({ spot, line })),
    ...corners,
    ...strings.flatMap(({ spots: list, line }) => list.map((spot) => ({ spot, line }))),
  ];
  const high = spots.filter(({ spot }) => spot[2] !== 0).length;
  if (spots.length === 0 || high === 0) {
    throw new InputFault(
      { file: source },
      spots.length === 0
        ? 'the drawing holds no points, faces or lines'
        : 'all places of the drawing lie at height 0',
      spots.length === 0 && chosen !== null
        ? `its layers with ground: ${listed}`
        : 'export points, 3D faces or 3D polylines with their heights',
    );
  }
  // Flat linework (outlines, text frames) stands at 0 among places that do not.
  const dropZero =
    high > spots.length / 2 || drawing.points.some(({ spot }) => Math.abs(spot[2]) > 1);
  const unit = UNITS[drawing.unit] ?? null;
  const factor = unit?.[1] ?? 1;
  const prj = context.options.beside?.prj;
  const system =
    prj === undefined ? { crs: null, unit: null, verticalUnit: null } : stateOfWkt(prj);
  const take = context.begin({
    crs: system.crs,
    unit: unit?.[0] ?? system.unit,
    verticalUnit: unit?.[0] ?? system.verticalUnit,
  });
  const seen = new Set<string>();
  let flat = 0;
  for (const { spot, line } of spots) {
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
  const breaklines = strings
    .filter(
      ({ spots: list, isContour }) =>
        !isContour && list.length > 1 && list.every(([, , z]) => z !== 0 || !dropZero),
    )
    .map(({ spots: list }) =>
      list.map(([x, y, z]) => context.place(x * factor, y * factor, z * factor)),
    );
  return {
    kind: corners.length > 0 ? 'tin' : 'points',
    cellSize: null,
    breaklines,
    notes: [
      ...(flat === 0 ? [] : [`passed over: ${flat} places at height 0`]),
      ...(drawing.passed === 0
        ? []
        : [
            `passed over: ${drawing.passed} entities of the drawing that are no points, faces or lines`,
          ]),
      ...(chosen === null && layers.length > 1 ? [`layers taken together: ${listed}`] : []),
    ],
    how: `DXF, x east, y north, z height${chosen === null ? '' : `, layer ${[...chosen].join(', ').slice(0, 40)}`}`,
    unitWhence: 'the drawing states it',
  };
};
