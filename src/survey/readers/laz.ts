import { create, type LazPerf } from 'laz-perf';
import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { counted } from '../../wording.js';
import { arithmeticDecoder, decodeInteger, newIntegerModel } from './arithmetic-decoder.js';
import type { ByteSource } from './byte-source.js';
import type { LasHeader } from './las-header.js';

const VARIABLE = 0xffff_ffff;
const STANDARD_CHUNK = 50_000;
/** No more points than this come out of a byte, beyond those of a chunk as it is usually cut. */
const POINTS_PER_BYTE = 64;
/** Points unpacked between two hand-overs, and bytes: what is damaged is soon seen to be. */
const BATCH = 20_000;
const BATCH_BYTES = 2 ** 20;
/** Nothing is laid behind a chunk for as many bytes as its points have unpacked, or at most so many. */
const ROOM_BEHIND = 2 ** 24;

interface Chunk {
  readonly points: number;
  readonly offset: number;
  readonly bytes: number;
}

/**
 * The WASM decoder. Its heap begins with the path of the program, which would move all that lies in it. It sets handlers for uncaught errors of the whole process, which a library must
 * not; they are taken away again.
 */
const startDecoder = async (): Promise<LazPerf> => {
  const events = ['uncaughtException', 'unhandledRejection'] as const;
  const before = events.map((event) => process.listeners(event as 'uncaughtException'));
  // Its own words on a damaged chunk are not for the user.
  const quiet = { print: () => {}, printErr: () => {} };
  const decoder = await create({ ...quiet, thisProgram: 'unpack', arguments: [] } as never);
  events.forEach((event, k) => {
    for (const listener of process.listeners(event as 'uncaughtException')) {
      if (!before[k].includes(listener)) process.removeListener(event, listener);
    }
  });
  return decoder;
};

const readChunks = async (
  bytes: ByteSource,
  header: LasHeader,
  damaged: (what: string) => InputFault,
): Promise<Chunk[]> => {
  const size = header.chunkSize!;
  const int64 = async (at: number): Promise<number> => {
    const raw = await bytes.read(at, 8);
    if (raw.length < 8) throw damaged('the file ends before its table of chunks');
    return Number(new DataView(raw.buffer, raw.byteOffset, 8).getBigInt64(0, true));
  };
  let table = await int64(header.pointOffset);
  if (table === -1) table = await int64(bytes.size - 8);
  if (!(table >= header.pointOffset + 8 && table + 8 <= bytes.size)) {
    throw damaged('the table of chunks lies outside the file');
  }
  const head = await bytes.read(table, 8);
  const count = new DataView(head.buffer, head.byteOffset, 8).getUint32(4, true);
  const variable = size === VARIABLE;
  if (!variable && size === 0) throw damaged('chunks of no points');
  if (
    count > SURVEY_LIMITS.lazChunks ||
    (!variable && count !== Math.ceil(header.pointCount / size))
  ) {
    throw damaged(`${counted(count, 'chunk')} for ${counted(header.pointCount, 'point')}`);
  }
  const decoder = arithmeticDecoder(await bytes.read(table + 8, 16 * count + 64));
  const model = newIntegerModel(2);
  const chunks: Chunk[] = [];
  let offset = header.pointOffset + 8;
  let left = header.pointCount;
  let points = 0;
  let length = 0;
  for (let i = 0; i < count; i++) {
    if (variable) points = decodeInteger(decoder, model, points, 0);
    length = decodeInteger(decoder, model, length, 1);
    const here = variable ? points : Math.min(size, left);
    if (
      !(here > 0 && here <= left) ||
      !(length > 0 && length <= SURVEY_LIMITS.lazChunk) ||
      offset + length > table ||
      here > STANDARD_CHUNK + POINTS_PER_BYTE * length
    ) {
      throw damaged(`chunk ${i + 1} of the table cannot be right`);
    }
    chunks.push({ points: here, offset, bytes: length });
    offset += length;
    left -= here;
  }
  return chunks;
};

/**
 * Whether the layers of a chunk (point formats 6 to 8) fit into it: the first point as it is, the number
 * of points, then the length of each layer. The decoder believes these lengths and asks for as much memory.
 */
const layersFit = (packed: Uint8Array, header: LasHeader, points: number): boolean => {
  const base = [30, 36, 38][header.format - 6];
  const layers = [9, 10, 11][header.format - 6] + (header.recordLength - base);
  const start = header.recordLength + 4;
  if (packed.length < header.recordLength) return false;
  if (points === 1 && packed.length < start + 4 * layers) return true;
  if (packed.length < start + 4 * layers) return false;
  const view = new DataView(packed.buffer, packed.byteOffset, packed.length);
  if (view.getUint32(header.recordLength, true) !== points) return false;
  let sum = start + 4 * layers;
  for (let k = 0; k < layers; k++) sum += view.getUint32(start + 4 * k, true);
  return sum <= packed.length;
};

/**
 * Point records of a LAZ file, decoded chunk by chunk (records are laid out as in LAS).
 *
 * @throws InputFault when the table of chunks or a chunk is damaged.
 */
export async function* unpackedRecords(
  bytes: ByteSource,
  header: LasHeader,
  source: string,
): AsyncGenerator<Uint8Array> {
  const damaged = (what: string): InputFault =>
    new InputFault(
      { file: source, place: 'compressed points' },
      what,
      'the file is damaged; fetch it again',
    );
  if (header.pointCount === 0) return;
  if (header.format > 8 || [4, 5].includes(header.format)) {
    throw new InputFault(
      { file: source },
      `compressed points of format ${header.format} are not read`,
      'unpack the file to LAS',
    );
  }
  if (header.recordLength > SURVEY_LIMITS.lasRecord) {
    throw damaged(
      `a point of ${header.recordLength} bytes; at most ${SURVEY_LIMITS.lasRecord} are read`,
    );
  }
  const chunks = await readChunks(bytes, header, damaged);
  const wasm = await startDecoder();
  // Both live on the decoder's heap, whose view is renewed when it grows.
  const record = wasm._malloc(header.recordLength);
  const batch = Math.min(BATCH, Math.ceil(BATCH_BYTES / header.recordLength));
  for (const [i, chunk] of chunks.entries()) {
    const packed = await bytes.read(chunk.offset, chunk.bytes);
    if (header.format >= 6 && !layersFit(packed, header, chunk.points)) {
      throw damaged(`chunk ${i + 1} of ${chunks.length} cannot be decoded`);
    }
    // The decoder reads on past the end of a damaged chunk: what it finds there must always be the same.
    const unpacked = chunk.points * header.recordLength;
    const room = packed.length + Math.min(unpacked, ROOM_BEHIND);
    const place = wasm._malloc(room);
    wasm.HEAPU8.set(packed, place);
    wasm.HEAPU8.fill(0, place + packed.length, place + room);
    const decoder = new wasm.ChunkDecoder();
    try {
      decoder.open(header.format, header.recordLength, place);
      for (let done = 0; done < chunk.points; ) {
        const count = Math.min(batch, chunk.points - done);
        const block = new Uint8Array(count * header.recordLength);
        for (let k = 0; k < count; k++) {
          decoder.getPoint(record);
          block.set(
            wasm.HEAPU8.subarray(record, record + header.recordLength),
            k * header.recordLength,
          );
        }
        done += count;
        yield block;
      }
    } catch (error) {
      if (error instanceof InputFault) throw error;
      throw damaged(`chunk ${i + 1} of ${chunks.length} cannot be decoded`);
    } finally {
      decoder.delete();
      wasm._free(place);
    }
  }
}
