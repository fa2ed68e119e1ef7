import type { MadeBook } from '../book/kept-book.js';
import { byteLengthOf, digestOf } from '../book/stored-bytes.js';
import type { BookChanges } from '../page/changes.js';
import { changeLines } from '../page/kit/change-words.js';
import type { BookOfCourse } from './book-of-course.js';

/** A file as a manifest tells of it; thickness in millimetres, of the bound book. */
export interface ManifestFile {
  readonly file: string;
  readonly what: string;
  readonly bytes: number;
  readonly sha256: string;
  /** Of PDFs: pages of the file, sheets of paper where it is laid out on sheets, rules of the check that it passed. */
  readonly pages: number | null;
  readonly sheets: number | null;
  readonly checked: readonly string[];
}

/** What has changed, as JSON tells it. */
export const changesJson = (changes: BookChanges): object => ({
  since: changes.since,
  book: changes.book,
  holes: changes.holes.map(({ kind, hole, of }) => ({
    kind,
    hole,
    ...(of.length === 0 ? {} : { of }),
  })),
  gone: changes.gone,
  pages: {
    of: changes.pages,
    changed: changes.changed,
    added: changes.added,
    left_out: changes.lost,
  },
  ...(changes.whole ? { whole_sheet: true } : {}),
  leaves: (changes.whole ? [] : changes.leaves).map(({ front, replaces }) => ({
    leaf: front / 2 + 1,
    replaces,
  })),
  taken_out: changes.whole ? [] : changes.out,
});

/** What has changed, for who made the book. */
export const sayChanges = (
  { made: { changes } }: BookOfCourse,
  since: string | undefined,
  tell: (line: string) => void,
): void => {
  if (since === undefined) return;
  if (changes === null) {
    tell(`nothing has changed since ${since}`);
    return;
  }
  for (const line of changeLines(changes)) tell(`since ${since}: ${line.replace(/\.$/, '')}`);
  if (changes.whole)
    tell(`since ${since}: a folded sheet is changed whole: the new one is the insert`);
};

/** A file with its digest; what of it was checked stands in it where it is a PDF. */
export const manifestFile = (
  product: MadeBook['products'][number],
  folder: string,
): ManifestFile => ({
  file: `${folder}/${product.file}`,
  what: product.what,
  bytes: byteLengthOf(product),
  sha256: digestOf(product),
  pages: product.checked?.pages ?? null,
  sheets: product.checked?.sheets ?? null,
  checked: product.checked?.rules ?? [],
});
