import * as fontkit from 'fontkit';
import { expect, it } from 'vitest';
import type { EncodingSubset } from '../../src/print/font-embedding.js';
import { readFontFile } from '../../src/print/font-files.js';
import { openFonts } from '../../src/print/fonts.js';
import { rememberByCharacter } from '../../src/print/glyphs-by-character.js';

const open = (): fontkit.Font => fontkit.create(Buffer.from(readFontFile('text'))) as fontkit.Font;

const glyphsOf = (font: fontkit.Font, text: string): readonly number[] =>
  font.layout(text).glyphs.map(({ id }) => id);

/** What a book asks of a font as it is written: a half, and with it the parts that it is made of. */
const embedHalf = (font: fontkit.Font): void => {
  const subset = font.createSubset() as EncodingSubset;
  for (const { id } of font.layout('½').glyphs) subset.includeGlyph(id);
  subset.encode();
};

it('a fraction is set alike before and after a half was written, and after a slash of division', () => {
  const alone = glyphsOf(open(), '3⁄4');
  for (const before of [embedHalf, (font: fontkit.Font) => glyphsOf(font, '3∕4')]) {
    const font = open();
    rememberByCharacter(font);
    before(font);
    expect(glyphsOf(font, '3⁄4')).toEqual(alone);
  }
  const bare = open();
  embedHalf(bare);
  expect(glyphsOf(bare, '3⁄4'), 'fontkit needs no help any more').not.toEqual(alone);
});

it('our fonts are opened so', () => {
  const { font } = openFonts().text;
  embedHalf(font);
  expect(glyphsOf(font, '3⁄4')).toEqual(glyphsOf(open(), '3⁄4'));
});
