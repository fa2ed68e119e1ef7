import { deserialize, serialize } from 'node:v8';
import { describe, expect, it } from 'vitest';
import { readFontFile } from '../../src/print/font-files.js';
import { openFonts } from '../../src/print/fonts.js';

describe('texts that a face has set', () => {
  const words = ['Ferry Bell', '14″ L', 'Kestrel’s Elbow', ''];

  it('are the same where another run takes them over', () => {
    const first = openFonts();
    const second = openFonts((face) => ({ bytes: readFontFile(face) }));
    for (const face of ['text', 'note'] as const) {
      const set = words.map((text) => first[face].set(text));
      second[face].shapes.take(deserialize(serialize(first[face].shapes.give())));
      expect(
        words.map((text) => second[face].set(text)),
        face,
      ).toEqual(set);
      expect(second[face].shapes.isGrown(), face).toBe(false);
      second[face].set('something new');
      expect(second[face].shapes.isGrown(), face).toBe(true);
    }
  });
});
