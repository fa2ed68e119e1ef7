import { fetchedRecord } from '../fetched-record.js';
import { requireBound } from '../layout/binding.js';
import type { Layout } from '../layout/layout.js';
import { oneByOne } from '../others-turn.js';
import type { BookContent } from '../page/book-content.js';
import { planBook } from '../page/book-pages.js';
import type { MeasureText, Page } from '../page/marks/marks.js';
import { shortenedTexts } from '../page/shortened-words.js';
import type { Cache } from './cache.js';
import type { GreenOfBook } from './prepare-green.js';
import { type PageMemories, pageKeys } from './remembered-pages.js';
import { openShelf } from './shelf.js';

/** Pages that are kept in memory for each green that is: with what is drawn of them they take most of it. */
const PAGES_OF_A_GREEN = 5;

/** What puts pages away, those over a number into a file beside the cache until their marks are asked for. */
export const setAside = (folder: string | null, inMemory: number): ((page: Page) => Page) => {
  const shelf = openShelf(folder, inMemory);
  return (page) => {
    const { bring, isHeld } = shelf.put(page.marks);
    if (isHeld) return page;
    const { marks: _, ...told } = page;
    // Asked for of all pages at the end, they would bring all marks once more.
    return fetchedRecord({ ...told, shortened: shortenedTexts(page) }, { marks: bring });
  };
};

/** What pages are composed from beside the book itself. */
export interface ComposerSetting {
  readonly layout: Layout;
  readonly measure: MeasureText;
  /** Of the files of the layout's own faces; empty where it has none. */
  readonly faces: string;
  readonly greens: readonly GreenOfBook[];
  readonly cache: Cache;
  readonly greensInMemory: number;
  /** Pages of other runs. */
  readonly memories: PageMemories;
}

/**
 * What composes the pages of a book as `composeBook` does. Those that were composed before of the very same are not composed
 * again. Of a book of more pages than are kept in memory none is remembered, and those over that number are set aside.
 * Throws InputFault for more pages than can be bound, before any is composed.
 */
export const composerOf =
  ({ layout, measure, faces, greens, cache, greensInMemory, memories }: ComposerSetting) =>
  async (book: BookContent): Promise<Page[]> => {
    const planned = planBook(book, layout, measure);
    requireBound(planned.length, layout);
    const most = PAGES_OF_A_GREEN * greensInMemory;
    if (planned.length > most) {
      const aside = setAside(cache.folder, most);
      return oneByOne(planned, ({ compose }) => aside(compose()));
    }
    const digests = new Map(greens.map(({ hole, digest }) => [hole.id, digest]));
    const keys = pageKeys(planned, digests, faces);
    return oneByOne(planned, (page, i) => memories.page(page, keys[i]));
  };
