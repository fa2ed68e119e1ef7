import { createHash } from 'node:crypto';
import type { Subset } from 'fontkit';
import { type PDFContext, type PDFRef, PDFString } from 'pdf-lib';
import type { Face, ShownGlyph, ShownGlyphs } from '../page/marks/marks.js';
import { deflatedStream } from './deflated.js';
import { FACES } from './font-files.js';
import type { Fonts, ShapedText, Typeface } from './fonts.js';
import { number } from './inks.js';
import type { SetGlyph } from './shaped-texts.js';

/** fontkit 2 writes a subset with `encode()`; its published types still name the stream of version 1. */
export type EncodingSubset = Subset & {
  readonly glyphs: readonly number[];
  encode(): Uint8Array;
  includeGlyph(glyph: number): number;
};

/** A face as one PDF uses it. */
interface Embedded {
  readonly name: string;
  readonly typeface: Typeface;
  /** By glyph and characters. */
  readonly codes: Map<string, ShownGlyph>;
  readonly taken: Set<number>;
}

/** A text as a PDF shows it. */
interface TextInPdf {
  /** The font's resource name. */
  readonly font: string;
  /** What shows the text from the current text position. */
  readonly operators: string;
  readonly set: ShapedText;
  /** Whether every PDF shows the text by these operators, whatever else it shows. */
  readonly lasting: boolean;
  /** Its glyphs in their order. */
  readonly shown: readonly ShownGlyph[];
}

/** The faces that one PDF uses, and the glyphs of each. */
export interface FontBook {
  readonly show: (face: Face, text: string) => TextInPdf;
  /** Takes glyphs as another PDF has shown them; false, and none are taken, where one cannot have the same code here. */
  readonly take: (glyphs: ShownGlyphs) => boolean;
  /** Writes the subset fonts; call it once, when all text has been shown. */
  readonly embed: (context: PDFContext) => Record<string, PDFRef>;
}

const hex4 = (value: number): string => value.toString(16).toUpperCase().padStart(4, '0');

const utf16 = (text: string): string =>
  Array.from({ length: text.length }, (_, i) => hex4(text.charCodeAt(i))).join('');

/** Maps codes back to characters; ISO 32000-1, 9.10.3. */
const toUnicode = (characters: readonly ShownGlyph[]): string => {
  const lines = characters.map((c) => `<${hex4(c.code)}> <${utf16(c.characters)}>`);
  const blocks: string[] = [];
  for (let i = 0; i < lines.length; i += 100) {
    const block = lines.slice(i, i + 100);
    blocks.push(`${block.length} beginbfchar\n${block.join('\n')}\nendbfchar`);
  }
  return [
    '/CIDInit /ProcSet findresource begin',
    '12 dict begin',
    'begincmap',
    '/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def',
    '/CMapName /Adobe-Identity-UCS def',
    '/CMapType 2 def',
    '1 begincodespacerange',
    '<0000> <FFFF>',
    'endcodespacerange',
    ...blocks,
    'endcmap',
    'CMapName currentdict /CMap defineresource pop',
    'end',
    'end',
  ].join('\n');
};

/** Six letters that name a subset, drawn from what is in it. ISO 32000-1, 9.6.4. */
const subsetTag = (bytes: Uint8Array): string =>
  [...createHash('sha256').update(bytes).digest().subarray(0, 6)]
    .map((byte) => String.fromCharCode(65 + (byte % 26)))
    .join('');

const DESCRIPTOR_FLAGS = { symbolic: 4, serif: 2, italic: 64 };
/** Width of the upright stems, thousandths: read off the letter l of each face. */
const STEMS: Readonly<Record<Face, number>> = {
  text: 84,
  'text-bold': 122,
  'text-italic': 80,
  title: 82,
  'title-bold': 122,
  note: 100,
};

/** A font file, and by code its glyphs there. */
interface SubsetFile {
  readonly file: Uint8Array;
  readonly glyphs: readonly number[];
}

const subsetFiles = new WeakMap<Typeface, Map<string, SubsetFile>>();

