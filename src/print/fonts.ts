import * as fontkit from 'fontkit';
import { InputFault, quoted } from '../fault.js';
import type { Face, MeasureText } from '../page/marks/marks.js';
import { pointsToMm } from '../units.js';
import { FACES, readFontFile } from './font-files.js';
import { rememberByCharacter } from './glyphs-by-character.js';
import { quickenLookups } from './quick-lookups.js';
import { type SetGlyph, type SetOnce, type ShapeStore, startShapes } from './shaped-texts.js';

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
  /** Throws the same InputFault without setting the text. */
  readonly refuseLacking: (text: string) => void;
  /** What it has set, which another run may take over. */
  readonly shapes: ShapeStore;
  /** Does what reads the font's tables: in a user's own file a fault of theirs is the file's. */
  readonly guard: <T>(work: () => T) => T;
}

/** A face's font file; `file` names it where the user does. */
export interface FaceFile {
  readonly bytes: Uint8Array;
  readonly file?: string;
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

/** The text as the font can set it; throws InputFault when the face lacks one of its characters. */
const settableText = (font: fontkit.Font, name: string, text: string): string => {
  let wanted = '';
  for (const character of text.normalize('NFC')) {
    const form = settable(font, character);
    if (form === null) {
      throw new InputFault(
        {},
        `${quoted(text)} needs the character ${quoted(character)} (${codePointName(character)}), which the typeface ${name} lacks`,
        'spell it with Latin, Greek or Cyrillic letters',
      );
    }
    wanted += form;
  }
  return wanted;
};

const shape = (font: fontkit.Font, scale: number, wanted: string): SetOnce => {
  const run = font.layout(wanted, FEATURES);
  const characters = [...wanted];
  const oneToOne = run.glyphs.length === characters.length;
  const glyphs = run.glyphs.map((glyph, i): SetGlyph => {
    const at = run.positions[i];
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
  return { glyphs, lasting: oneToOne };
};

/** Faces that neither kern with a space nor choose a letter by its neighbours across one: words are set singly. */
const WORD_BY_WORD: ReadonlySet<Face> = new Set<Face>(['text', 'text-bold', 'text-italic']);

/** Glyphs of the texts of a face that are held set: more than a course asks for; of the books of many hundred greens each text is new. */
const MOST_GLYPHS = 131_072;

/** What `make` sets of a text, made once while it is held; those that were made first are let go first. */
const once = (make: (text: string) => ShapedText): ((text: string) => ShapedText) => {
  const known = new Map<string, ShapedText>();
  let held = 0;
  return (text) => {
    let found = known.get(text);
    if (found === undefined) {
      found = make(text);
      known.set(text, found);
      held += found.glyphs.length;
      for (const [first, { glyphs }] of known) {
        if (held <= MOST_GLYPHS) break;
        known.delete(first);
        held -= glyphs.length;
      }
    }
    return found;
  };
};

const openFont = ({ bytes, file }: FaceFile): fontkit.Font => {
  const font = fontkit.create(Buffer.from(bytes)) as fontkit.Font;
  rememberByCharacter(font);
  // A user's own file is read whole, so that what is damaged in it is told.
  if (file === undefined) quickenLookups(font, bytes);
  return font;
};

/** What our own faces do wrong is ours; what a file of the user's does is told as its fault. */
const guardOf =
  (file: string | undefined): Typeface['guard'] =>
  (work) => {
    if (file === undefined) return work();
    try {
      return work();
    } catch (error) {
      if (error instanceof InputFault) throw error;
      throw new InputFault(
        { file },
        'the font is damaged, or of a kind that cannot be read',
        'take it from its maker again',
      );
    }
  };

const isMeasured = ({ glyphs }: SetOnce): boolean =>
  glyphs.every(({ advance, width, dx, dy }) => Number.isFinite(advance + width + dx + dy));

const openTypeface = (face: Face, faceFile: FaceFile): Typeface => {
  const guard = guardOf(faceFile.file);
  const { font, name, scale } = guard(() => {
    const opened = openFont(faceFile);
    const { fullName, unitsPerEm, bbox, ascent, descent, capHeight, xHeight } = opened;
    const figures = [1 / unitsPerEm, bbox.minX, bbox.minY, bbox.maxX, bbox.maxY];
    const heights = [ascent, descent, capHeight, xHeight, opened.italicAngle];
    if (![...figures, ...heights].every(Number.isFinite)) throw new RangeError('no figure');
    return { font: opened, name: `${fullName}`, scale: 1000 / unitsPerEm };
  });
  const shapes = startShapes((wanted) =>
    guard(() => {
      const shaped = shape(font, scale, wanted);
      if (!isMeasured(shaped)) throw new RangeError('a glyph without a width');
      // What characters its glyphs stand for is not to depend on what was set before.
      return shaped.lasting ? shaped : shape(openFont(faceFile), scale, wanted);
    }),
  );
  const set = (text: string): ShapedText => {
    const wanted = guard(() => settableText(font, name, text));
    const pieces = WORD_BY_WORD.has(face) ? wanted.split(/( )/) : [wanted];
    // What grows piece by piece has room for as much again: a copy is as long as it is.
    const glyphs = pieces.flatMap(shapes.of).slice();
    return { glyphs, width: glyphs.reduce((sum, { advance }) => sum + advance, 0) };
  };
  const refuseLacking = (text: string): void => {
    guard(() => settableText(font, name, text));
  };
  return { face, name, font, scale, set: once(set), refuseLacking, shapes, guard };
};

const openAll = (read: (face: Face) => FaceFile): Fonts =>
  Object.fromEntries(FACES.map((face) => [face, openTypeface(face, read(face))])) as Record<
    Face,
    Typeface
  >;

let installed: Fonts | null = null;

/** All faces: those that come with the program, opened once, or fresh ones whose TTF files `read` gives. */
export const openFonts = (read?: (face: Face) => FaceFile): Fonts => {
  if (read !== undefined) return openAll(read);
  installed ??= openAll((face) => ({ bytes: readFontFile(face) }));
  return installed;
};

/** Width of a text in millimetres as it will be printed, kerning included; `size` in points. */
export const measureWith =
  (fonts: Fonts): MeasureText =>
  (text, face, size) =>
    pointsToMm((fonts[face].set(text).width * size) / 1000);
