import { InputFault } from '../../fault.js';
import { counted } from '../../wording.js';
import { stateOfWkt } from '../crs/file-crs.js';
import { type ByteSource, PIECE } from './byte-source.js';
import type { FileReader } from './file-reader.js';

/** Shape types (ESRI Shapefile Technical Description, 1998): with heights, and without. */
const WITH_Z: Readonly<Record<number, 'point' | 'line' | 'many'>> = {
  11: 'point',
  13: 'line',
  15: 'line',
  18: 'many',
};
const FLAT: Readonly<Record<number, string>> = {
  1: 'points',
  3: 'lines',
  5: 'areas',
  8: 'points',
  21: 'points',
  23: 'lines',
  25: 'areas',
  28: 'points',
};

/** An index has the header of its shapefile and then 8 bytes a record: the first offset is 50 words. */
const refuseIndex = async (bytes: ByteSource, source: string): Promise<void> => {
  const first = await bytes.read(100, 4);
  if (first.length < 4 || bytes.size % 8 !== 4) return;
  if (new DataView(first.buffer, first.byteOffset, 4).getInt32(0, false) !== 50) return;
  throw new InputFault(
    { file: source },
    'this is the index of a shapefile (.shx), without its points',
    'name the .shp file',
  );
};

/** The last vertex of each ring, where it is the first one again: the point is one. */
const closings = (
  body: DataView,
  points: number,
  starts: readonly number[],
  count: number,
): ReadonlySet<number> => {
  const at = (k: number, axis: number): number => body.getFloat64(points + 16 * k + 8 * axis, true);
  const ends = new Set<number>();
  starts.forEach((start, part) => {
    const end = (starts[part + 1] ?? count) - 1;
    if (!(start >= 0 && end > start && end < count)) return;
    if (at(start, 0) === at(end, 0) && at(start, 1) === at(end, 1)) ends.add(end);
  });
  return ends;
};

/** Any number below it means no data (the same description, page 2). */
const NO_DATA = -1e38;

/**
 * Shapefile: points and vertices with heights; lines are breaklines. The coordinate system stands in the
 * file of the same name with the ending .prj.
 *
 * @throws InputFault for shapes without heights and for a damaged file.
 */
export const readShapefile: FileReader = async (bytes, context) => {
  const { source, beside } = context.options;
  const cut = (what: string): InputFault =>
    new InputFault({ file: source }, what, 'the file is cut off or damaged; fetch it again');
  const head = await bytes.read(0, 100);
  if (head.length < 100) throw cut('the file ends inside its header');
  const view = new DataView(head.buffer, head.byteOffset, head.length);
  const type = view.getInt32(32, true);
  if (WITH_Z[type] === undefined) {
    throw new InputFault(
      { file: source },
      FLAT[type] === undefined
        ? `shapes of type ${type} are not read`
        : `the ${FLAT[type]} of the shapefile have no heights`,
      'export them with heights (PointZ, PolylineZ), or as CSV with a column for the height',
    );
  }
  await refuseIndex(bytes, source);
  const prj = beside?.prj;
  const take = context.begin(
    prj === undefined ? { crs: null, unit: null, verticalUnit: null } : stateOfWkt(prj),
  );
  const breaklines: [number, number, number][][] = [];
  let piece: Uint8Array = new Uint8Array(0);
  let start = 100;
  let empty = 0;
  for (let at = 100, record = 1; at + 8 <= bytes.size; record++) {
    const lead = await bytes.read(at, 12);
    if (lead.length < 12) throw cut(`record ${record} is cut off`);
    const leadView = new DataView(lead.buffer, lead.byteOffset, lead.length);
    const length = 2 * leadView.getInt32(4, false);
    if (!(length >= 4) || at + 8 + length > bytes.size)
      throw cut(`record ${record} reaches past the end of the file`);
    if (at < start || at + 8 + length > start + piece.length) {
      start = at;
      piece = await bytes.read(at, Math.max(PIECE, 8 + length));
    }
    const body = new DataView(piece.buffer, piece.byteOffset + at - start + 8, length);
    at += 8 + length;
    const kind = body.getInt32(0, true);
    if (kind === 0) continue;
    const shape = WITH_Z[kind];
    const place = (): string => `record ${record}`;
    if (shape === undefined || kind !== type)
      throw cut(`record ${record} is of another type than the file`);
    if (shape === 'point') {
      if (length < 28) throw cut(`record ${record} is cut off`);
      const height = body.getFloat64(20, true);
      if (height < NO_DATA) empty += 1;
      else take(body.getFloat64(4, true), body.getFloat64(12, true), height, place);
      continue;
    }
    if (length < 44) throw cut(`record ${record} is cut off`);
    const parts = shape === 'many' ? 0 : body.getInt32(36, true);
    const count = body.getInt32(shape === 'many' ? 36 : 40, true);
    const points = (shape === 'many' ? 40 : 44) + 4 * parts;
    const heights = points + 16 * count + 16;
    if (!(parts >= 0 && count >= 0 && heights + 8 * count <= length))
      throw cut(`record ${record} is cut off`);
    const starts = Array.from({ length: parts }, (_, k) => body.getInt32(44 + 4 * k, true));
    let line: [number, number, number][] = [];
    const ends = closings(body, points, starts, count);
    for (let k = 0; k < count; k++) {
      if (type === 15 && ends.has(k)) continue;
      const [x, y, z] = [
        body.getFloat64(points + 16 * k, true),
        body.getFloat64(points + 16 * k + 8, true),
        body.getFloat64(heights + 8 * k, true),
      ];
      if (starts.includes(k) && line.length > 0) {
        if (line.length > 1) breaklines.push(line);
        line = [];
      }
      if (z < NO_DATA) {
        empty += 1;
        continue;
      }
      take(x, y, z, place);
      if (type === 13) line.push(context.place(x, y, z));
    }
    if (line.length > 1) breaklines.push(line);
  }
  return {
    kind: 'points',
    cellSize: null,
    breaklines,
    notes: empty === 0 ? [] : [`passed over: ${counted(empty, 'point')} whose height is no data`],
    how: 'shapefile, x east, y north, z height',
  };
};