/** The font file of some characters; the files of one book hold the same ones, so that it is made once. */
const subsetFile = (typeface: Typeface, characters: readonly ShownGlyph[]): SubsetFile => {
  const known = subsetFiles.get(typeface) ?? new Map<string, SubsetFile>();
  subsetFiles.set(typeface, known);
  const key = characters.map(({ id }) => id).join(' ');
  const before = known.get(key);
  if (before !== undefined) return before;
  const made = typeface.guard(() => {
    const subset = typeface.font.createSubset() as EncodingSubset;
    const glyphs = characters.map(({ id }) => subset.includeGlyph(id));
    return { file: subset.encode(), glyphs };
  });
  known.set(key, made);
  return made;
};

/** Widths by code: a list for each run of codes (ISO 32000-1, 9.7.4.3). */
const widthsByCode = (characters: readonly ShownGlyph[]): (number | number[])[] => {
  const runs: { readonly from: number; readonly widths: number[] }[] = [];
  for (const { code, width } of characters) {
    const last = runs.at(-1);
    const rounded = Math.round(width * 100) / 100;
    if (last !== undefined && last.from + last.widths.length === code) last.widths.push(rounded);
    else runs.push({ from: code, widths: [rounded] });
  }
  return runs.flatMap(({ from, widths }) => [from, widths]);
};

const embedOne = (context: PDFContext, { typeface, codes }: Embedded): PDFRef => {
  const { font, scale, face } = typeface;
  const characters = [...codes.values()].sort((a, b) => a.code - b.code);
  const { file, glyphs } = subsetFile(typeface, characters);
  const baseFont = `${subsetTag(file)}+${font.postscriptName}`;
  const toGlyph = new Uint8Array(2 * (characters[characters.length - 1].code + 1));
  characters.forEach(({ code }, i) => {
    toGlyph[2 * code] = glyphs[i] >> 8;
    toGlyph[2 * code + 1] = glyphs[i] & 255;
  });
  const serif = face.startsWith('title');
  const descriptor = context.obj({
    Type: 'FontDescriptor',
    FontName: baseFont,
    Flags:
      DESCRIPTOR_FLAGS.symbolic +
      (serif ? DESCRIPTOR_FLAGS.serif : 0) +
      (font.italicAngle === 0 ? 0 : DESCRIPTOR_FLAGS.italic),
    FontBBox: [font.bbox.minX, font.bbox.minY, font.bbox.maxX, font.bbox.maxY].map((v) =>
      Math.round(v * scale),
    ),
    ItalicAngle: font.italicAngle,
    Ascent: Math.round(font.ascent * scale),
    Descent: Math.round(font.descent * scale),
    CapHeight: Math.round(font.capHeight * scale),
    XHeight: Math.round(font.xHeight * scale),
    StemV: STEMS[face],
    FontFile2: context.register(deflatedStream(context, file, { Length1: file.length })),
  });
  const descendant = context.obj({
    Type: 'Font',
    Subtype: 'CIDFontType2',
    BaseFont: baseFont,
    CIDSystemInfo: {
      Registry: PDFString.of('Adobe'),
      Ordering: PDFString.of('Identity'),
      Supplement: 0,
    },
    FontDescriptor: context.register(descriptor),
    CIDToGIDMap: context.register(deflatedStream(context, toGlyph, {})),
    DW: 0,
    W: widthsByCode(characters),
  });
  return context.register(
    context.obj({
      Type: 'Font',
      Subtype: 'Type0',
      BaseFont: baseFont,
      Encoding: 'Identity-H',
      DescendantFonts: [context.register(descendant)],
      ToUnicode: context.register(deflatedStream(context, toUnicode(characters), {})),
    }),
  );
};

/** Codes of letters that are no character's own glyph, from here on by their glyph. */
const VARIANTS = 0xe000;
const LAST = 0xffff;
/** From here downward lie codes for all that finds no other; UTF-16 has no characters there. */
const SPARE = 0xdfff;

/**
 * The code of a glyph with its characters: the character itself where the glyph is its own in the face, else a code by the
 * glyph. It rests on nothing else that the PDF shows, so that a page has the same content in every file of a book; null where
 * there is no such code.
 */
const ownCode = ({ font }: Typeface, id: number, characters: string): number | null => {
  const point = characters.codePointAt(0) ?? 0;
  const isOne = characters.length === 1 && point > 0 && point < 0xd800;
  if (isOne && font.glyphForCodePoint(point).id === id) return point;
  const code = VARIANTS + id;
  return isOne && code <= LAST ? code : null;
};

