import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { counted } from '../../wording.js';
import { stateOfGeoKeys, stateOfWkt } from '../crs/file-crs.js';
import type { Stated } from '../crs/placement.js';
import type { ByteSource } from './byte-source.js';

/** What the public header of a LAS file (ASPRS LAS 1.0 to 1.4) says, as far as it is used. */
export interface LasHeader {
  readonly version: string;
  readonly format: number;
  readonly compressed: boolean;
  readonly recordLength: number;
  readonly pointCount: number;
  readonly pointOffset: number;
  readonly scale: readonly [number, number, number];
  readonly offset: readonly [number, number, number];
  readonly min: readonly [number, number, number];
  readonly max: readonly [number, number, number];
  readonly stated: Stated;
  /** Points of a chunk of compressed data; null when not compressed. */
  readonly chunkSize: number | null;
}

/** Shortest record of each point format, bytes (LAS 1.4 R15, tables 7 to 17). */
const RECORD_LENGTH = [20, 28, 26, 34, 57, 63, 30, 36, 38, 59, 67];

const VLR_HEAD = 54;
interface Records {
  readonly geoKeys: DataView | null;
  readonly wkt: string | null;
  readonly laszip: DataView | null;
}

const textOf = (bytes: Uint8Array): string =>
  Buffer.from(bytes).toString('latin1').replace(/\0.*$/s, '');

const readRecords = async (
  bytes: ByteSource,
  start: number,
  count: number,
  end: number,
  cut: (what: string) => InputFault,
): Promise<Records> => {
  let geoKeys: DataView | null = null;
  let wkt: string | null = null;
  let laszip: DataView | null = null;
  let at = start;
  for (let i = 0; i < count; i++) {
    const head = await bytes.read(at, VLR_HEAD);
    if (head.length < VLR_HEAD || at + VLR_HEAD > end)
      throw cut(`variable record ${i + 1} is cut off`);
    const view = new DataView(head.buffer, head.byteOffset, head.length);
    const user = textOf(head.subarray(2, 18));
    const id = view.getUint16(18, true);
    const length = view.getUint16(20, true);
    if (at + VLR_HEAD + length > end) throw cut(`variable record ${i + 1} reaches into the points`);
    if (user === 'laszip encoded' && id === 22204) laszip = await viewOf(bytes, at, length);
    if (user === 'LASF_Projection' && id === 34735) geoKeys = await viewOf(bytes, at, length);
    if (user === 'LASF_Projection' && id === 2112) {
      wkt = textOf(await bytes.read(at + VLR_HEAD, length));
    }
    at += VLR_HEAD + length;
  }
  return { geoKeys, wkt, laszip };
};

const LATE_HEAD = 60;
/** The text of the coordinate system among the extended records behind the points (LAS 1.4, 2.7); null when there is none. */
const lateWkt = async (bytes: ByteSource, start: number, count: number): Promise<string | null> => {
  let at = start;
  for (let i = 0; i < Math.min(count, SURVEY_LIMITS.lasLateRecords); i++) {
    const head = await bytes.read(at, LATE_HEAD);
    if (head.length < LATE_HEAD) return null;
    const view = new DataView(head.buffer, head.byteOffset, head.length);
    const length = Number(view.getBigUint64(20, true));
    if (!(length >= 0) || at + LATE_HEAD + length > bytes.size) return null;
    if (textOf(head.subarray(2, 18)) === 'LASF_Projection' && view.getUint16(18, true) === 2112) {
      return textOf(await bytes.read(at + LATE_HEAD, Math.min(length, SURVEY_LIMITS.lasWkt)));
    }
    at += LATE_HEAD + length;
  }
  return null;
};

const viewOf = async (bytes: ByteSource, at: number, length: number): Promise<DataView> => {
  const body = await bytes.read(at + VLR_HEAD, length);
  return new DataView(body.buffer, body.byteOffset, body.length);
};

const geoKey = (view: DataView, number: number): number | null => {
  const count = Math.min(view.getUint16(6, true), Math.floor((view.byteLength - 8) / 8));
  for (let i = 0; i < count; i++) {
    const at = 8 + 8 * i;
    if (view.getUint16(at, true) === number && view.getUint16(at + 2, true) === 0) {
      return view.getUint16(at + 6, true);
    }
  }
  return null;
};

