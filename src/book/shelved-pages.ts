import { fetchedRecord } from '../fetched-record.js';
import type { Layout } from '../layout/layout.js';
import type { BookContent } from '../page/book-content.js';
import { planBook } from '../page/book-pages.js';
import type { MeasureText, Page } from '../page/marks/marks.js';
import type { Cache } from './cache.js';
import { openShelf } from './shelf.js';

/** Pages that are kept in memory for each green that is. */
const PAGES_OF_A_GREEN = 6;

/** What puts pages away, those over a number into a file beside the cache until their marks are asked for. */
export const setAside = (folder: string | null, inMemory: number): ((page: Page) => Page) => {
  const shelf = openShelf(folder, inMemory);
  return (page) => {
    const { bring, isHeld } = shelf.put(page.marks);
    if (isHeld) return page;
    const { marks: _, ...told } = page;
    return fetchedRecord(told, { marks: bring });
  };
};

/** What composes the pages of a book as `composeBook` does; those over a number are set aside. */
export const composerOf =
  (layout: Layout, measure: MeasureText, cache: Cache, greensInMemory: number) =>
  (book: BookContent): Page[] => {
    const aside = setAside(cache.folder, PAGES_OF_A_GREEN * greensInMemory);
    return planBook(book, layout, measure).map(({ compose }) => aside(compose()));
  };
