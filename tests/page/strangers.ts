import type { BookContent } from '../../src/page/book-content.js';
import type { Mark, Page } from '../../src/page/marks/marks.js';

/** Finds English on pages that should have none: a book of a made-up language, whose own words bear accents. */

const said = (marks: readonly Mark[]): string[] =>
  marks.flatMap((mark) => [
    ...(mark.kind === 'text' ? [mark.text] : []),
    ...('alt' in mark && mark.alt !== undefined ? [mark.alt] : []),
    ...('words' in mark && mark.words !== undefined ? [mark.words] : []),
    ...('marks' in mark ? said(mark.marks) : []),
  ]);

const wordsIn = (text: string): string[] => text.match(/\p{L}+/gu) ?? [];

/** ISO 2108 writes it in all languages. */
const ANYWHERE = new Set(['ISBN']);

/** Words of three plain letters and more: every word of the made-up language has some that English has not. */
export const englishIn = (text: string): string[] =>
  wordsIn(text).filter((word) => /^[A-Za-z]{3,}$/.test(word) && !ANYWHERE.has(word));

/** All that the pages say, to eye and ear. */
export const saidOn = (pages: readonly Page[]): string[] =>
  pages.flatMap(({ marks, title }) => [title, ...said(marks)]);

/** English that stands on pages, each word once. */
export const strangers = (pages: readonly Page[]): string[] => [
  ...new Set(saidOn(pages).flatMap(englishIn)),
];

/** What a user gives in words of his own, by the names under which it stands. */
const OWN = new Set(
  ['name', 'title', 'setting', 'text', 'by', 'surveyed', 'overruled', 'about', 'edition'].concat(
    ...['publisher', 'copyright', 'buyer', 'price', 'made', 'contact', 'since', 'because'],
  ),
);

/** As long as it was, in letters of no English word. */
const renamed = (words: string): string =>
  words.length < 3 ? words : words.replace(/[A-Za-z]+/g, (word) => 'ñ'.repeat(word.length));

const withoutEnglish = (value: unknown, isOwn: boolean): unknown => {
  if (typeof value === 'string') return isOwn ? renamed(value) : value;
  if (Array.isArray(value)) {
    // Numbers are most of it.
    return typeof value[0] === 'number' ? value : value.map((one) => withoutEnglish(one, isOwn));
  }
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return value;
  if (value instanceof Map) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => [key, withoutEnglish(one, isOwn || OWN.has(key))]),
  );
};

/** The name of a section of the ground is the program's own. */
const ofGreen = <Green extends { readonly holeId: string; readonly name: string }>(
  green: Green,
): Green => ({
  ...green,
  holeId: renamed(green.holeId),
  name: renamed(green.name),
  ...('worth' in green ? { worth: withoutEnglish(green.worth, false) } : {}),
});

/** The book with all that its user wrote in letters that English has not. */
export const inForeignHands = <Book extends BookContent>(book: Book): Book => ({
  ...book,
  title: renamed(book.title),
  setting: renamed(book.setting),
  greens: book.greens.map(ofGreen),
  ...(book.outlines === undefined ? {} : { outlines: book.outlines.map(ofGreen) }),
  ...(book.holes === undefined
    ? {}
    : { holes: withoutEnglish(book.holes, false) as BookContent['holes'] }),
  ...(book.notes === undefined
    ? {}
    : { notes: withoutEnglish(book.notes, false) as BookContent['notes'] }),
  ...(book.imprint === undefined
    ? {}
    : { imprint: withoutEnglish(book.imprint, false) as BookContent['imprint'] }),
});
