import type { IntegerModel } from '../../src/survey/readers/arithmetic-decoder.js';
import { newIntegerModel } from '../../src/survey/readers/arithmetic-decoder.js';
import type { BitModel, SymbolModel } from '../../src/survey/readers/arithmetic-models.js';
import { newSymbolModel, noteBit, noteSymbol } from '../../src/survey/readers/arithmetic-models.js';

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

/** A variable length record: user, number, body. */
const vlr = (user: string, id: number, body: Uint8Array): Uint8Array => {
  const bytes = new Uint8Array(54 + body.length);
  bytes.set(new TextEncoder().encode(user), 2);
  const view = new DataView(bytes.buffer);
  view.setUint16(18, id, true);
  view.setUint16(20, body.length, true);
  bytes.set(body, 54);
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

const concatenated = (parts: readonly Uint8Array[]): Uint8Array => {
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
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
  for (let k = 0; k < 3; k++) {
    const values = points.map((p) => [p.x, p.y, p.z][k]);
    view.setFloat64(131 + 8 * k, SCALE, true);
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
  return concatenated([head, ...vlrs, body]);
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

// The arithmetic encoder that belongs to src/survey/arithmetic-decoder.ts.
const encoderOf = () => {
  const out: number[] = [];
  let base = 0;
  let length = 0xffff_ffff;
  const carry = (): void => {
    let p = out.length - 1;
    while (out[p] === 0xff) out[p--] = 0;
    out[p] += 1;
  };
  const add = (x: number): void => {
    base += x;
    if (base > 0xffff_ffff) {
      base -= 0x1_0000_0000;
      carry();
    }
  };
  const renew = (): void => {
    while (length < 0x0100_0000) {
      out.push(base >>> 24);
      base = (base << 8) >>> 0;
      length = (length << 8) >>> 0;
    }
  };
  const bits = (count: number, value: number): void => {
    if (count > 19) {
      bits(16, value & 0xffff);
      bits(count - 16, value >>> 16);
      return;
    }
    length >>>= count;
    add(value * length);
    renew();
  };
  return {
    bits,
    bit: (m: BitModel, bit: number): void => {
      const x = m.zeroProbability * (length >>> 13);
      if (bit === 0) length = x;
      else {
        add(x);
        length -= x;
      }
      renew();
      noteBit(m, bit);
    },
    symbol: (m: SymbolModel, symbol: number): void => {
      const unit = length >>> 15;
      const x = m.distribution[symbol] * unit;
      const next = symbol === m.symbols - 1 ? length : m.distribution[symbol + 1] * unit;
      add(x);
      length = next - x;
      renew();
      noteSymbol(m, symbol);
    },
    done: (): Uint8Array => {
      const more = length > 0x0200_0000;
      add(more ? 0x0100_0000 : 0x0080_0000);
      length = more ? 0x0080_0000 : 0x0000_8000;
      renew();
      out.push(0, 0);
      if (more) out.push(0);
      return new Uint8Array(out);
    },
  };
};

type Encoder = ReturnType<typeof encoderOf>;

/** Codes `value` against a prediction; gives the number of bits of the difference. */
const encodeInteger = (
  encoder: Encoder,
  model: IntegerModel,
  prediction: number,
  value: number,
  context: number,
): number => {
  const c = (value - prediction) | 0;
  const size = c <= 0 ? -c : c - 1;
  const k = size === 0 ? 0 : 32 - Math.clz32(size);
  encoder.symbol(model.widths[context], k);
  if (k === 0) encoder.bit(model.lowest, c);
  else {
    const shifted = c < 0 ? c + 2 ** k - 1 : c - 1;
    if (k <= 8) encoder.symbol(model.correctors[k - 1], shifted);
    else {
      const low = k - 8;
      encoder.symbol(model.correctors[k - 1], Math.floor(shifted / 2 ** low));
      encoder.bits(low, shifted % 2 ** low);
    }
  }
  return k;
};

/** The running median of the last five differences, as LASzip keeps it. */
const runningMedian = () => {
  const v = [0, 0, 0, 0, 0];
  let high = true;
  return {
    get: (): number => v[2],
    add: (d: number): void => {
      if (high) {
        if (d < v[2]) {
          v[4] = v[3];
          v[3] = v[2];
          if (d < v[0]) [v[2], v[1], v[0]] = [v[1], v[0], d];
          else if (d < v[1]) [v[2], v[1]] = [v[1], d];
          else v[2] = d;
        } else {
          if (d < v[3]) [v[4], v[3]] = [v[3], d];
          else v[4] = d;
          high = false;
        }
      } else if (v[2] < d) {
        v[0] = v[1];
        v[1] = v[2];
        if (v[4] < d) [v[2], v[3], v[4]] = [v[3], v[4], d];
        else if (v[3] < d) [v[2], v[3]] = [v[3], d];
        else v[2] = d;
      } else {
        if (v[1] < d) [v[0], v[1]] = [v[1], d];
        else v[0] = d;
        high = true;
      }
    },
  };
};

const even = (k: number, limit: number): number => (k < limit ? k & ~1 : limit);

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
  const table = encoderOf();
  const model = newIntegerModel(2);
  let last = 0;
  let lastCount = 0;
  for (const [k, chunk] of chunks.entries()) {
    if (variable) {
      const count = Math.min(chunkSize, points.length - k * chunkSize);
      encodeInteger(table, model, lastCount, count, 0);
      lastCount = count;
    }
    encodeInteger(table, model, last, chunk.length, 1);
    last = chunk.length;
  }
  const lead = new Uint8Array(8);
  const packed = concatenated(chunks);
  new DataView(lead.buffer).setBigInt64(0, BigInt(pointOffset + 8 + packed.length), true);
  const head = new Uint8Array(8);
  new DataView(head.buffer).setUint32(4, chunks.length, true);
  return withHeader(
    points,
    offset,
    [record],
    true,
    concatenated([lead, packed, head, table.done()]),
  );
};
