import {
  BIT_SHIFT,
  type BitModel,
  newBitModel,
  newSymbolModel,
  noteBit,
  noteSymbol,
  SYMBOL_SHIFT,
  type SymbolModel,
} from './arithmetic-models.js';

/**
 * Adaptive arithmetic decoding as LAZ uses it for its table of chunks. Source: A. Said, "Introduction to
 * Arithmetic Coding - Theory and Practice", HP Laboratories HPL-2004-76 (the FastAC coder), and the
 * integer scheme of M. Isenburg, "LASzip: lossless compression of LiDAR data", PE&RS 79(2), 2013.
 * Models carried over from memory; tests check them against a file that another decoder reads.
 */

const MIN_LENGTH = 0x0100_0000;
export interface ArithmeticDecoder {
  bit(model: BitModel): number;
  symbol(model: SymbolModel): number;
  bits(count: number): number;
}

export const arithmeticDecoder = (bytes: Uint8Array): ArithmeticDecoder => {
  let at = 4;
  let length = 0xffff_ffff;
  let value = 0;
  for (let k = 0; k < 4; k++) value = (value * 256 + (bytes[k] ?? 0)) >>> 0;
  const renew = (): void => {
    do {
      value = ((value << 8) | (bytes[at++] ?? 0)) >>> 0;
      length = (length << 8) >>> 0;
    } while (length < MIN_LENGTH);
  };
  const bits = (count: number): number => {
    if (count > 19) {
      const low = bits(16);
      return (((bits(count - 16) << 16) >>> 0) | low) >>> 0;
    }
    length >>>= count;
    if (length === 0) throw new Error('the arithmetic code is damaged');
    const out = Math.floor(value / length);
    value -= length * out;
    if (length < MIN_LENGTH) renew();
    return out;
  };
  return {
    bits,
    bit: (m) => {
      const x = m.zeroProbability * (length >>> BIT_SHIFT);
      const bit = value >= x ? 1 : 0;
      if (bit === 0) length = x;
      else {
        value -= x;
        length -= x;
      }
      if (length < MIN_LENGTH) renew();
      noteBit(m, bit);
      return bit;
    },
    symbol: (m) => {
      const unit = length >>> SYMBOL_SHIFT;
      let symbol = 0;
      let x = 0;
      let y = length;
      let high = m.symbols;
      // Bisection for the symbol whose interval holds the value.
      let middle = high >>> 1;
      do {
        const z = unit * m.distribution[middle];
        if (z > value) {
          high = middle;
          y = z;
        } else {
          symbol = middle;
          x = z;
        }
        middle = (symbol + high) >>> 1;
      } while (middle !== symbol);
      value -= x;
      length = y - x;
      if (length < MIN_LENGTH) renew();
      noteSymbol(m, symbol);
      return symbol;
    },
  };
};

/** Models of the integers of one kind: 32 bits wide, the 8 highest of a difference modelled. */
export interface IntegerModel {
  readonly widths: readonly SymbolModel[];
  readonly lowest: BitModel;
  readonly correctors: readonly SymbolModel[];
}

const HIGH_BITS = 8;

export const newIntegerModel = (contexts: number): IntegerModel => ({
  widths: Array.from({ length: contexts }, () => newSymbolModel(33)),
  lowest: newBitModel(),
  correctors: Array.from({ length: 32 }, (_, k) => newSymbolModel(1 << Math.min(k + 1, HIGH_BITS))),
});

/** The next integer, coded as its difference from a prediction. */
export const decodeInteger = (
  decoder: ArithmeticDecoder,
  model: IntegerModel,
  prediction: number,
  context: number,
): number => {
  const k = decoder.symbol(model.widths[context]);
  let corrector: number;
  if (k === 0) corrector = decoder.bit(model.lowest);
  else if (k === 32) corrector = -0x8000_0000;
  else {
    let c = decoder.symbol(model.correctors[k - 1]);
    if (k > HIGH_BITS) c = c * 2 ** (k - HIGH_BITS) + decoder.bits(k - HIGH_BITS);
    corrector = c >= 2 ** (k - 1) ? c + 1 : c - (2 ** k - 1);
  }
  return (prediction + corrector) | 0;
};
