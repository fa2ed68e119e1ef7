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

/** What a page or a form draws in short, as plain data. */
type DrawingInShort = Omit<DrawnPage, 'texts'> & { readonly texts: readonly PlainText[] };

/** A page in short, as plain data. */
type PageInShort = Omit<ReadPage, 'drawn'> & { readonly drawn: DrawingInShort };

/** Pages that were read before, by the digest of all that they draw with. */
export interface KnownPages {
  readonly recall: (digest: string) => ReadPage | null;
  /** Notes a page that was read in full; gives it in short, or as it is where that cannot be. */
  readonly note: (digest: string, page: ReadPage) => ReadPage;
  /** What a form draws; one that is not known is read. Null where it cannot be held in short. */
  readonly form: (digest: string, read: () => DrawnPage | null) => DrawnPage | null;
  /** Notes that a page draws with a form, so that further runs know it. */
  readonly meetForm: (digest: string) => void;
  /** The pages and forms that were asked for or noted; null where they are those that were taken over. */
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
  alike: (one: T) => readonly unknown[],
): T[] => {
  const found = new Map<string, { readonly first: T; box: Box }>();
  let last: readonly unknown[] = [];
  let kind: { readonly first: T; box: Box } | undefined;
  for (const one of all) {
    const parts = alike(one);
    // Most marks come after one of their own kind.
    if (kind === undefined || !parts.every((part, i) => part === last[i])) {
      const key = JSON.stringify(parts);
      last = parts;
      kind = found.get(key);
      if (kind === undefined) {
        kind = { first: one, box: one.box };
        found.set(key, kind);
        continue;
      }
    }
    kind.box = around(kind.box, one.box);
  }
  return [...found.values()].map(({ first, box }) => ({ ...first, box }));
};

/** Marks of the same colour, plate and page. */
const paintsAlike = ({ colour, overprint, on, printerMark }: DrawnPaint): readonly unknown[] => [
  colour,
  overprint,
  on,
  printerMark,
];

const strokesAlike = ({ width, colour, on, printerMark }: DrawnStroke): readonly unknown[] => [
  width,
  colour,
  on,
  printerMark,
];

/** What of a text's words a rule looks for. */
const wordsInShort = (text: string): string => (/practice/i.test(text) ? 'practice' : '');

const textsAlike = ({ font, size, text, colour, on, missing }: PlainText): readonly unknown[] => [
  font,
  size,
  text,
  colour,
  on,
  missing,
];

const plainFont = (font: DrawnText['font']): PlainText['font'] => {
  const { name, embedded, subset, hasUnicode, codeLength } = font;
  return { name, embedded, subset, hasUnicode, codeLength };
};

/** The texts of a page; those of one font share its plain data. */
const plainTexts = (texts: readonly DrawnText[]): PlainText[] => {
  const fonts = new Map<DrawnText['font'], PlainText['font']>();
  return texts.map(({ font, text, ...rest }) => {
    const plain = fonts.get(font) ?? plainFont(font);
    fonts.set(font, plain);
    return { ...rest, text: wordsInShort(text), font: plain };
  });
};

/**
 * A drawing in short: marks that are alike are one, so that all rules pass it where they pass the page, and fail it where they fail
 * the page, if in other words. Null where words run into each other, which cannot be told of it any more.
 */
const drawingInShort = (drawn: DrawnPage): DrawingInShort | null => {
  const { texts, paints, strokes } = drawn;
  if (textsThatTouch(drawn).length > 0) return null;
  return {
    ...drawn,
    texts: together(plainTexts(texts), textsAlike),
    paints: together(paints, paintsAlike),
    strokes: together(strokes, strokesAlike),
    touching: [],
  };
};

const inShort = ({ drawn, ...page }: ReadPage): PageInShort | null => {
  const short = drawingInShort(drawn);
  return short === null ? null : { ...page, drawn: short };
};

const restoredDrawing = (drawn: DrawingInShort): DrawnPage => ({
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

/** A page in short whose drawing is brought, packed, when it is asked for. */
const restoredPacked = (packed: PackedPage, bring: () => PackedPage): ReadPage => {
  const { drawn: _, ...page } = unpacked(packed);
  return fetchedRecord(page, { drawn: () => restoredDrawing(unpacked(bring()).drawn) });
};

/** What keeps a page in short in memory. */
const inMemory = (packed: PackedPage) => (): PackedPage => packed;

/** Pages that are held for further runs; those of a larger book are read again in each. */
const MOST_KEPT = 1024;
/** Pages of a run whose drawings are held unpacked by whoever has read them. */
const MOST_UNPACKED = 512;

/** Forms that are held; those of a larger book are read as often as they are drawn. */
const MOST_KEPT_FORMS = 512;

const formKey = (digest: string): string => `form ${digest}`;

/** Starts from the pages that another run has given; `keep` keeps those that further runs are not given, in memory if left out. */
export const startKnownPages = (
  before: ReadonlyMap<string, PackedPage> = new Map(),
  keep: (packed: PackedPage) => () => PackedPage = inMemory,
): KnownPages => {
  const asked = new Map<string, PackedPage>();
  const forms = new Map<string, PackedPage>();
  let isNew = false;
  const recallForm = (key: string): PackedPage | undefined => {
    const found = forms.get(key) ?? before.get(key);
    if (found !== undefined) forms.set(key, found);
    return found;
  };
  const given = (packed: PackedPage): ReadPage =>
    asked.size < MOST_UNPACKED
      ? restored(unpacked(packed))
      : restoredPacked(packed, inMemory(packed));
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
      if (asked.size >= MOST_KEPT) return restoredPacked(packed, keep(packed));
      isNew = true;
      asked.set(digest, packed);
      return given(packed);
    },
    form: (digest, read) => {
      const key = formKey(digest);
      const found = recallForm(key);
      if (found !== undefined) return restoredDrawing(deserialize(found));
      if (forms.size >= MOST_KEPT_FORMS) return null;
      const drawn = read();
      const short = drawn === null ? null : drawingInShort(drawn);
      if (short === null) return null;
      isNew = true;
      forms.set(key, serialize(short));
      return restoredDrawing(short);
    },
    meetForm: (digest) => {
      recallForm(formKey(digest));
    },
    give: () => (isNew ? new Map([...asked, ...forms]) : null),
  };
};