/**
 * Reads the header and the records before the points.
 *
 * @throws InputFault when a count, length, scale or offset cannot be right for the file's size.
 */
export const readLasHeader = async (bytes: ByteSource, source: string): Promise<LasHeader> => {
  const cut = (what: string): InputFault =>
    new InputFault(
      { file: source, place: 'LAS header' },
      what,
      'the file is cut off or damaged; fetch it again',
    );
  const head = await bytes.read(0, 375);
  if (head.length < 227) throw cut('the file ends inside its header');
  const view = new DataView(head.buffer, head.byteOffset, head.length);
  const version = `${head[24]}.${head[25]}`;
  if (head[24] !== 1 || head[25] > 4) throw cut(`version ${version}, where 1.0 to 1.4 are read`);
  const headerSize = view.getUint16(94, true);
  const pointOffset = view.getUint32(96, true);
  const records = view.getUint32(100, true);
  const compressed = (head[104] & 0x80) !== 0;
  const format = head[104] & 0x3f;
  const recordLength = view.getUint16(105, true);
  const wide = head[25] === 4 && headerSize >= 375 && head.length >= 375;
  const legacyCount = view.getUint32(107, true);
  const pointCount = wide ? Number(view.getBigUint64(247, true)) || legacyCount : legacyCount;
  if (RECORD_LENGTH[format] === undefined)
    throw cut(`point format ${format}, where 0 to 10 are read`);
  if (recordLength < RECORD_LENGTH[format]) {
    throw cut(
      `point records of ${recordLength} bytes, where format ${format} has ${RECORD_LENGTH[format]} or more`,
    );
  }
  if (headerSize < 227 || pointOffset < headerSize || pointOffset > bytes.size) {
    throw cut('the points do not lie behind the header');
  }
  if (records > SURVEY_LIMITS.lasRecords) throw cut(`${records} variable records`);
  if (!compressed && pointCount * recordLength > bytes.size - pointOffset) {
    throw cut(
      `${counted(pointCount, 'point')} of ${counted(recordLength, 'byte')} ${pointCount === 1 ? 'is' : 'are'} promised, and the file holds ${Math.floor((bytes.size - pointOffset) / recordLength)}`,
    );
  }
  const triple = (at: number, step = 8): [number, number, number] => [
    view.getFloat64(at, true),
    view.getFloat64(at + step, true),
    view.getFloat64(at + 2 * step, true),
  ];
  const scale = triple(131);
  const offset = triple(155);
  if (!scale.every((s) => Number.isFinite(s) && s > 0) || !offset.every(Number.isFinite)) {
    throw cut('the scale of the coordinates is not positive, or their offset is not a number');
  }
  const found = await readRecords(bytes, headerSize, records, pointOffset, cut);
  const late = wide
    ? await lateWkt(bytes, Number(view.getBigUint64(235, true)), view.getUint32(243, true))
    : null;
  const { laszip } = found;
  if (compressed && (laszip === null || laszip.byteLength < 34)) {
    throw cut('the points are compressed, and the record that says how is missing');
  }
  const wkt = found.wkt ?? late;
  const byWkt = wkt === null ? null : stateOfWkt(wkt);
  const keys = found.geoKeys;
  const byKeys =
    keys === null || keys.byteLength < 8 ? null : stateOfGeoKeys((n) => geoKey(keys, n));
  return {
    version,
    format,
    compressed,
    recordLength,
    pointCount,
    pointOffset,
    scale,
    offset,
    // The header lists max x, min x, max y, min y, max z, min z.
    max: triple(179, 16),
    min: triple(187, 16),
    stated: {
      crs: byWkt?.crs ?? byKeys?.crs ?? null,
      unit: byWkt?.unit ?? byKeys?.unit ?? null,
      verticalUnit: byWkt?.verticalUnit ?? byKeys?.verticalUnit ?? null,
    },
    chunkSize: compressed ? laszip!.getUint32(12, true) : null,
  };
};
