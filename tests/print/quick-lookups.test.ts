import * as fontkit from 'fontkit';
import { describe, expect, it } from 'vitest';
import { FACES, readFontFile } from '../../src/print/font-files.js';
import { openFonts } from '../../src/print/fonts.js';
import { rememberByCharacter } from '../../src/print/glyphs-by-character.js';
import { below, oneOf } from '../fuzz/chance.js';
import { seeded } from '../survey/foreign-texts.js';
import { NAMES } from './names.js';

const FEATURES = { tnum: true, lnum: true, liga: false, clig: false, dlig: false, ccmp: false };

const LINES = [
  'Fairway 12.5 m, 1⁄2 and 14″',
  'little bell, off the tee: hook—“Yes”',
  'Aim two cups left; die it at the hole. Committee',
  'AVATAR To Wy fi ffi gg tt nn oo 1111',
];

/** Plain characters, the figures and signs of our tables, and any letter of the face below the Greek and Cyrillic ones' end. */
const poolsOf = (font: fontkit.Font): readonly (readonly number[])[] => [
  Array.from({ length: 95 }, (_, i) => 32 + i),
  [...'0123456789.,-/ ⁄½’“„fijltn'].map((character) => character.codePointAt(0)!),
  font.characterSet.filter((code) => code > 32 && code < 0x530 && !(code >= 0x300 && code < 0x370)),
];

const setWith = (font: fontkit.Font, text: string) => {
  const { glyphs, positions } = font.layout(text, FEATURES);
  return { ids: glyphs.map(({ id }) => id), positions: positions.map((at) => ({ ...at })) };
};

describe('quick lookups', () => {
  it('set every text of our faces as the library alone does', () => {
    const fonts = openFonts();
    for (const face of FACES) {
      const { font } = fonts[face];
      const alone = fontkit.create(Buffer.from(readFontFile(face))) as fontkit.Font;
      rememberByCharacter(alone);
      const random = seeded(20_261_128 + face.length);
      const pools = poolsOf(alone);
      const texts = Array.from({ length: 90 }, (_, i) => {
        const pool = pools[i % pools.length];
        const codes = Array.from({ length: 1 + below(random, 14) }, () => oneOf(random, pool));
        return String.fromCodePoint(...codes);
      });
      for (const text of [...LINES, ...Object.values(NAMES).flat(), ...texts]) {
        expect(setWith(font, text), `${face}: ${text}`).toEqual(setWith(alone, text));
      }
    }
  });

  it('are in use: the engine asks them, and they leave out what no glyph starts', () => {
    interface Engine {
      readonly _layoutEngine: {
        readonly engine: { readonly GSUBProcessor: Record<string, unknown> };
      };
    }
    for (const face of FACES) {
      const font = openFonts()[face].font as unknown as Engine;
      const { GSUBProcessor } = font._layoutEngine.engine;
      expect(Object.keys(GSUBProcessor), face).toContain('lookupsForFeatures');
    }
  });
});
