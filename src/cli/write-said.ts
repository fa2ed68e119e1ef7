import { marksOfRecord } from '../book/course-marks.js';
import type { EditionRecord } from '../book/edition-record.js';
import { type MadeSet, writeSet } from '../book/made-sets.js';
import type { Product } from '../book/product.js';

/** The set that a book's products are, of which the record tells course and layout. */
export const setOfBook = (record: EditionRecord): MadeSet => ({
  course: marksOfRecord(record),
  name: `book ${record.layout[0]}`,
});

/** Writes products into their folder, and tells of what an earlier run made there and this one does not. */
export const writeSaid = (
  folder: string,
  products: readonly Product[],
  set: MadeSet,
  tell: (line: string) => void,
): void => {
  const gone = writeSet(folder, products, set);
  if (gone.length > 0) tell(`${folder}: taken away, made no more: ${gone.join(', ')}`);
};
