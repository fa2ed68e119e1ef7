import { chunkTable, concatenated, vlr } from './arithmetic-encoder.js';
import { writeExtents } from './las-writer.js';
import {
  bytesCoder,
  colourCoder,
  infraredCoder,
  layeredChunk,
  pointCoder,
} from './layered-points.js';

/** LAS 1.4 files of point formats 6 to 8 (ASPRS LAS 1.4 R15), their points in layers (LAZ) or as they are (LAS). */

export interface FullPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly group: number;
  readonly withheld?: boolean;
  /** Return number and number of returns; 1 of 1 when not given. */
  readonly returns?: readonly [number, number];
  readonly channel?: number;
  readonly intensity?: number;
  readonly angle?: number;
  readonly user?: number;
  readonly source?: number;
  readonly time?: number;
  /** Red, green, blue and near infrared, as far as the format has them. */
  readonly colour?: readonly number[];
  readonly own?: readonly number[];
}

export interface FullCloud {
  readonly format: 6 | 7 | 8;
  readonly points: readonly FullPoint[];
  readonly chunkSize: number;
  /** Each chunk's size stands in the table, and is another for every chunk. */
  readonly varied?: boolean;
  /** Bytes of the maker's own behind each point. */
  readonly ownBytes?: number;
}

export const POINT_SCALE = 0.001;
const HEADER = 375;
export const POINT_LENGTH = { 6: 30, 7: 36, 8: 38 } as const;

/** The points as they stand in a file that is not compressed. */
export const fullRecords = ({ format, points, ownBytes = 0 }: FullCloud): Uint8Array => {
  const length = POINT_LENGTH[format] + ownBytes;
  const offset = offsetOf(points);
  const bytes = new Uint8Array(points.length * length);
  const view = new DataView(bytes.buffer);
  points.forEach((p, k) => {
    const at = k * length;
    [p.x, p.y, p.z].forEach((v, i) => {
      view.setInt32(at + 4 * i, Math.round((v - offset[i]) / POINT_SCALE), true);
    });
    const [number, count] = p.returns ?? [1, 1];
    view.setUint16(at + 12, p.intensity ?? 0, true);
    view.setUint8(at + 14, number | (count << 4));
    view.setUint8(at + 15, (p.withheld ? 4 : 0) | ((p.channel ?? 0) << 4));
    view.setUint8(at + 16, p.group);
    view.setUint8(at + 17, p.user ?? 0);
    view.setInt16(at + 18, p.angle ?? 0, true);
    view.setUint16(at + 20, p.source ?? 0, true);
    view.setFloat64(at + 22, p.time ?? 0, true);
    const colours = (POINT_LENGTH[format] - 30) / 2;
    for (let c = 0; c < colours; c++) view.setUint16(at + 30 + 2 * c, p.colour?.[c] ?? 0, true);
    for (let c = 0; c < ownBytes; c++) view.setUint8(at + length - ownBytes + c, p.own?.[c] ?? 0);
  });
  return bytes;
};

const offsetOf = (points: readonly FullPoint[]): number[] => [
  Math.floor(points[0].x),
  Math.floor(points[0].y),
  0,
];

const headerOf = (cloud: FullCloud, record: Uint8Array | null): Uint8Array => {
  const { format, points, ownBytes = 0 } = cloud;
  const head = new Uint8Array(HEADER);
  const view = new DataView(head.buffer);
  head.set(new TextEncoder().encode('LASF'));
  view.setUint16(6, 0x10, true);
  head.set([1, 4], 24);
  view.setUint16(94, HEADER, true);
  view.setUint32(96, HEADER + (record?.length ?? 0), true);
  view.setUint32(100, record === null ? 0 : 1, true);
  head[104] = format | (record === null ? 0 : 0x80);
  view.setUint16(105, POINT_LENGTH[format] + ownBytes, true);
  writeExtents(view, points, POINT_SCALE, offsetOf(points));
  view.setBigUint64(247, BigInt(points.length), true);
  return head;
};

/** The record that says how the points are packed: layers, their items and versions. */
const packingRecord = ({ format, chunkSize, varied, ownBytes = 0 }: FullCloud): Uint8Array => {
  const items = [
    [10, 30],
    ...(format === 7 ? [[11, 6]] : format === 8 ? [[12, 8]] : []),
    ...(ownBytes > 0 ? [[14, ownBytes]] : []),
  ];
  const body = new Uint8Array(34 + 6 * items.length);
  const view = new DataView(body.buffer);
  view.setUint16(0, 3, true); // in layers and chunks
  body[4] = 3;
  body[5] = 4;
  view.setUint32(12, varied ? 0xffff_ffff : chunkSize, true);
  view.setBigInt64(16, -1n, true);
  view.setBigInt64(24, -1n, true);
  view.setUint16(32, items.length, true);
  items.forEach(([type, size], k) => {
    [type, size, 3].forEach((v, i) => {
      view.setUint16(34 + 6 * k + 2 * i, v, true);
    });
  });
  return vlr('laszip encoded', 22204, body);
};

const packedChunk = (bytes: Uint8Array, { format, ownBytes = 0 }: FullCloud): Uint8Array => {
  const raw = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const base = POINT_LENGTH[format];
  const items = [
    pointCoder(raw),
    ...(format >= 7 ? [colourCoder(raw, 30)] : []),
    ...(format === 8 ? [infraredCoder(raw, 36)] : []),
    ...(ownBytes > 0 ? [bytesCoder(raw, base, ownBytes)] : []),
  ];
  return concatenated(layeredChunk(raw, base + ownBytes, items));
};

export const writeFullLas = (cloud: FullCloud): Uint8Array =>
  concatenated([headerOf(cloud, null), fullRecords(cloud)]);

export const writeLayeredLaz = (cloud: FullCloud): Uint8Array => {
  const raw = fullRecords(cloud);
  const { points, chunkSize, varied = false } = cloud;
  const length = raw.length / points.length;
  const chunks: Uint8Array[] = [];
  const counts: number[] = [];
  for (let at = 0; at < points.length; at += counts.at(-1)!) {
    const size = varied ? chunkSize + 7 * chunks.length : chunkSize;
    counts.push(Math.min(size, points.length - at));
    const end = at + counts.at(-1)!;
    chunks.push(packedChunk(raw.subarray(at * length, end * length), cloud));
  }
  const record = packingRecord(cloud);
  const packed = concatenated(chunks);
  const lead = new Uint8Array(8);
  const start = HEADER + record.length + 8 + packed.length;
  new DataView(lead.buffer).setBigInt64(0, BigInt(start), true);
  const table = chunkTable(chunks, varied ? counts : null);
  return concatenated([headerOf(cloud, record), record, lead, packed, table]);
};
