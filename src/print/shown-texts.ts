import type { Face } from '../page/marks/marks.js';
import type { FontBook } from './font-embedding.js';

/** The texts that a page's content shows, each with its face. */
export type ShownTexts = readonly (readonly [Face, string])[];

/** Shows all texts, so that the book knows their glyphs; whether the book shows each as every other does. */
export const showsAlike = (book: FontBook, texts: ShownTexts): boolean =>
  texts.map(([face, text]) => book.show(face, text).lasting).every((lasting) => lasting);

/** A font book that notes what it is asked to show; `give`: null where that is not the same in every PDF. */
export const watchedBook = (
  book: FontBook,
): { readonly book: FontBook; readonly give: () => ShownTexts | null } => {
  const texts = new Map<string, readonly [Face, string]>();
  let lasting = true;
  const show: FontBook['show'] = (face, text) => {
    const shown = book.show(face, text);
    texts.set(`${face} ${text}`, [face, text]);
    lasting &&= shown.lasting;
    return shown;
  };
  return { book: { ...book, show }, give: () => (lasting ? [...texts.values()] : null) };
};
