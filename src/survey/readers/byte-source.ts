import { closeSync, fstatSync, read } from 'node:fs';
import { stat } from 'node:fs/promises';
import { promisify } from 'node:util';
import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { openNamedFile, readOwnFile } from '../../named-file.js';

const readAt = promisify(read);

/** Bytes of a survey file, read in any order; nothing is held that was not asked for. */
export interface ByteSource {
  /** Length in bytes. */
  readonly size: number;
  /** The bytes [offset, offset + length), fewer at the end of the file. */
  read(offset: number, length: number): Promise<Uint8Array>;
}

/** Text and point records are streamed in pieces of this many bytes. */
export const PIECE = 1 << 20;

export const bytesInMemory = (bytes: Uint8Array): ByteSource => ({
  size: bytes.length,
  read: async (offset, length) =>
    bytes.subarray(Math.min(bytes.length, offset), Math.min(bytes.length, offset + length)),
});

/**
 * A stream (standard input, a body of a request) gathered in memory.
 *
 * @throws InputFault when it is longer than 256 MB; a file of any length can be read by name.
 */
export const gatherStream = async (
  stream: AsyncIterable<Uint8Array>,
  source: string,
): Promise<ByteSource> => {
  const pieces: Uint8Array[] = [];
  let size = 0;
  for await (const piece of stream) {
    size += piece.length;
    if (size > SURVEY_LIMITS.unpacked) {
      throw new InputFault(
        { file: source },
        'the stream is longer than 256 MB',
        'save it to a file and name the file',
      );
    }
    pieces.push(piece);
  }
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytesInMemory(bytes);
};

/**
 * Opens a file, hands its bytes to `use`, and closes it whatever happens.
 *
 * @throws InputFault when the file cannot be opened.
 */
export const withFile = async <T>(
  path: string,
  source: string,
  use: (bytes: ByteSource) => Promise<T>,
): Promise<T> => {
  const file = openNamedFile(path, 'name one survey file that may be read', source);
  try {
    const { size } = fstatSync(file);
    return await use({
      size,
      read: async (offset, length) => {
        const wanted = Math.max(0, Math.min(length, size - offset));
        const buffer = new Uint8Array(wanted);
        let got = 0;
        while (got < wanted) {
          const { bytesRead } = await readAt(file, buffer, got, wanted - got, offset + got);
          if (bytesRead === 0) break;
          got += bytesRead;
        }
        return got === wanted ? buffer : buffer.subarray(0, got);
      },
    });
  } finally {
    closeSync(file);
  }
};

/** Files that programs write beside a survey, by their ending: coordinate system, world file, metadata. */
const BESIDE = ['prj', 'tfw', 'tifw', 'wld', 'aux.xml'];
/** A file beside that cannot be read is as good as none. */
const readableBytes = (path: string): Buffer | null => {
  try {
    return readOwnFile(path);
  } catch {
    return null;
  }
};

const namesBeside = (path: string, ending: string): string[] => {
  const stem = path.replace(/\.[^./\\]*$/, '');
  const names = [`${stem}.${ending}`, `${stem}.${ending.toUpperCase()}`, `${path}.${ending}`];
  return names.filter((name) => name !== path);
};

const maskName = (path: string): string => `${path}.msk`;

/** The names of all files beside a survey that are read with it, where they exist. */
export const filesBeside = (path: string): string[] => [
  ...BESIDE.flatMap((ending) => namesBeside(path, ending)),
  maskName(path),
];

/** The mask beside a grid (its name with ".msk" behind it, as GDAL writes it); null when there is none. */
export const maskBeside = async (path: string, source: string): Promise<Uint8Array | null> => {
  const stats = await stat(maskName(path)).catch(() => null);
  if (stats === null || !stats.isFile()) return null;
  if (stats.size > SURVEY_LIMITS.mask) {
    throw new InputFault(
      { file: `${source}.msk` },
      'the mask beside the grid is longer than 64 MB',
      'cut grid and mask to the course',
    );
  }
  return readableBytes(maskName(path));
};

/** Texts of the files beside a survey: of the same name with another ending, or with one more. */
export const textsBeside = async (path: string): Promise<Record<string, string>> => {
  const texts: Record<string, string> = {};
  for (const ending of BESIDE) {
    for (const name of namesBeside(path, ending)) {
      if (texts[ending] !== undefined) continue;
      const stats = await stat(name).catch(() => null);
      if (stats === null || !stats.isFile() || stats.size > SURVEY_LIMITS.beside) continue;
      const text = readableBytes(name);
      if (text !== null) texts[ending] = text.toString('utf8');
    }
  }
  return texts;
};

/** The whole source from `offset` on, piece by piece. */
export async function* pieces(bytes: ByteSource, offset = 0): AsyncGenerator<Uint8Array> {
  for (let at = offset; at < bytes.size; ) {
    const piece = await bytes.read(at, PIECE);
    if (piece.length === 0) return;
    yield piece;
    at += piece.length;
  }
}
