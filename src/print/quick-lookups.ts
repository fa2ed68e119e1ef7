import type { Font } from 'fontkit';

/** Whether a glyph, by its number, is one of a set's. */
type Mask = Uint8Array;

/** A coverage as our engine asks of it: `mask` instead of fontkit's lists. */
interface MaskCoverage {
  readonly mask: Mask;
}

type ApplyOrder = Iterable<{ feature: string; index: number; lookup: unknown }>;

/** The part of fontkit's lookup processor that is made quicker; its published types know nothing of it. */
interface Processor {
  readonly table: { readonly lookupList: { get(index: number): unknown } };
  readonly features: Readonly<
    Partial<Record<string, { readonly lookupListIndexes: readonly number[] }>>
  >;
  /** The glyphs of the run as the lookups before have left them. */
  readonly glyphs: readonly { readonly id: number }[];
  lookupsForFeatures(features?: readonly string[], exclude?: readonly number[]): ApplyOrder;
  coverageIndex(coverage: unknown, glyph?: number | null): number;
  readonly glyphIterator: { readonly cur: { readonly id: number } };
}

interface Engines {
  readonly _layoutEngine?: {
    readonly engine?: {
      readonly GSUBProcessor?: Processor | null;
      readonly GPOSProcessor?: Processor | null;
    };
  };
}

/** Types of lookups, as each of the two tables counts them (OpenType 1.9, GSUB and GPOS). */
const TYPES = {
  GSUB: { covered: [1, 2, 3, 4], context: 5, chained: 6, extension: 7 },
  GPOS: { covered: [1, 2, 4, 5, 6], context: 7, chained: 8, extension: 9 },
} as const;

type TableName = keyof typeof TYPES;

/** A lookup's flags in fontkit's words (OpenType 1.9, LookupFlag); bit 16 comes with a further field, which is not read. */
const flagsOf = (word: number) => ({
  markAttachmentType: word >> 8,
  flags: {
    rightToLeft: (word & 1) > 0,
    ignoreBaseGlyphs: (word & 2) > 0,
    ignoreLigatures: (word & 4) > 0,
    ignoreMarks: (word & 8) > 0,
    useMarkFilteringSet: false,
  },
});

/** Where a table of an sfnt file begins (OpenType 1.9, table directory); null for none. */
const tableStart = (view: DataView, tag: string): number | null => {
  for (let i = 0; i < view.getUint16(4); i++) {
    const at = 12 + 16 * i;
    const own = String.fromCharCode(...Array.from({ length: 4 }, (_, k) => view.getUint8(at + k)));
    if (own === tag) return view.getUint32(at + 8);
  }
  return null;
};

/** Reads coverage tables (OpenType 1.9, both formats) by where they begin, each once. */
const coverageReader = (view: DataView): ((at: number) => Mask) => {
  const known = new Map<number, Mask>();
  const read = (at: number): Mask => {
    const count = view.getUint16(at + 2);
    const isList = view.getUint16(at) === 1;
    // Both list their glyphs upwards.
    const last = isList ? at + 2 + 2 * count : at + 6 * count;
    const mask = new Uint8Array(count === 0 ? 0 : view.getUint16(last) + 1);
    for (let i = 0; i < count; i++) {
      if (isList) mask[view.getUint16(at + 4 + 2 * i)] = 1;
      else {
        const range = at + 4 + 6 * i;
        mask.fill(1, view.getUint16(range), view.getUint16(range + 2) + 1);
      }
    }
    return mask;
  };
  return (at) => {
    const mask = known.get(at) ?? read(at);
    known.set(at, mask);
    return mask;
  };
};

/** A chained context of coverages (format 3), as fontkit's engine wants it. */
const chainedContext = (view: DataView, at: number, coverageAt: (at: number) => Mask) => {
  let next = at + 2;
  const uint16 = (): number => {
    next += 2;
    return view.getUint16(next - 2);
  };
  const coverages = (): MaskCoverage[] =>
    Array.from({ length: uint16() }, () => ({ mask: coverageAt(at + uint16()) }));
  const backtrackCoverage = coverages();
  const inputCoverage = coverages();
  const lookaheadCoverage = coverages();
  const lookupRecords = Array.from({ length: uint16() }, () => ({
    sequenceIndex: uint16(),
    lookupListIndex: uint16(),
  }));
  return {
    version: 3,
    backtrackGlyphCount: backtrackCoverage.length,
    backtrackCoverage,
    inputGlyphCount: inputCoverage.length,
    inputCoverage,
    lookaheadGlyphCount: lookaheadCoverage.length,
    lookaheadCoverage,
    lookupCount: lookupRecords.length,
    lookupRecords,
  };
};

