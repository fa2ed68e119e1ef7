import { Readable } from 'node:stream';
import { constants, createGunzip, createInflateRaw, inflateRawSync } from 'node:zlib';
import { InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { type ByteSource, bytesInMemory, gatherStream, PIECE, pieces } from './byte-source.js';

/** One file of an archive, by the archive's directory (APPNOTE 6.3, 4.3.12). */
export interface PackedFile {
  readonly name: string;
  readonly method: number;
  readonly packed: number;
  readonly length: number;
  readonly offset: number;
}

const damaged = (source: string, what: string): InputFault =>
  new InputFault(
    { file: source, place: 'archive' },
    what,
    'the file is cut off or damaged; fetch it again',
  );

/** @throws InputFault when the directory at the end of the archive is missing or damaged. */
export const filesOfArchive = async (bytes: ByteSource, source: string): Promise<PackedFile[]> => {
  const tailLength = Math.min(bytes.size, 66_000);
  const tail = await bytes.read(bytes.size - tailLength, tailLength);
  const view = new DataView(tail.buffer, tail.byteOffset, tail.length);
  let end = -1;
  for (let at = tail.length - 22; at >= 0 && end < 0; at--) {
    if (view.getUint32(at, true) === 0x06054b50) end = at;
  }
  if (end < 0) throw damaged(source, 'the directory of the archive is missing');
  const count = view.getUint16(end + 10, true);
  const length = view.getUint32(end + 12, true);
  const start = view.getUint32(end + 16, true);
  if (
    count > SURVEY_LIMITS.packedFiles ||
    start + length > bytes.size ||
    length > SURVEY_LIMITS.packedList
  ) {
    throw damaged(source, 'the directory of the archive lies outside the file');
  }
  const directory = await bytes.read(start, length);
  const entries = new DataView(directory.buffer, directory.byteOffset, directory.length);
  const files: PackedFile[] = [];
  for (let i = 0, at = 0; i < count; i++) {
    if (at + 46 > directory.length || entries.getUint32(at, true) !== 0x02014b50) {
      throw damaged(source, `entry ${i + 1} of the archive's directory is damaged`);
    }
    const nameLength = entries.getUint16(at + 28, true);
    const rest = entries.getUint16(at + 30, true) + entries.getUint16(at + 32, true);
    const name = Buffer.from(directory.subarray(at + 46, at + 46 + nameLength)).toString('utf8');
    files.push({
      name,
      method: entries.getUint16(at + 10, true),
      packed: entries.getUint32(at + 20, true),
      length: entries.getUint32(at + 24, true),
      offset: entries.getUint32(at + 42, true),
    });
    at += 46 + nameLength + rest;
  }
  return files;
};

/** Where the packed bytes of a file begin. */
const startOf = async (bytes: ByteSource, file: PackedFile, source: string): Promise<number> => {
  const head = await bytes.read(file.offset, 30);
  const view = new DataView(head.buffer, head.byteOffset, head.length);
  if (head.length < 30 || view.getUint32(0, true) !== 0x04034b50) {
    throw damaged(source, `${quoted(file.name, 40)} is not where the directory says`);
  }
  if ((view.getUint16(6, true) & 1) !== 0) {
    throw new InputFault({ file: source }, 'the archive has a password', 'unpack it first');
  }
  if (file.method !== 0 && file.method !== 8) {
    throw new InputFault(
      { file: source },
      `the archive packs by method ${file.method}`,
      'unpack it first',
    );
  }
  const start = file.offset + 30 + view.getUint16(26, true) + view.getUint16(28, true);
  if (start + file.packed > bytes.size) throw damaged(source, 'the archive is cut off');
  return start;
};

/** Bytes [start, end) piece by piece. */
async function* piecesBetween(
  bytes: ByteSource,
  start: number,
  end: number,
): AsyncGenerator<Uint8Array> {
  for (let at = start; at < end; at += PIECE) yield bytes.read(at, Math.min(PIECE, end - at));
}

/**
 * A file of an archive unpacked piece by piece, so that only a piece is held.
 *
 * @throws InputFault for a file that is damaged, in a cipher, or longer than the archive's directory says.
 */
export async function* unpackedPieces(
  bytes: ByteSource,
  file: PackedFile,
  source: string,
): AsyncGenerator<Uint8Array> {
  const start = await startOf(bytes, file, source);
  const packed = piecesBetween(bytes, start, start + file.packed);
  let length = 0;
  const stream: AsyncIterable<Uint8Array> =
    file.method === 0 ? packed : Readable.from(packed).pipe(createInflateRaw());
  try {
    for await (const piece of stream) {
      length += piece.length;
      if (length > file.length) break;
      yield piece;
    }
  } catch (error) {
    if (error instanceof InputFault) throw error;
    throw damaged(source, `${quoted(file.name, 40)} cannot be unpacked`);
  }
  if (length !== file.length)
    throw damaged(source, `${quoted(file.name, 40)} has another length than the archive says`);
}

/** @throws InputFault for a file that is damaged, in a cipher, or longer than 256 MB. */
const unpackedFile = async (
  bytes: ByteSource,
  file: PackedFile,
  source: string,
): Promise<Uint8Array> => {
  if (file.length > SURVEY_LIMITS.unpacked) {
    throw new InputFault(
      { file: source },
      'the archive holds a file of over 256 MB',
      'unpack it first',
    );
  }
  const packed = await bytes.read(await startOf(bytes, file, source), file.packed);
  if (file.method === 0) return packed;
  try {
    return inflateRawSync(packed, { maxOutputLength: Math.max(1, file.length) });
  } catch {
    throw damaged(source, `${quoted(file.name, 40)} cannot be unpacked`);
  }
};

const SURVEYS =
  /\.(?:csv|txt|xyz|pts|asc|grd|tif|tiff|xml|las|laz|dxf|shp|geojson|json|ply|xlsx|pnt|dat|tsv)$/i;

export interface Unpacked {
  readonly bytes: ByteSource;
  /** Texts of the files beside it in the archive, by their ending. */
  readonly beside: Readonly<Record<string, string>>;
  /** "green.csv in survey.zip"; null when the file was not packed. */
  readonly name: string | null;
}

const isWorkbook = (files: readonly PackedFile[]): boolean =>
  files.some(({ name }) => name === 'xl/workbook.xml');

const gunzipped = async (bytes: ByteSource, source: string): Promise<ByteSource> => {
  try {
    const gunzip = createGunzip({ finishFlush: constants.Z_FINISH });
    return await gatherStream(Readable.from(pieces(bytes)).pipe(gunzip), source);
  } catch (error) {
    if (error instanceof InputFault) {
      throw new InputFault(
        { file: source },
        'unpacked, the file is longer than 256 MB',
        'unpack it first',
      );
    }
    throw damaged(source, 'the gzip archive cannot be unpacked');
  }
};

const decode = (bytes: Uint8Array): string => new TextDecoder().decode(bytes.subarray(0, 1 << 16));

/**
 * The survey inside a gzip or ZIP archive; the file itself when it is neither, or a workbook.
 *
 * @throws InputFault when the archive is damaged, or holds no survey or several.
 */
export const unpacked = async (
  bytes: ByteSource,
  source: string,
  wanted: string | null,
): Promise<Unpacked> => {
  const mark = Buffer.from(await bytes.read(0, 4)).toString('hex');
  if (mark.startsWith('1f8b'))
    return { bytes: await gunzipped(bytes, source), beside: {}, name: null };
  if (mark !== '504b0304' && mark !== '504b0506') return { bytes, beside: {}, name: null };
  const files = await filesOfArchive(bytes, source);
  if (isWorkbook(files)) return { bytes, beside: {}, name: null };
  const names = files.map(({ name }) => name);
  const kind = files.some(({ name }) => name === 'mimetype')
    ? decode(await unpackedFile(bytes, files.find(({ name }) => name === 'mimetype')!, source))
    : '';
  if (kind.includes('opendocument')) {
    throw new InputFault(
      { file: source },
      'this is an OpenDocument sheet (ODS), which is not read',
      'save the sheet as XLSX or CSV',
    );
  }
  if (names.some((name) => /^(?:word|ppt)\//.test(name))) {
    throw new InputFault(
      { file: source },
      'this is a text document or slides, which are not read',
      'export the points as CSV',
    );
  }
  if (names.some((name) => /\.kml$/i.test(name))) {
    throw new InputFault(
      { file: source },
      'this is a KMZ file, which is not read',
      'ask for the points as CSV',
    );
  }
  const surveys = files.filter(
    ({ name }) =>
      SURVEYS.test(name) && !/(?:^|\/)(?:\.|__MACOSX)|\.aux\.xml$|\.shp\.xml$/i.test(name),
  );
  const chosen =
    wanted === null
      ? surveys
      : surveys.filter(({ name }) => name === wanted || name.split('/').at(-1) === wanted);
  if (chosen.length !== 1) {
    throw new InputFault(
      { file: source },
      chosen.length === 0
        ? 'the archive holds no survey that is read'
        : `the archive holds ${chosen.length} surveys`,
      surveys.length === 0
        ? 'put one survey into it, or unpack it'
        : `name one by --sheet or the key sheet: ${surveys
            .map(({ name }) => name)
            .slice(0, 6)
            .join(', ')
            .slice(0, 100)}`,
    );
  }
  const [file] = chosen;
  const stem = file.name.replace(/\.[^./]*$/, '').toLowerCase();
  const beside: Record<string, string> = {};
  for (const other of files) {
    const ending = other.name.toLowerCase().startsWith(`${stem}.`)
      ? other.name.toLowerCase().slice(stem.length + 1)
      : '';
    if (
      /^(?:prj|tfw|tifw|wld|(?:tif\.)?aux\.xml)$/.test(ending) &&
      other.length < SURVEY_LIMITS.beside
    ) {
      beside[ending.replace(/^tif\./, '')] = decode(await unpackedFile(bytes, other, source));
    }
  }
  return { bytes: bytesInMemory(await unpackedFile(bytes, file, source)), beside, name: file.name };
};
