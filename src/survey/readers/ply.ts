import { InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { ownValue } from '../../own-value.js';
import { counted } from '../../wording.js';
import { type ByteSource, PIECE } from './byte-source.js';
import type { FileReader } from './file-reader.js';

/** Bytes of the scalar types of a PLY file (G. Turk, The PLY Polygon File Format, 1994). */
const SIZE: Readonly<Record<string, number>> = {
  char: 1,
  uchar: 1,
  int8: 1,
  uint8: 1,
  short: 2,
  ushort: 2,
  int16: 2,
  uint16: 2,
  int: 4,
  uint: 4,
  int32: 4,
  uint32: 4,
  float: 4,
  float32: 4,
  double: 8,
  float64: 8,
};

interface Property {
  readonly name: string;
  readonly type: string;
}

interface Header {
  readonly format: string;
  readonly vertices: number;
  readonly properties: readonly Property[];
  readonly length: number;
}

const readHeader = async (
  bytes: ByteSource,
  fault: (what: string) => InputFault,
): Promise<Header> => {
  const text = Buffer.from(await bytes.read(0, SURVEY_LIMITS.plyHeader)).toString('latin1');
  const end = /\nend_header\r?\n/.exec(text);
  if (end === null) throw fault('the header does not end');
  let format = '';
  let element = '';
  let vertices = -1;
  const properties: Property[] = [];
  for (const line of text.slice(0, end.index).split(/\r?\n/).slice(1)) {
    const words = line.trim().split(/\s+/);
    if (words[0] === 'format') format = words[1] ?? '';
    if (words[0] === 'element') {
      element = words[1] ?? '';
      if (element === 'vertex') vertices = Number(words[2]);
      else if (vertices < 0) throw fault(`${quoted(element, 20)} stands before the vertices`);
    }
    if (words[0] === 'property' && element === 'vertex') {
      if (ownValue(SIZE, words[1]) === undefined)
        throw fault(`a vertex has a property of the type ${quoted(words[1] ?? '', 20)}`);
      properties.push({ type: words[1], name: words[2] ?? '' });
    }
  }
  if (!Number.isInteger(vertices) || vertices < 0) throw fault('the header names no vertices');
  return { format, vertices, properties, length: end.index + end[0].length };
};

const valueAt = (view: DataView, at: number, type: string, little: boolean): number => {
  switch (type) {
    case 'char':
    case 'int8':
      return view.getInt8(at);
    case 'uchar':
    case 'uint8':
      return view.getUint8(at);
    case 'short':
    case 'int16':
      return view.getInt16(at, little);
    case 'ushort':
    case 'uint16':
      return view.getUint16(at, little);
    case 'int':
    case 'int32':
      return view.getInt32(at, little);
    case 'uint':
    case 'uint32':
      return view.getUint32(at, little);
    case 'float':
    case 'float32':
      return view.getFloat32(at, little);
    default:
      return view.getFloat64(at, little);
  }
};

/**
 * PLY: the vertices of a scan (its faces are passed over), as text or in binary of either order of bytes.
 *
 * @throws InputFault when the header is wrong, or fewer vertices follow than it promises.
 */
export const readPly: FileReader = async (bytes, context) => {
  const { source } = context.options;
  const fault = (what: string): InputFault =>
    new InputFault(
      { file: source, place: 'PLY header' },
      what,
      'export the vertices again, as PLY or CSV',
    );
  const header = await readHeader(bytes, fault);
  const { properties, vertices, format } = header;
  const index = (name: string): number =>
    properties.findIndex((one) => one.name.toLowerCase() === name);
  const at = [index('x'), index('y'), index('z')];
  if (at.includes(-1)) throw fault('the vertices have no x, y and z');
  const take = context.begin({ crs: null, unit: null, verticalUnit: null });
  const cut = (done: number): InputFault =>
    fault(`${counted(vertices, 'vertex is', 'vertices are')} promised, and the file holds ${done}`);
  if (format === 'ascii') await readText(bytes, header, at, take, cut);
  else if (/^binary_(?:little|big)_endian$/.test(format)) {
    const offsets = properties.map((_, k) =>
      properties.slice(0, k).reduce((sum, one) => sum + SIZE[one.type], 0),
    );
    const stride = properties.reduce((sum, one) => sum + SIZE[one.type], 0);
    const available = Math.floor((bytes.size - header.length) / stride);
    if (vertices > available) throw cut(available);
    const little = format === 'binary_little_endian';
    const perPiece = Math.max(1, Math.floor(PIECE / stride));
    for (let from = 0; from < vertices; from += perPiece) {
      const count = Math.min(perPiece, vertices - from);
      const piece = await bytes.read(header.length + from * stride, count * stride);
      const view = new DataView(piece.buffer, piece.byteOffset, piece.length);
      for (let k = 0; k < count; k++) {
        const [x, y, z] = at.map((p) =>
          valueAt(view, k * stride + offsets[p], properties[p].type, little),
        );
        if (Number.isNaN(x + y + z)) continue;
        take(x, y, z, () => `vertex ${from + k + 1}`);
      }
    }
  } else throw fault(`the format ${quoted(format, 30)}`);
  return {
    kind: 'cloud',
    cellSize: null,
    breaklines: [],
    notes: [],
    how: 'PLY, the vertices: x east, y north, z height',
  };
};

const readText = async (
  bytes: ByteSource,
  { length, vertices }: Header,
  at: readonly number[],
  take: (x: number, y: number, z: number, place: () => string) => unknown,
  cut: (done: number) => InputFault,
): Promise<void> => {
  let rest = '';
  let done = 0;
  const decoder = new TextDecoder('latin1');
  const line = (text: string): void => {
    if (done >= vertices || text.trim() === '') return;
    const fields = text.trim().split(/\s+/);
    const [x, y, z] = at.map((k) => Number(fields[k] ?? 'x'));
    if (!Number.isFinite(x + y + z)) throw cut(done);
    done += 1;
    take(x, y, z, () => `vertex ${done}`);
  };
  for (let from = length; from < bytes.size && done < vertices; from += PIECE) {
    const lines = (rest + decoder.decode(await bytes.read(from, PIECE))).split('\n');
    rest = lines.pop()!;
    for (const text of lines) line(text);
    if (rest.length > SURVEY_LIMITS.plyLine) throw cut(done);
  }
  line(rest);
  if (done < vertices) throw cut(done);
};
