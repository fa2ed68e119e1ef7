import { createHash } from 'node:crypto';
import type { Subset } from 'fontkit';
import { type PDFContext, type PDFRef, PDFString } from 'pdf-lib';
import type { Face } from '../page/marks/marks.js';
import { deflatedStream } from './deflated.js';
import type { Fonts, ShapedText, Typeface } from './fonts.js';
import { number } from './inks.js';

/** fontkit 2 writes a subset with `encode()`; its published types still name the stream of version 1. */
type EncodingSubset = Subset & {
  readonly glyphs: readonly number[];
  encode(): Uint8Array;
  includeGlyph(glyph: number): number;
};

interface Character {
  readonly characters: string;
  readonly width: number;
  readonly subsetGlyph: number;
}

interface Embedded {
  readonly name: string;
  readonly typeface: Typeface;
  readonly subset: EncodingSubset;
  readonly codes: Map<string, number>;
  readonly characters: Character[];
}

/** The faces that one PDF uses, and the glyphs of each. */
export interface FontBook {
  /** The font's resource name and the operators that show a text from the current text position. */
  readonly show: (face: Face, text: string) => { font: string; operators: string; set: ShapedText };
  /** Writes the subset fonts; call it once, when all text has been shown. */
  readonly embed: (context: PDFContext) => Record<string, PDFRef>;
}

const hex4 = (value: number): string => value.toString(16).toUpperCase().padStart(4, '0');

const utf16 = (text: string): string =>
  Array.from({ length: text.length }, (_, i) => hex4(text.charCodeAt(i))).join('');

/** Maps codes back to characters; ISO 32000-1, 9.10.3. */
const toUnicode = (characters: readonly Character[]): string => {
  const lines = characters.map((c, i) => `<${hex4(i + 1)}> <${utf16(c.characters)}>`);
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

const subsetFiles = new WeakMap<Typeface, Map<string, Uint8Array>>();

/** The font file of a subset; the files of one book hold the same glyphs, so that it is made once. */
const subsetFile = (typeface: Typeface, subset: EncodingSubset): Uint8Array => {
  const known = subsetFiles.get(typeface) ?? new Map<string, Uint8Array>();
  subsetFiles.set(typeface, known);
  const key = subset.glyphs.join(' ');
  const file = known.get(key) ?? subset.encode();
  known.set(key, file);
  return file;
};

const embedOne = (context: PDFContext, { typeface, subset, characters }: Embedded): PDFRef => {
  const { font, scale, face } = typeface;
  const file = subsetFile(typeface, subset);
  const baseFont = `${subsetTag(file)}+${font.postscriptName}`;
  const toGlyph = new Uint8Array(2 * (characters.length + 1));
  characters.forEach((character, i) => {
    toGlyph[2 * (i + 1)] = character.subsetGlyph >> 8;
    toGlyph[2 * (i + 1) + 1] = character.subsetGlyph & 255;
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
    W: [1, characters.map((character) => Math.round(character.width * 100) / 100)],
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

/** A code stands for a glyph together with its characters: two letters may share one glyph. */
const codeOf = (embedded: Embedded, id: number, characters: string, width: number): number => {
  const key = `${id} ${characters}`;
  const known = embedded.codes.get(key);
  if (known !== undefined) return known;
  embedded.characters.push({ characters, width, subsetGlyph: embedded.subset.includeGlyph(id) });
  const code = embedded.characters.length;
  embedded.codes.set(key, code);
  return code;
};

const showOperators = (embedded: Embedded, set: ShapedText): string => {
  const plain = set.glyphs.every((glyph) => glyph.dx === 0 && glyph.dy === 0);
  const parts: string[] = [];
  let run = '';
  const shift = (by: number): void => {
    if (Math.abs(by) < 0.005) return;
    if (run !== '') parts.push(`<${run}>`);
    run = '';
    parts.push(number(by));
  };
  for (const glyph of set.glyphs) {
    if (!plain) shift(-glyph.dx);
    run += hex4(codeOf(embedded, glyph.id, glyph.characters, glyph.width));
    shift(glyph.width - glyph.advance + (plain ? 0 : glyph.dx));
  }
  if (run !== '') parts.push(`<${run}>`);
  if (parts.length === 1 && parts[0].startsWith('<')) return `${parts[0]} Tj`;
  return `[${parts.join('')}] TJ`;
};

export const startFontBook = (fonts: Fonts): FontBook => {
  const used = new Map<Face, Embedded>();
  const shown = new Map<string, string>();
  return {
    show: (face, text) => {
      let embedded = used.get(face);
      if (embedded === undefined) {
        embedded = {
          name: `F${used.size + 1}`,
          typeface: fonts[face],
          subset: fonts[face].font.createSubset() as EncodingSubset,
          codes: new Map(),
          characters: [],
        };
        used.set(face, embedded);
      }
      const set = fonts[face].set(text);
      const key = `${face} ${text}`;
      let operators = shown.get(key);
      if (operators === undefined) {
        operators = showOperators(embedded, set);
        shown.set(key, operators);
      }
      return { font: embedded.name, operators, set };
    },
    embed: (context) =>
      Object.fromEntries(
        [...used.values()].map((embedded) => [embedded.name, embedOne(context, embedded)]),
      ),
  };
};
