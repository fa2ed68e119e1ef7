import { InputFault } from '../fault.js';
import type { FilePart } from '../file-bytes.js';
import type { KnownPages } from './known-pages.js';
import { type ReadBook, readBook } from './read-book.js';
import { checkRules } from './rules-check.js';

export type BookUse = 'practice' | 'play' | 'committee';

const CURES: Readonly<Record<BookUse, string>> = {
  practice: 'put the module "foot" on the pages that hold a green, so that they say so',
  play: 'use a smaller page or scale, or make the book with --use practice',
  committee: 'use the layout "committee", or make the book with --use practice',
};

const PLACES: Readonly<Record<BookUse, string>> = {
  practice: 'practice',
  play: 'play under Rule 4.3a',
  committee: 'play under Model Local Rule G-11',
};

/**
 * Measures a finished book against the condition of use that it was made for. Throws InputFault when it
 * does not fit, with the first reason; else gives the book as it was read.
 */
export const refuseUnfit = async (
  pdf: Uint8Array | FilePart,
  use: BookUse,
  layoutName: string,
  known?: KnownPages,
): Promise<ReadBook> => {
  const book = await readBook(pdf, layoutName, known);
  if (checkRules(book).conditions[use].met !== true) {
    const { reasons } = checkRules(await readBook(pdf, layoutName)).conditions[use];
    throw new InputFault(
      { file: `layout ${layoutName}` },
      `does not fit ${PLACES[use]}: ${reasons[0]}`,
      CURES[use],
    );
  }
  return book;
};
