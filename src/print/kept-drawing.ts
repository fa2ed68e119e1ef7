import type { Drawing, Page } from '../page/marks/marks.js';
import { type PackedStream, packedStream, recallStream } from './deflated.js';
import type { FontBook } from './font-embedding.js';
import type { PageContent } from './pdf-document.js';
import { watchedBook } from './shown-glyphs.js';

/** The content of a page as it was written before; null where that is not known, or not the same in this file. */
export const keptContent = (
  { memory }: Page,
  drawing: Drawing,
  book: FontBook,
): PackedStream | null => {
  const key = memory?.drawings[drawing];
  if (memory === undefined || key === undefined || memory.glyphs === null) return null;
  const content = recallStream(key);
  return content !== null && book.take(memory.glyphs) ? content : null;
};

/** Draws a page, and notes what further files and further runs need in order to take its content as it is. */
export const notedContent = (
  { memory }: Page,
  drawing: Drawing,
  book: FontBook,
  draw: (book: FontBook) => string,
): PageContent => {
  if (memory === undefined) return draw(book);
  const watch = watchedBook(book);
  const content = draw(watch.book);
  const glyphs = watch.give();
  if (glyphs === null) return content;
  memory.glyphs = glyphs;
  const packed = packedStream(content);
  memory.drawings[drawing] = packed.key;
  return packed;
};