interface QuickLookup {
  /** By coverage the glyphs that it may start at; null where that is not known. */
  readonly starts: readonly Mask[] | null;
  /** The lookup in a form that is quicker to read and to ask; null where fontkit reads it. */
  readonly lookup: unknown;
}

const lookupReader = (view: DataView, name: TableName, table: number) => {
  const coverageAt = coverageReader(view);
  const types = TYPES[name];
  const list = table + view.getUint16(table + 8);
  const startOf = (type: number, at: number): Mask | null => {
    if (type === types.extension) {
      return startOf(view.getUint16(at + 2), at + view.getUint32(at + 4));
    }
    const format = view.getUint16(at);
    const isContext = type === types.context || type === types.chained;
    const isCovered = (types.covered as readonly number[]).includes(type);
    if (isCovered || (isContext && format < 3)) return coverageAt(at + view.getUint16(at + 2));
    if (!isContext || format !== 3) return null;
    // The first coverage of the input: behind two counts, or behind the backtrack and the input's count.
    const first = type === types.context ? at + 6 : at + 6 + 2 * view.getUint16(at + 2);
    return coverageAt(at + view.getUint16(first));
  };
  return (index: number): QuickLookup => {
    const at = list + view.getUint16(list + 2 + 2 * index);
    const type = view.getUint16(at);
    const flags = view.getUint16(at + 2);
    const subTables = Array.from(
      { length: view.getUint16(at + 4) },
      (_, i) => at + view.getUint16(at + 6 + 2 * i),
    );
    const starts = subTables.map((subTable) => startOf(type, subTable));
    const isPlain =
      type === types.chained &&
      (flags & 16) === 0 &&
      subTables.every((subTable) => view.getUint16(subTable) === 3);
    const known = starts.filter((mask) => mask !== null);
    return {
      starts: known.length < starts.length ? null : [...new Set(known)],
      lookup: isPlain
        ? {
            lookupType: type,
            flags: flagsOf(flags),
            subTables: subTables.map((subTable) => chainedContext(view, subTable, coverageAt)),
          }
        : null,
    };
  };
};

const quicken = (processor: Processor, read: (index: number) => QuickLookup): void => {
  const known = new Map<number, QuickLookup>();
  const quickOf = (index: number): QuickLookup => {
    const quick = known.get(index) ?? read(index);
    known.set(index, quick);
    return quick;
  };
  // Asked lookup by lookup while they are applied: the glyphs are those that the one before has left.
  processor.lookupsForFeatures = function* (features = [], exclude = []) {
    const wanted = features.flatMap((feature) =>
      (processor.features[feature]?.lookupListIndexes ?? []).map((index) => ({ feature, index })),
    );
    wanted.sort((a, b) => a.index - b.index);
    for (const { feature, index } of wanted) {
      if (exclude.includes(index)) continue;
      const { starts, lookup } = quickOf(index);
      const starting = starts?.some((mask) => processor.glyphs.some(({ id }) => mask[id] === 1));
      if (starting === false) continue;
      yield { feature, index, lookup: lookup ?? processor.table.lookupList.get(index) };
    }
  };
  const usual = processor.coverageIndex.bind(processor);
  processor.coverageIndex = (coverage, glyph) => {
    const { mask } = coverage as Partial<MaskCoverage>;
    if (mask === undefined) return usual(coverage, glyph);
    return (mask[glyph ?? processor.glyphIterator.cur.id] ?? 0) - 1;
  };
};

/**
 * Lets a sound font skip the lookups (OpenType 1.9, GSUB and GPOS) that none of a run's glyphs can start, and reads the
 * long lists of chained contexts of a hand's letters without taking each of them apart: to set one letter, fontkit
 * decodes all of them, a second's work. What is set is the very same.
 */
export const quickenLookups = (font: Font, bytes: Uint8Array): void => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const engine = (font as Font & Engines)._layoutEngine?.engine;
  for (const name of ['GSUB', 'GPOS'] as const) {
    const processor = engine?.[`${name}Processor`];
    const table = tableStart(view, name);
    if (processor && table !== null) quicken(processor, lookupReader(view, name, table));
  }
};