const spareCode = (taken: ReadonlySet<number>): number => {
  let code = SPARE;
  while (taken.has(code)) code--;
  return code;
};

const keyOf = ({ id, characters }: Pick<ShownGlyph, 'id' | 'characters'>): string =>
  `${id} ${characters}`;

/** A code stands for a glyph together with its characters: two letters may share one glyph. */
const shownIn = (embedded: Embedded, { id, characters, width }: SetGlyph): ShownGlyph => {
  const { typeface, codes, taken } = embedded;
  const key = keyOf({ id, characters });
  const known = codes.get(key);
  if (known !== undefined) return known;
  const own = ownCode(typeface, id, characters);
  const code = own === null || taken.has(own) ? spareCode(taken) : own;
  const shown = { code, id, characters, width };
  taken.add(code);
  codes.set(key, shown);
  return shown;
};

/** Whether a glyph has the same code in this PDF, or can have it. */
const fits = ({ codes, taken }: Embedded, glyph: ShownGlyph): boolean => {
  const known = codes.get(keyOf(glyph));
  return known === undefined ? !taken.has(glyph.code) : known.code === glyph.code;
};

const isSpare = (code: number): boolean => code > 0xd7ff && code <= SPARE;

const showOperators = (
  embedded: Embedded,
  set: ShapedText,
): Pick<TextInPdf, 'operators' | 'lasting' | 'shown'> => {
  const shown = set.glyphs.map((glyph) => shownIn(embedded, glyph));
  const plain = set.glyphs.every((glyph) => glyph.dx === 0 && glyph.dy === 0);
  const parts: string[] = [];
  let run = '';
  const shift = (by: number): void => {
    if (Math.abs(by) < 0.005) return;
    if (run !== '') parts.push(`<${run}>`);
    run = '';
    parts.push(number(by));
  };
  set.glyphs.forEach((glyph, i) => {
    if (!plain) shift(-glyph.dx);
    run += hex4(shown[i].code);
    shift(glyph.width - glyph.advance + (plain ? 0 : glyph.dx));
  });
  if (run !== '') parts.push(`<${run}>`);
  const isPlain = parts.length === 1 && parts[0].startsWith('<');
  const operators = isPlain ? `${parts[0]} Tj` : `[${parts.join('')}] TJ`;
  return { operators, lasting: !shown.some(({ code }) => isSpare(code)), shown };
};

/** Texts that a book remembers as it has shown them; those of a larger one are shown afresh, and alike. */
const MOST_SHOWN = 5000;

export const startFontBook = (fonts: Fonts): FontBook => {
  const used = new Map<Face, Embedded>();
  const shown = new Map<string, TextInPdf>();
  const embeddedOf = (face: Face): Embedded => {
    const known = used.get(face);
    if (known !== undefined) return known;
    const name = `F${FACES.indexOf(face) + 1}`;
    const embedded = { name, typeface: fonts[face], codes: new Map(), taken: new Set<number>() };
    used.set(face, embedded);
    return embedded;
  };
  return {
    show: (face, text) => {
      const key = `${face} ${text}`;
      let found = shown.get(key);
      if (found === undefined) {
        const embedded = embeddedOf(face);
        const set = fonts[face].set(text);
        found = { font: embedded.name, set, ...showOperators(embedded, set) };
        if (shown.size >= MOST_SHOWN) shown.clear();
        shown.set(key, found);
      }
      return found;
    },
    take: (glyphs) => {
      const byFace = glyphs.map(([face, all]) => [embeddedOf(face), all] as const);
      if (!byFace.every(([embedded, all]) => all.every((one) => fits(embedded, one)))) return false;
      for (const [{ codes, taken }, all] of byFace) {
        for (const glyph of all) {
          const key = keyOf(glyph);
          if (codes.has(key)) continue;
          codes.set(key, glyph);
          taken.add(glyph.code);
        }
      }
      return true;
    },
    embed: (context) =>
      Object.fromEntries(
        FACES.flatMap((face) => used.get(face) ?? [])
          .filter(({ codes }) => codes.size > 0)
          .map((embedded) => [embedded.name, embedOne(context, embedded)]),
      ),
  };
};
