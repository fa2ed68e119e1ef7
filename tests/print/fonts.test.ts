import { describe, expect, it } from 'vitest';
import { InputFault } from '../../src/fault.js';
import { FACES } from '../../src/print/font-files.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { NAMES, OLD_GREEK } from './names.js';

const fonts = openFonts();
const measure = measureWith(fonts);

describe('typefaces', () => {
  it('have tabular lining figures: every digit is as wide as another, alone and in a row', () => {
    for (const face of ['text', 'text-bold', 'title', 'title-bold'] as const) {
      const widths = [...'0123456789'].map((digit) => measure(digit.repeat(20), face, 10) / 20);
      for (const width of widths) expect(width).toBeCloseTo(widths[0], 2);
      expect(measure('1111', face, 8)).toBeCloseTo(measure('8888', face, 8), 1);
    }
  });

  it('have every glyph of course and hole names in Latin, Greek and Cyrillic', () => {
    for (const face of FACES) {
      for (const name of Object.values(NAMES).flat()) {
        expect(fonts[face].set(name).glyphs.every((glyph) => glyph.id !== 0)).toBe(true);
      }
      if (face === 'note') continue;
      for (const name of OLD_GREEK) {
        expect(fonts[face].set(name).glyphs.every((glyph) => glyph.id !== 0)).toBe(true);
      }
    }
  });

  it('set letters with accents the same, composed or not', () => {
    const composed = 'Tŷ Ḣafod é';
    for (const face of FACES) {
      expect(measure(composed.normalize('NFD'), face, 9)).toBe(measure(composed, face, 9));
    }
  });

  it('set an accent on a letter that the face has no drawing for', () => {
    const { glyphs } = fonts.title.set('Ḣ');
    expect(
      glyphs
        .map((g) => g.characters)
        .join('')
        .normalize('NFC'),
    ).toBe('Ḣ');
    expect(glyphs.length).toBe(2);
    // The dot takes no room of its own.
    expect(measure('Ḣ', 'title', 20)).toBeCloseTo(measure('H', 'title', 20), 3);
  });

  it('are set word by word where that gives the very glyphs of the whole line', () => {
    const apart = (['text', 'text-bold', 'text-italic'] as const).map((face) => openFonts()[face]);
    for (const { font, scale, set } of apart) {
      for (const line of ['A V To T. Yes, 12 ft', 'fall 1.9 % – to Éire Ñu', 'W y “Tee” L 7 r A']) {
        const whole = font.layout(line, { tnum: true, lnum: true, liga: false, ccmp: false });
        expect(set(line).glyphs.map(({ id }) => id)).toEqual(whole.glyphs.map(({ id }) => id));
        expect(set(line).width).toBeCloseTo(whole.advanceWidth * scale, 6);
      }
    }
  });

  it('kern, and set no ligature', () => {
    expect(measure('AV', 'title', 20)).toBeLessThan(
      measure('A', 'title', 20) + measure('V', 'title', 20) - 0.1,
    );
    expect(fonts.text.set('ffi').glyphs.length).toBe(3);
  });

  it('name the glyph that they lack, and the text that needs it', () => {
    const lacking = () => fonts.title.set('The 松 hole');
    expect(lacking).toThrow(InputFault);
    expect(lacking).toThrow(
      '"The 松 hole" needs the character "松" (U+677E), which the typeface Alegreya Medium lacks',
    );
    expect(() => measure('⛳', 'text', 8)).toThrow('U+26F3');
  });
});
