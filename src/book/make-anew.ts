import { shortenedWords } from '../page/shortened-words.js';
import type { Fonts } from '../print/fonts.js';
import { measureWith } from '../print/fonts.js';
import { coversFor } from './book-covers.js';
import { makeProducts } from './book-products.js';
import type { Cache } from './cache.js';
import { withCheck } from './check-apart.js';
import { contentOf } from './course-book.js';
import { keepMarks } from './earlier-edition.js';
import { changesSince } from './edition-changes.js';
import { editionRecord } from './edition-record.js';
import type { BookParts, MadeBook } from './kept-book.js';
import { keepPages, recallPages } from './kept-pages.js';
import type { ComparedPutt } from './played-putts.js';
import { composerOf } from './shelved-pages.js';
import { digestOf } from './stored-bytes.js';

/** What a run makes a book with, beside what it is made of. */
export interface MakingSetting {
  readonly fonts: Fonts;
  readonly cache: Cache;
  /** The names of course and layout, under which pages are kept. */
  readonly of: readonly string[];
  readonly played: readonly ComparedPutt[];
  /** Pictures of each page: drawings, and pixels to an inch; null for none. */
  readonly pictures: { readonly svg: boolean; readonly png: number | null };
  /** See `withCheck`. */
  readonly threads: number | undefined;
  /** Greens that are kept in memory with their pages. */
  readonly inMemory: number;
}

/**
 * Makes a book of its parts: pages, products, and what is kept of them for further runs.
 *
 * @throws InputFault where the book does not fit its use or binding, or fails its own check.
 */
export const makeAnew = (
  parts: BookParts,
  { fonts, cache, of, played, pictures, threads, inMemory }: MakingSetting,
): Promise<MadeBook> =>
  withCheck({ cache, of }, threads, async (check) => {
    const { course, layout, units, language, words, faces, greens, holes, notes, since } = parts;
    const { date, buyers, logo } = parts;
    const told = { holes, notes, played, words, logo };
    const content = contentOf(course, layout, units, greens, told);
    const measure = measureWith(fonts);
    const memories = recallPages(cache, of);
    const composing = { layout, measure, faces, greens, cache, memories };
    const compose = composerOf({ ...composing, greensInMemory: inMemory });
    const plain = await compose(content);
    const record = await editionRecord({ ...parts, pages: plain });
    const changes = changesSince(since, record, layout.binding.method === 'fold-up');
    const pages = changes === null ? plain : await compose({ ...content, changes });
    const products = await makeProducts(pages, layout, {
      ...{ check, fonts, title: course.title, language, words, ...pictures },
      ...{ record: JSON.stringify(record), room: cache.folder },
      ...(date === null ? {} : { date }),
      ...(changes === null ? {} : { changes }),
      ...coversFor(content, layout, buyers, measure),
    });
    await keepPages(check, cache, of, memories);
    keepMarks(cache, digestOf(products[0]), record);
    const named = pages.map(({ id, title, label }) => ({ id, title, label }));
    return { pages: named, products, record, changes, shortened: shortenedWords(pages) };
  });
