import { deserialize, serialize } from 'node:v8';
import { fetchedRecord } from '../fetched-record.js';
import type { Box } from '../geometry.js';
import type { DrawnPage, DrawnPaint, DrawnStroke, DrawnText } from './drawn-page.js';
import type { ReadPage } from './read-page.js';
import { textsThatTouch } from './touching-texts.js';

type PlainText = Omit<DrawnText, 'font'> & {
  readonly font: Omit<DrawnText['font'], 'charactersOf' | 'widthOf'>;
};

/** A page in short as bytes, a quarter of what it takes as data. */
export type PackedPage = Uint8Array;

/** A page in short, as plain data. */
type PageInShort = Omit<ReadPage, 'drawn'> & {
  readonly drawn: Omit<DrawnPage, 'texts'> & { readonly texts: readonly PlainText[] };
};

/** Pages that were read before, by the digest of all that they draw with. */
export interface KnownPages {
  readonly recall: (digest: string) => ReadPage | null;
  /** Notes a page that was read in full; gives it in short, or as it is where that cannot be. */
  readonly note: (digest: string, page: ReadPage) => ReadPage;
  /** The pages that were asked for or noted; null where they are those that were taken over. */
  readonly give: () => ReadonlyMap<string, PackedPage> | null;
}

const around = (a: Box, b: Box): Box => ({
  minX: Math.min(a.minX, b.minX),
  minY: Math.min(a.minY, b.minY),
  maxX: Math.max(a.maxX, b.maxX),
  maxY: Math.max(a.maxY, b.maxY),
});

/** Those that are alike in all but their place as one, which lies around them all. */
const together = <T extends { readonly box: Box }>(
  all: readonly T[],
  alike: (one: T) => unknown,
): T[] => {
  const found = new Map<string, T>();
  for (const one of all) {
    const key = JSON.stringify(alike(one));
    const before = found.get(key);
    found.set(key, before === undefined ? one : { ...before, box: around(before.box, one.box) });
  }
  return [...found.values()];
};

/** Marks of the same colour, plate and page. */
const paintsAlike = ({ colour, overprint, on, printerMark }: DrawnPaint): unknown => [
  colour,
  overprint,
  on,
  printerMark,
];

const strokesAlike = ({ width, colour, on, printerMark }: DrawnStroke): unknown => [
  width,
  colour,
  on,
  printerMark,
];

/** What of a text's words a rule looks for. */
const wordsInShort = (text: string): string => (/practice/i.test(text) ? 'practice' : '');

const textsAlike = ({ font, size, text, colour, on, missing }: PlainText): unknown => [
  font,
  size,
  text,
  colour,
  on,
  missing,
];

const plainText = ({ font, text, ...rest }: DrawnText): PlainText => {
  const { name, embedded, subset, hasUnicode, codeLength } = font;
  return {
    ...rest,
    text: wordsInShort(text),
    font: { name, embedded, subset, hasUnicode, codeLength },
  };
};

/**
 * A page in short: marks that are alike are one, so that all rules pass it where they pass the page, and fail it where they fail
 * the page, if in other words. Null where words run into each other, which cannot be told of it any more.
 */
const inShort = ({ drawn, ...page }: ReadPage): PageInShort | null => {
  const { texts, paints, strokes } = drawn;
  if (textsThatTouch(drawn).length > 0) return null;
  return {
    ...page,
    drawn: {
      ...drawn,
      texts: together(texts.map(plainText), textsAlike),
      paints: together(paints, paintsAlike),
      strokes: together(strokes, strokesAlike),
      touching: [],
    },
  };
};

const restoredDrawing = (drawn: PageInShort['drawn']): DrawnPage => ({
  ...drawn,
  texts: drawn.texts.map((one) => ({
    ...one,
    font: { ...one.font, charactersOf: () => '', widthOf: () => 0 },
  })),
});

const unpacked = (packed: PackedPage): PageInShort => deserialize(packed);

const restored = ({ drawn, ...page }: PageInShort): ReadPage => ({
  ...page,
  drawn: restoredDrawing(drawn),
});

/** A page in short whose drawing lies packed until it is asked for. */
const restoredPacked = (packed: PackedPage): ReadPage => {
  const { drawn: _, ...page } = unpacked(packed);
  return fetchedRecord(page, { drawn: () => restoredDrawing(unpacked(packed).drawn) });
};

/** Pages that are held for further runs; those of a larger book are read again in each. */
const MOST_KEPT = 1024;
/** Pages of a run whose drawings are held unpacked by whoever has read them. */
const MOST_UNPACKED = 512;

/** Starts from the pages that another run has given. */
export const startKnownPages = (
  before: ReadonlyMap<string, PackedPage> = new Map(),
): KnownPages => {
  const asked = new Map<string, PackedPage>();
  let isNew = false;
  const given = (packed: PackedPage): ReadPage =>
    asked.size < MOST_UNPACKED ? restored(unpacked(packed)) : restoredPacked(packed);
  return {
    recall: (digest) => {
      const found = asked.get(digest) ?? before.get(digest);
      if (found === undefined) return null;
      asked.set(digest, found);
      return given(found);
    },
    note: (digest, page) => {
      const short = inShort(page);
      if (short === null) return page;
      const packed = serialize(short);
      if (asked.size < MOST_KEPT) {
        isNew = true;
        asked.set(digest, packed);
      }
      return given(packed);
    },
    give: () => (isNew ? asked : null),
  };
};
