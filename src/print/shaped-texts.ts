/** A glyph where it stands in its text; lengths in thousandths of the type size. */
export interface SetGlyph {
  readonly id: number;
  /** The characters it stands for, so that text can be taken out of the PDF again. */
  readonly characters: string;
  /** Distance to the next glyph's origin, kerning included. */
  readonly advance: number;
  /** The glyph's own width, without kerning. */
  readonly width: number;
  readonly dx: number;
  readonly dy: number;
}

/** Texts that a face has set, as plain data: each glyph once, and of each text the numbers of its glyphs. */
export interface KeptShapes {
  readonly glyphs: readonly SetGlyph[];
  readonly texts: readonly string[];
  /** By text, where its numbers end. */
  readonly ends: Uint32Array;
  readonly numbers: Uint32Array;
}

/** What a face has set so far. */
export interface ShapeStore {
  readonly of: (text: string) => readonly SetGlyph[];
  /** Takes over what was set in another run; texts of which there are newer ones stay as they are. */
  readonly take: (kept: KeptShapes) => void;
  /** Whether it holds more than what was taken over. */
  readonly isGrown: () => boolean;
  /** All that may be kept. */
  readonly give: () => KeptShapes;
}

/** A text as a face sets it; `lasting`: whatever else the face has set, it is set so. */
export interface SetOnce {
  readonly glyphs: readonly SetGlyph[];
  readonly lasting: boolean;
}

/** Above this, what a run has not asked for is given up. */
const MOST_TEXTS = 20_000;

/** Glyphs that are alike, once. */
const sharedGlyphs = () => {
  const byKey = new Map<string, number>();
  const glyphs: SetGlyph[] = [];
  const numberOf = (glyph: SetGlyph): number => {
    const { id, characters, advance, width, dx, dy } = glyph;
    const key = `${id} ${advance} ${width} ${dx} ${dy} ${characters}`;
    let number = byKey.get(key);
    if (number === undefined) {
      number = glyphs.push(glyph) - 1;
      byKey.set(key, number);
    }
    return number;
  };
  return { glyphs, numberOf };
};

const packed = (texts: ReadonlyMap<string, readonly SetGlyph[]>): KeptShapes => {
  const { glyphs, numberOf } = sharedGlyphs();
  const numbers: number[] = [];
  const ends = new Uint32Array(texts.size);
  let i = 0;
  for (const set of texts.values()) {
    for (const glyph of set) numbers.push(numberOf(glyph));
    ends[i++] = numbers.length;
  }
  return { glyphs, texts: [...texts.keys()], ends, numbers: Uint32Array.from(numbers) };
};

/** Sets each text once, by `shape`. */
export const startShapes = (shape: (text: string) => SetOnce): ShapeStore => {
  const known = new Map<string, readonly SetGlyph[]>();
  /** What was taken over: by text its place there. */
  const before = new Map<string, number>();
  let kept: KeptShapes | null = null;
  const passing = new Set<string>();
  const { glyphs: shared, numberOf } = sharedGlyphs();
  let grown = false;
  const taken = (text: string): readonly SetGlyph[] | undefined => {
    const at = before.get(text);
    if (at === undefined || kept === null) return undefined;
    const { glyphs, numbers, ends } = kept;
    return Array.from(
      numbers.subarray(at === 0 ? 0 : ends[at - 1], ends[at]),
      (number) => glyphs[number],
    );
  };
  return {
    of: (text) => {
      let set = known.get(text) ?? taken(text);
      if (set === undefined) {
        const made = shape(text);
        // A word in each text has its letters anew: they are held once.
        set = Array.from(made.glyphs, (glyph) => shared[numberOf(glyph)]);
        if (made.lasting) grown = true;
        else passing.add(text);
      }
      known.set(text, set);
      return set;
    },
    take: (given) => {
      kept = given;
      before.clear();
      for (const [i, text] of given.texts.entries()) before.set(text, i);
    },
    isGrown: () => grown,
    give: () => {
      const all = new Map<string, readonly SetGlyph[]>();
      if (before.size + known.size <= MOST_TEXTS) {
        for (const text of before.keys()) all.set(text, taken(text)!);
      }
      for (const [text, set] of known) if (!passing.has(text)) all.set(text, set);
      return packed(all);
    },
  };
};
