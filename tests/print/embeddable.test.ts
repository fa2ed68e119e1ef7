import { describe, expect, it } from 'vitest';
import { requireEmbeddable } from '../../src/print/embeddable.js';
import { FACES, readFontFile } from '../../src/print/font-files.js';

const FONT = readFontFile('text');

/** Where a table lies, by the directory of the font (OpenType specification 1.9.1). */
const placeOf = (font: Buffer, tag: string): { readonly record: number; readonly at: number } => {
  const records = Array.from({ length: font.readUInt16BE(4) }, (_, i) => 12 + 16 * i);
  const record = records.find((from) => font.toString('latin1', from, from + 4) === tag)!;
  return { record, at: font.readUInt32BE(record + 8) };
};

/** The font with other bits of fsType, and the sum of its table made right again. */
const permitting = (fsType: number): Buffer => {
  const font = Buffer.from(FONT);
  const { record, at } = placeOf(font, 'OS/2');
  // fsType is the upper half of its number of four bytes, so the sum changes by so much.
  const by = (fsType - font.readUInt16BE(at + 8)) * 0x10000;
  font.writeUInt16BE(fsType, at + 8);
  font.writeUInt32BE((font.readUInt32BE(record + 4) + by) >>> 0, record + 4);
  return font;
};

describe('a font file of a layout', () => {
  it('is taken where it is whole and may be embedded, as the program’s own may', () => {
    for (const face of FACES) expect(() => requireEmbeddable(readFontFile(face))).not.toThrow();
    for (const fsType of [0, 4, 8, 2 | 8]) {
      expect(() => requireEmbeddable(permitting(fsType)), `${fsType}`).not.toThrow();
    }
  });

  it('is refused where it says that it may not be embedded in part', () => {
    expect(() => requireEmbeddable(permitting(2))).toThrow(/without leave of its maker/);
    expect(() => requireEmbeddable(permitting(0x100))).toThrow(/whole only/);
    expect(() => requireEmbeddable(permitting(0x200))).toThrow(/only its bitmaps/);
  });

  it('is refused where a table is not what the file says of it, or is cut off', () => {
    for (const tag of ['GSUB', 'glyf', 'cmap', 'head']) {
      const font = Buffer.from(FONT);
      font[placeOf(font, tag).at + 13] ^= 1;
      expect(() => requireEmbeddable(font), tag).toThrow(`damaged in its table "${tag}"`);
    }
    expect(() => requireEmbeddable(Buffer.from(FONT).subarray(0, FONT.length >> 1))).toThrow(
      /damaged in its table/,
    );
    expect(() => requireEmbeddable(Buffer.from('OTTO is another kind'))).toThrow(
      /no TrueType font/,
    );
  });
});
