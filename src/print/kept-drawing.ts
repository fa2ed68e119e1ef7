import type { Drawing, Page, PageMemory } from '../page/marks/marks.js';
import { recallStream, streamKey } from './deflated.js';
import type { FontBook } from './font-embedding.js';
import { showsAlike, watchedBook } from './shown-texts.js';

/** What sheets of several products hold is not unpacked for each. */
const unpacked = new WeakMap<PageMemory, Map<string, string>>();

const contentOf = (page: PageMemory, key: string): string | null => {
  const before = unpacked.get(page) ?? new Map<string, string>();
  const content = before.get(key) ?? recallStream(key);
  if (content !== null) unpacked.set(page, before.set(key, content));
  return content;
};

/** The content of a page as it was written before; null where that is not known, or not the same in this file. */
export const keptContent = ({ memory }: Page, drawing: Drawing, book: FontBook): string | null => {
  const key = memory?.drawings[drawing];
  if (memory === undefined || key === undefined || memory.texts === null) return null;
  const content = contentOf(memory, key);
  return content !== null && showsAlike(book, memory.texts) ? content : null;
};

/** Draws a page, and notes what further files and further runs need in order to take its content as it is. */
export const notedContent = (
  { memory }: Page,
  drawing: Drawing,
  book: FontBook,
  draw: (book: FontBook) => string,
): string => {
  if (memory === undefined) return draw(book);
  const watch = watchedBook(book);
  const content = draw(watch.book);
  const texts = watch.give();
  if (texts === null) return content;
  memory.texts = texts;
  memory.drawings[drawing] = streamKey(content);
  return content;
};
