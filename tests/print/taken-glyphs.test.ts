import { PDFContext } from 'pdf-lib';
import { expect, it } from 'vitest';
import { type FontBook, startFontBook } from '../../src/print/font-embedding.js';
import { openFonts } from '../../src/print/fonts.js';
import { watchedBook } from '../../src/print/shown-glyphs.js';

/** A page whose content is known is written with the glyphs that it shows, without its texts being set again. */

const fonts = openFonts();

const shown = (book: FontBook): void => {
  book.show('text', 'Fall 2.4 %');
  book.show('note', 'to 1½');
};

/** All that a book writes of its faces. */
const embedded = (book: FontBook): string[] => {
  const context = PDFContext.create();
  book.embed(context);
  return context.enumerateIndirectObjects().map(([ref, object]) => `${ref} ${object}`);
};

it('glyphs of a content are embedded as if its texts were shown', () => {
  const { book, give } = watchedBook(startFontBook(fonts));
  shown(book);
  const glyphs = give();
  const taking = startFontBook(fonts);
  expect(glyphs !== null && taking.take(glyphs)).toBe(true);
  expect(embedded(taking)).toEqual(embedded(book));
  // What is taken, a watch notes, too.
  const again = watchedBook(startFontBook(fonts));
  again.book.take(glyphs ?? []);
  expect(again.give()).toEqual(glyphs);
});

it('a glyph whose code stands for another in this PDF is refused, and none is taken', () => {
  const [book, alone] = [startFontBook(fonts), startFontBook(fonts)];
  for (const one of [book, alone]) one.show('text', 'A');
  const other = { id: 9, characters: 'Z', width: 500 };
  const free = { ...other, code: 0x5a };
  const taken = { ...other, characters: 'Y', code: 0x41 };
  expect(book.take([['text', [free, taken]]])).toBe(false);
  expect(embedded(book)).toEqual(embedded(alone));
});
