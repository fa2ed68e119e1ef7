/**
 * The adaptive models of an arithmetic code: how often each bit or symbol came, shared by its decoder and an
 * encoder. Source: see `arithmetic-decoder.ts`.
 */

export const SYMBOL_SHIFT = 15;

export const BIT_SHIFT = 13;

export interface BitModel {
  zeroCount: number;
  count: number;
  zeroProbability: number;
  untilUpdate: number;
  cycle: number;
}

export const newBitModel = (): BitModel => ({
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
