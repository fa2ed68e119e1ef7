/**
 * Adaptive arithmetic decoding as LAZ uses it for its table of chunks. Source: A. Said, "Introduction to
 * Arithmetic Coding - Theory and Practice", HP Laboratories HPL-2004-76 (the FastAC coder), and the
 * integer scheme of M. Isenburg, "LASzip: lossless compression of LiDAR data", PE&RS 79(2), 2013.
 * Models carried over from memory; tests check them against a file that another decoder reads.
 */

const MIN_LENGTH = 0x0100_0000;
const SYMBOL_SHIFT = 15;
const BIT_SHIFT = 13;

export interface BitModel {
  zeroCount: number;
  count: number;
  zeroProbability: number;
  untilUpdate: number;
  cycle: number;
}

const newBitModel = (): BitModel => ({
  zeroCount: 1,
  count: 2,
  zeroProbability: 1 << (BIT_SHIFT - 1),
  untilUpdate: 4,
  cycle: 4,
});

const updateBitModel = (m: BitModel): void => {
  m.count += m.cycle;
  if (m.count > 1 << BIT_SHIFT) {
    m.count = (m.count + 1) >>> 1;
    m.zeroCount = (m.zeroCount + 1) >>> 1;
    if (m.zeroCount === m.count) m.count += 1;
  }
  m.zeroProbability = Math.floor(
    (m.zeroCount * Math.floor(0x8000_0000 / m.count)) / 2 ** (31 - BIT_SHIFT),
  );
  m.cycle = Math.min(64, (5 * m.cycle) >>> 2);
  m.untilUpdate = m.cycle;
};

/** Counts a bit that was coded. */
export const noteBit = (m: BitModel, bit: number): void => {
  if (bit === 0) m.zeroCount += 1;
  m.untilUpdate -= 1;
  if (m.untilUpdate === 0) updateBitModel(m);
};

export interface SymbolModel {
  readonly symbols: number;
  readonly counts: Uint32Array;
  readonly distribution: Uint32Array;
  total: number;
  untilUpdate: number;
  cycle: number;
}

export const newSymbolModel = (symbols: number): SymbolModel => {
  const m: SymbolModel = {
    symbols,
    counts: new Uint32Array(symbols).fill(1),
    distribution: new Uint32Array(symbols),
    total: 0,
    untilUpdate: 0,
    cycle: symbols,
  };
  updateSymbolModel(m);
  m.cycle = (symbols + 6) >>> 1;
  m.untilUpdate = m.cycle;
  return m;
};

const updateSymbolModel = (m: SymbolModel): void => {
  m.total += m.cycle;
  if (m.total > 1 << SYMBOL_SHIFT) {
    m.total = 0;
    for (let k = 0; k < m.symbols; k++) {
      m.counts[k] = (m.counts[k] + 1) >>> 1;
      m.total += m.counts[k];
    }
  }
  const scale = Math.floor(0x8000_0000 / m.total);
  let sum = 0;
  for (let k = 0; k < m.symbols; k++) {
    m.distribution[k] = Math.floor((scale * sum) / 2 ** (31 - SYMBOL_SHIFT));
    sum += m.counts[k];
  }
  m.cycle = Math.min((m.symbols + 6) * 8, (5 * m.cycle) >>> 2);
  m.untilUpdate = m.cycle;
};

/** Counts a symbol that was coded. */
export const noteSymbol = (m: SymbolModel, symbol: number): void => {
  m.counts[symbol] += 1;
  m.untilUpdate -= 1;
  if (m.untilUpdate === 0) updateSymbolModel(m);
};

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
