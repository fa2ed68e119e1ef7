import * as fontkit from 'fontkit';
import { InputFault } from '../fault.js';
import type { Face, MeasureText } from '../page/marks/marks.js';
import { pointsToMm } from '../units.js';
import { FACES, readFontFile } from './font-files.js';

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

export interface ShapedText {
  readonly glyphs: readonly SetGlyph[];
  readonly width: number;
}

export interface Typeface {
  readonly face: Face;
  readonly name: string;
  readonly font: fontkit.Font;
  /** Thousandths of the type size. */
  readonly scale: number;
  /** Sets a text; throws InputFault when the face lacks one of its characters. */
  readonly set: (text: string) => ShapedText;
}

export type Fonts = Readonly<Record<Face, Typeface>>;

/**
 * Tabular lining figures everywhere; no ligatures, and letters not taken apart into accents (ccmp), so that
 * every character keeps a glyph of its own and can be taken out of the PDF again.
 */
const FEATURES = {
  tnum: true,
  lnum: true,
  liga: false,
  clig: false,
  dlig: false,
  ccmp: false,
  kern: true,
};

/** Characters that a face may lack and that have an equal. */
const EQUALS: Readonly<Partial<Record<string, string>>> = { '\u2011': '\u2010' };

const codePointName = (character: string): string =>
  `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;

/** A character as the font can set it: itself, its letter with accents set apart, or its equal; null for none. */
const settable = (font: fontkit.Font, character: string): string | null =>
  [character, character.normalize('NFD'), EQUALS[character]].find(
    (form) =>
      form !== undefined && [...form].every((c) => font.hasGlyphForCodePoint(c.codePointAt(0)!)),
  ) ?? null;

const setWith = (font: fontkit.Font, name: string, scale: number, text: string): ShapedText => {
  let wanted = '';
  for (const character of text.normalize('NFC')) {
    const form = settable(font, character);
    if (form === null) {
      throw new InputFault(
        {},
        `"${text}" needs the character "${character}" (${codePointName(character)}), which the typeface ${name} lacks`,
        'spell it with Latin, Greek or Cyrillic letters',
      );
    }
    wanted += form;
  }
  const run = font.layout(wanted, FEATURES);
  const characters = [...wanted];
  const oneToOne = run.glyphs.length === characters.length;
  let width = 0;
  const glyphs = run.glyphs.map((glyph, i): SetGlyph => {
    const at = run.positions[i];
    width += at.xAdvance * scale;
    return {
      id: glyph.id,
      // fontkit remembers a glyph with the first character that asked for it; ours knows better.
      characters: oneToOne ? characters[i] : String.fromCodePoint(...glyph.codePoints),
      advance: at.xAdvance * scale,
      width: glyph.advanceWidth * scale,
      dx: at.xOffset * scale,
      dy: at.yOffset * scale,
    };
  });
  return { glyphs, width };
};

const openTypeface = (face: Face, bytes: Uint8Array): Typeface => {
  const font = fontkit.create(Buffer.from(bytes)) as fontkit.Font;
  const name = font.fullName;
  const scale = 1000 / font.unitsPerEm;
  const known = new Map<string, ShapedText>();
  return {
    face,
    name,
    font,
    scale,
    set: (text) => {
      let found = known.get(text);
      if (found === undefined) {
        found = setWith(font, name, scale, text);
        known.set(text, found);
      }
      return found;
    },
  };
};

/** Opens all faces. `read` gives the bytes of a face's TTF file. */
export const openFonts = (read: (face: Face) => Uint8Array = readFontFile): Fonts =>
  Object.fromEntries(FACES.map((face) => [face, openTypeface(face, read(face))])) as Record<
    Face,
    Typeface
  >;

/** Width of a text in millimetres as it will be printed, kerning included; `size` in points. */
export const measureWith =
  (fonts: Fonts): MeasureText =>
  (text, face, size) =>
    pointsToMm((fonts[face].set(text).width * size) / 1000);
