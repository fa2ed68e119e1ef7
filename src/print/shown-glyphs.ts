import type { Face, ShownGlyph, ShownGlyphs } from '../page/marks/marks.js';
import type { FontBook } from './font-embedding.js';

/** A font book that notes the glyphs that it is asked to show; `give`: null where their codes are not the same in every PDF. */
export const watchedBook = (
  book: FontBook,
): { readonly book: FontBook; readonly give: () => ShownGlyphs | null } => {
  const byFace = new Map<Face, Map<number, ShownGlyph>>();
  let lasting = true;
  const note = (face: Face, shown: readonly ShownGlyph[]): void => {
    const glyphs = byFace.get(face) ?? new Map<number, ShownGlyph>();
    byFace.set(face, glyphs);
    for (const glyph of shown) glyphs.set(glyph.code, glyph);
  };
  const show: FontBook['show'] = (face, text) => {
    const shown = book.show(face, text);
    note(face, shown.shown);
    lasting &&= shown.lasting;
    return shown;
  };
  const take: FontBook['take'] = (glyphs) => {
    const isTaken = book.take(glyphs);
    if (isTaken) for (const [face, all] of glyphs) note(face, all);
    return isTaken;
  };
  return {
    book: { ...book, show, take },
    give: () =>
      lasting ? [...byFace].map(([face, glyphs]) => [face, [...glyphs.values()]] as const) : null,
  };
};
