import type { Font, Glyph } from 'fontkit';

interface Remembering {
  /** Fontkit's own memory of glyphs, by number; its published types know nothing of it. */
  readonly _glyphs: Record<number, Glyph>;
}

/** More than the characters that there are (Unicode: up to 10FFFF). */
const CHARACTERS = 0x110000;

/**
 * Lets a font remember its glyphs by their characters, too. By itself fontkit remembers a glyph with those that asked for
 * it first (none where it was a part of another, as the fraction slash is of a half), and sets by them what it does by
 * characters, such as fractions: a text would be set otherwise after others than alone.
 */
export const rememberByCharacter = (font: Font): void => {
  const { _glyphs: first } = font as Font & Partial<Remembering>;
  if (first === undefined) return;
  const make = font.getGlyph.bind(font);
  const known = new Map<number | string, Glyph>();
  font.getGlyph = (id, characters = []) => {
    const key =
      characters.length === 1 ? id * CHARACTERS + characters[0] : `${id}:${characters.join()}`;
    let glyph = known.get(key);
    if (glyph === undefined) {
      delete first[id];
      glyph = make(id, [...characters]);
      known.set(key, glyph);
    }
    return glyph;
  };
};
