import type { Course } from '../course/course.js';
import type { HoleFigures } from '../course/hole-figures.js';
import type { Notes } from '../event/notes-file.js';
import type { Layout } from '../layout/layout.js';
import type { BookChanges } from '../page/changes.js';
import type { LogoPicture } from '../page/marks/picture.js';
import type { WordTable } from '../page/words/words.js';
import type { UnitSystem } from '../units.js';
import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';
import type { EditionRecord } from './edition-record.js';
import { plainJson } from './plain-json.js';
import type { GreenOfBook } from './prepare-green.js';
import type { Product } from './product.js';
import { byteLengthOf } from './stored-bytes.js';

/** A book as it was made: what its pages are called, and its files. */
export interface MadeBook {
  readonly pages: readonly {
    readonly id: string;
    readonly title: string;
    readonly label: string;
  }[];
  readonly products: readonly Product[];
  /** What its pages rest on, for later editions. */
  readonly record: EditionRecord;
  /** Against the earlier edition that is named; null where none is, or nothing has changed. */
  readonly changes: BookChanges | null;
  /** Words that found no room whole, a line each. */
  readonly shortened: readonly string[];
}

/** All that a book's pages and files are made of. */
export interface BookParts {
  readonly course: Course;
  readonly layout: Layout;
  readonly units: UnitSystem;
  readonly language: string;
  readonly words: WordTable | undefined;
  /** Of the files of the layout's own faces; empty where it has none. */
  readonly faces: string;
  readonly greens: readonly GreenOfBook[];
  readonly holes: readonly HoleFigures[];
  readonly notes: Notes | undefined;
  /** The earlier edition that it is held against; null for none. */
  readonly since: EditionRecord | null;
  /** That its files are dated by; null for none. */
  readonly date: string | null;
  /** For whom covers are made; null for no one by name. */
  readonly buyers: readonly string[] | null;
  readonly logo: LogoPicture | null;
}

/** The key of a book. Where a course lies is no part of it: a copy of it has the same. */
export const keyOfBook = ({ greens, course, ...parts }: BookParts): string =>
  digestOfParts([
    wholeProgramDigest(),
    plainJson({ ...parts, course: { ...course, folder: '' } }, (_, value) =>
      typeof value === 'string' && value.startsWith(`${course.folder}/`)
        ? value.slice(course.folder.length)
        : value,
    ),
    ...greens.map(({ digest }) => digest),
  ]);

/** The book that is kept under a key, whole; null when it is not. */
export const recallBook = (cache: Cache, key: string): MadeBook | null =>
  recall<MadeBook>(cache, 'made', key);

/** Products of more than this, bytes, would fill the cache, and memory, for one book. */
const MOST_KEPT = 24 * 1024 ** 2;

const sizeOf = ({ products }: MadeBook): number =>
  products.reduce((sum, product) => sum + byteLengthOf(product), 0);

/**
 * The book that was made last of the same parts, or a new one: where nothing has changed that shows in a book,
 * nothing is composed, written or checked again.
 */
export const keptBook = async (
  cache: Cache,
  key: string,
  make: () => Promise<MadeBook>,
): Promise<MadeBook> => {
  const before = recallBook(cache, key);
  if (before !== null) return before;
  const made = await make();
  if (sizeOf(made) <= MOST_KEPT) keep(cache, 'made', key, made);
  return made;
};
