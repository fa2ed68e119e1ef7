import { type IntegerModel, newIntegerModel } from '../../src/survey/readers/arithmetic-decoder.js';
import {
  type BitModel,
  newBitModel,
  newSymbolModel,
  noteBit,
  noteSymbol,
  type SymbolModel,
} from '../../src/survey/readers/arithmetic-models.js';

/**
 * The arithmetic encoder of LAZ files, the other side of `arithmetic-decoder.ts`, with which it shares the
 * adaptive models. Sources: see there; the LAZ Specification 1.4 (open, of the coder's authors), from memory.
 */

export const encoderOf = () => {
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

export type Encoder = ReturnType<typeof encoderOf>;

/** Models of integers of 16 bits. */
export const newShortModel = (contexts: number): IntegerModel => ({
  widths: Array.from({ length: contexts }, () => newSymbolModel(17)),
  lowest: newBitModel(),
  correctors: Array.from({ length: 16 }, (_, k) => newSymbolModel(1 << Math.min(k + 1, 8))),
});

/** Codes `value` against a prediction; gives the number of bits of the difference. */
export const encodeInteger = (
  encoder: Encoder,
  model: IntegerModel,
  prediction: number,
  value: number,
  context: number,
): number => {
  const narrow = model.correctors.length === 16;
  const c = narrow ? ((value - prediction) << 16) >> 16 : (value - prediction) | 0;
  const size = c <= 0 ? -c : c - 1;
  const k = size === 0 ? 0 : 32 - Math.clz32(size);
  encoder.symbol(model.widths[context], k);
  if (k === 0) encoder.bit(model.lowest, c);
  else if (k < 32) {
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
export const runningMedian = () => {
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

/** An even context below a limit. */
export const even = (k: number, limit: number): number => (k < limit ? k & ~1 : limit);

/** The table of chunks: their number, then their points (where `counts` tells them) and lengths. */
export const chunkTable = (
  chunks: readonly Uint8Array[],
  counts: readonly number[] | null,
): Uint8Array => {
  const table = encoderOf();
  const model = newIntegerModel(2);
  chunks.forEach((chunk, k) => {
    if (counts !== null) encodeInteger(table, model, counts[k - 1] ?? 0, counts[k], 0);
    encodeInteger(table, model, chunks[k - 1]?.length ?? 0, chunk.length, 1);
  });
  const head = new Uint8Array(8);
  new DataView(head.buffer).setUint32(4, chunks.length, true);
  return concatenated([head, table.done()]);
};

export const concatenated = (parts: readonly Uint8Array[]): Uint8Array => {
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
};

/** A variable length record: user, number, body. */
export const vlr = (user: string, id: number, body: Uint8Array): Uint8Array => {
  const bytes = new Uint8Array(54 + body.length);
  bytes.set(new TextEncoder().encode(user), 2);
  const view = new DataView(bytes.buffer);
  view.setUint16(18, id, true);
  view.setUint16(20, body.length, true);
  bytes.set(body, 54);
  return bytes;
};
