import { newIntegerModel } from '../../src/survey/readers/arithmetic-decoder.js';
import { newSymbolModel, type SymbolModel } from '../../src/survey/readers/arithmetic-models.js';
import {
  chunkTable,
  concatenated,
  encodeInteger,
  encoderOf,
  even,
  runningMedian,
  vlr,
} from './arithmetic-encoder.js';

/** One point of a cloud: metres, and its class. */
export interface CloudPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly group: number;
}

const SCALE = 0.001;
const RECORD = 20;

const records = (points: readonly CloudPoint[], offset: readonly number[]): Uint8Array => {
  const bytes = new Uint8Array(points.length * RECORD);
  const view = new DataView(bytes.buffer);
  points.forEach((p, k) => {
    const at = k * RECORD;
    view.setInt32(at, Math.round((p.x - offset[0]) / SCALE), true);
    view.setInt32(at + 4, Math.round((p.y - offset[1]) / SCALE), true);
    view.setInt32(at + 8, Math.round((p.z - offset[2]) / SCALE), true);
    view.setUint8(at + 14, 0b00_001_001); // first of one return
    view.setUint8(at + 15, p.group);
  });
  return bytes;
};

/** GeoKeys that name a projected system and nothing more. */
const geoKeys = (epsg: number): Uint8Array => {
  const view = new DataView(new ArrayBuffer(16));
  [1, 1, 0, 1, 3072, 0, 1, epsg].forEach((v, k) => {
    view.setUint16(2 * k, v, true);
  });
  return new Uint8Array(view.buffer);
};

const withHeader = (
  points: readonly CloudPoint[],
  offset: readonly number[],
  vlrs: readonly Uint8Array[],
  compressed: boolean,
  body: Uint8Array,
): Uint8Array => {
  const head = new Uint8Array(227);
  const view = new DataView(head.buffer);
  head.set(new TextEncoder().encode('LASF'));
  head[24] = 1;
  head[25] = 2;
  view.setUint16(94, 227, true);
  view.setUint32(96, 227 + vlrs.reduce((sum, v) => sum + v.length, 0), true);
  view.setUint32(100, vlrs.length, true);
  head[104] = compressed ? 0x80 : 0;
  view.setUint16(105, RECORD, true);
  view.setUint32(107, points.length, true);
  writeExtents(view, points, SCALE, offset);
  return concatenated([head, ...vlrs, body]);
};

/** Scales, offsets, greatest and least of each axis in the header (ASPRS LAS 1.4 R15, table 3; so in 1.2). */
export const writeExtents = (
  view: DataView,
  points: readonly { readonly x: number; readonly y: number; readonly z: number }[],
  scale: number,
  offset: readonly number[],
): void => {
  for (let k = 0; k < 3; k++) {
    const values = points.map((p) => [p.x, p.y, p.z][k]);
    view.setFloat64(131 + 8 * k, scale, true);
    view.setFloat64(155 + 8 * k, offset[k], true);
    view.setFloat64(
      179 + 16 * k,
      values.reduce((a, b) => Math.max(a, b)),
      true,
    );
    view.setFloat64(
      187 + 16 * k,
      values.reduce((a, b) => Math.min(a, b)),
      true,
    );
  }
};

const offsetOf = (points: readonly CloudPoint[]): number[] => [
  Math.floor(points[0].x),
  Math.floor(points[0].y),
  0,
];

/** A LAS 1.2 file of point format 0. */
export const writeLas = (points: readonly CloudPoint[], epsg?: number): Uint8Array => {
  const offset = offsetOf(points);
  const vlrs = epsg === undefined ? [] : [vlr('LASF_Projection', 34735, geoKeys(epsg))];
  return withHeader(points, offset, vlrs, false, records(points, offset));
};

/** One chunk: the first record as it is, the others coded (LASzip point10, version 2). */
const encodeChunk = (raw: Uint8Array): Uint8Array => {
  const view = new DataView(raw.buffer, raw.byteOffset, raw.length);
  const encoder = encoderOf();
  const changed = newSymbolModel(64);
  const classes = new Map<number, SymbolModel>();
  const dx = newIntegerModel(2);
  const dy = newIntegerModel(22);
  const z = newIntegerModel(20);
  const medianX = runningMedian();
  const medianY = runningMedian();
  let height = 0;
  for (let at = RECORD; at < raw.length; at += RECORD) {
    const before = at - RECORD;
    const group = view.getUint8(at + 15);
    const last = view.getUint8(before + 15);
    encoder.symbol(changed, group === last ? 0 : 1 << 3);
    if (group !== last) {
      const model = classes.get(last) ?? newSymbolModel(256);
      classes.set(last, model);
      encoder.symbol(model, group);
    }
    const x = view.getInt32(at, true) - view.getInt32(before, true);
    const kx = encodeInteger(encoder, dx, medianX.get(), x, 1);
    medianX.add(x);
    const y = view.getInt32(at + 4, true) - view.getInt32(before + 4, true);
    const ky = encodeInteger(encoder, dy, medianY.get(), y, 1 + even(kx, 20));
    medianY.add(y);
    const h = view.getInt32(at + 8, true);
    encodeInteger(encoder, z, height, h, 1 + even((kx + ky) >> 1, 18));
    height = h;
  }
  return concatenated([raw.subarray(0, RECORD), encoder.done()]);
};

/**
 * A LAZ file of point format 0, in chunks of `chunkSize` points; `variable` states the size of each chunk in
 * the table instead of once for all.
 */
export const writeLaz = (
  points: readonly CloudPoint[],
  chunkSize = 50_000,
  variable = false,
): Uint8Array => {
  const offset = offsetOf(points);
  const raw = records(points, offset);
  const chunks: Uint8Array[] = [];
  for (let at = 0; at < raw.length; at += chunkSize * RECORD) {
    chunks.push(encodeChunk(raw.subarray(at, at + chunkSize * RECORD)));
  }
  const body = new Uint8Array(40);
  const view = new DataView(body.buffer);
  view.setUint16(0, 2, true); // compressor: point-wise, in chunks
  body[4] = 2;
  body[5] = 2;
  view.setUint32(12, variable ? 0xffff_ffff : chunkSize, true);
  view.setBigInt64(16, -1n, true);
  view.setBigInt64(24, -1n, true);
  view.setUint16(32, 1, true); // one item: point10, 20 bytes, version 2
  view.setUint16(34, 6, true);
  view.setUint16(36, RECORD, true);
  view.setUint16(38, 2, true);
  const record = vlr('laszip encoded', 22204, body);
  const pointOffset = 227 + record.length;
  const counts = chunks.map((_, k) => Math.min(chunkSize, points.length - k * chunkSize));
  const lead = new Uint8Array(8);
  const packed = concatenated(chunks);
  new DataView(lead.buffer).setBigInt64(0, BigInt(pointOffset + 8 + packed.length), true);
  return withHeader(
    points,
    offset,
    [record],
    true,
    concatenated([lead, packed, chunkTable(chunks, variable ? counts : null)]),
  );
};
