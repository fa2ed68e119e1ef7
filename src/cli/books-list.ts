import { basename, dirname, isAbsolute, join, resolve } from 'node:path';
import { courseFileOf } from '../course/load-course.js';
import { faultsAt, InputFault, quoted, quotedInPart } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { kindOfFile } from '../named-file.js';
import { nearestWord } from '../nearest-word.js';
import { cellsOf, refuseOpenQuote, separatorOf } from '../table-cells.js';
import type { UnitSystem } from '../units.js';
import { readTextFile } from '../user-text.js';
import { counted } from '../wording.js';
import { type BookAsked, layoutFor } from './book-of-course.js';

/** One book of several, before it has a folder. */
export interface ListedBook extends Omit<BookAsked, 'folder' | 'svg' | 'png' | 'outside'> {
  /** Where it is asked for, for messages. */
  readonly place: string;
}

const COLUMNS = ['course', 'layout', 'use', 'units', 'edition', 'buyer', 'since'] as const;
type Column = (typeof COLUMNS)[number];
const USES = ['practice', 'play', 'committee'] as const;
const UNITS = ['imperial', 'metric'] as const;
const oneOf = <T extends string>(
  word: string,
  words: readonly T[],
  what: string,
  where: { readonly file: string; readonly place: string },
): T => {
  const found = words.find((one) => one === word.toLowerCase());
  if (found !== undefined) return found;
  throw new InputFault(where, `${quoted(word)} is no ${what}`, `use one of ${words.join(', ')}`);
};

const columnsOf = (head: readonly string[], file: string): Column[] =>
  head.map((word, i): Column => {
    const found = COLUMNS.find((column) => column === word.toLowerCase());
    if (found === undefined) {
      const near = nearestWord(word.toLowerCase(), [...COLUMNS]);
      throw new InputFault(
        { file, place: 'line 1' },
        `column ${quoted(word)} is not known`,
        near === undefined ? `columns are ${COLUMNS.join(', ')}` : `did you mean ${quoted(near)}?`,
      );
    }
    if (head.findIndex((one) => one.toLowerCase() === found) === i) return found;
    throw new InputFault({ file, place: 'line 1' }, `column ${quoted(found)} stands twice`);
  });

/**
 * The books of a list: a table with a column "course" and, where they are wanted, "layout", "use", "units", "edition",
 * "buyer" and "since"; empty cells are as the command line says. Courses, earlier editions, and layouts that are files, are named from the list's folder.
 */
export const readBookList = (
  file: string,
  common: Omit<ListedBook, 'course' | 'place'>,
): ListedBook[] => {
  if (kindOfFile(file) !== 'a file') {
    throw new InputFault({ file }, 'there is no such list', 'name a file of a table, CSV');
  }
  const lines = readTextFile(file).split(/\r?\n/);
  if (lines.length > INPUT_LIMITS.bookLines)
    throw new InputFault({ file }, `it has over ${INPUT_LIMITS.bookLines} lines`);
  const separator = separatorOf(lines[0]);
  const columns = columnsOf(cellsOf(lines[0], separator), file);
  if (!columns.includes('course')) {
    throw new InputFault(
      { file, place: 'line 1' },
      'no column "course"',
      `columns are ${COLUMNS.join(', ')}`,
    );
  }
  const inFolder = (path: string): string => (isAbsolute(path) ? path : join(dirname(file), path));
  const books = lines.flatMap((line, i): ListedBook[] => {
    if (i === 0 || line.trim() === '' || line.startsWith('#')) return [];
    const where = { file, place: `line ${i + 1}` };
    const given = cellsOf(line, separator);
    faultsAt(where, () => given.forEach(refuseOpenQuote));
    if (given.length > columns.length) {
      throw new InputFault(
        where,
        `${counted(given.length, 'cell')}, under ${counted(columns.length, 'column')}`,
      );
    }
    const cell = (column: Column): string => given[columns.indexOf(column)] ?? '';
    const [course, layout, use, units, edition, buyer, since] = COLUMNS.map(cell);
    if (course === '') throw new InputFault(where, 'no course is named');
    return [
      {
        ...common,
        course: inFolder(course),
        place: `${basename(file)} line ${i + 1}`,
        ...(layout === '' ? {} : { layout: /[./\\]/.test(layout) ? inFolder(layout) : layout }),
        ...(use === '' ? {} : { use: oneOf(use, USES, 'condition of use', where) }),
        ...(units === ''
          ? {}
          : { units: oneOf<UnitSystem>(units, UNITS, 'system of units', where) }),
        ...(edition === '' ? {} : { edition }),
        ...(buyer === '' ? {} : { buyer }),
        ...(since === '' ? {} : { since: inFolder(since) }),
      },
    ];
  });
  if (books.length === 0) throw new InputFault({ file }, 'it names no course');
  return books;
};

/** The last parts of a path, joined to a name. */
const tailOf = (path: string, parts: number): string =>
  path
    .split(/[\\/]/)
    .filter((part) => part !== '')
    .slice(-parts)
    .join('-');

const MOST_PARTS = 20;
/** Letters of an edition or a buyer in a folder's name; a system takes 255 bytes. */
const MOST_NAME = 40;

const countsOf = (words: readonly string[]): Map<string, number> => {
  const counts = new Map<string, number>();
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
  return counts;
};

/** The folder of each course: the last part of its path, and as many more as tell the courses of a run apart. */
const coursesApart = (paths: readonly string[]): Map<string, string> => {
  const folders = new Map<string, string>();
  const all = [...new Set(paths)];
  for (let parts = 1; parts <= MOST_PARTS && folders.size < all.length; parts++) {
    const tails = all.map((path) => tailOf(path, parts));
    const counts = countsOf(tails);
    all.forEach((path, i) => {
      const isApart = counts.get(tails[i]) === 1 || parts === MOST_PARTS;
      if (isApart && !folders.has(path)) folders.set(path, tails[i]);
    });
  }
  return folders;
};

/** A course that is not there has a name all the same: its failure is told in its turn. */
const placeOfCourse = (course: string): string => {
  try {
    return resolve(dirname(courseFileOf(course)));
  } catch (error) {
    if (error instanceof InputFault) return resolve(course);
    throw error;
  }
};

/** A layout's own name, by which its products are called; of one that cannot be read what it was asked for by. */
const stemOf = (book: ListedBook): string => {
  try {
    return layoutFor(book).name;
  } catch (error) {
    if (error instanceof InputFault) return book.layout;
    throw error;
  }
};

/** Words as a part of a folder's name: letters and figures, a hyphen for all else. */
const asName = (words: string | undefined): string =>
  // By whole letters: half of one is no name for a folder.
  [
    ...(words ?? '')
      .normalize('NFC')
      .toLowerCase()
      .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-'),
  ]
    .slice(0, MOST_NAME)
    .join('')
    .replace(/^-+|-+$/g, '');

/**
 * Gives each book a folder, so that none writes over another: the course's, and with its condition of use, its
 * units, its edition or its buyer behind it where a course has several books of one layout.
 *
 * @throws InputFault where two books are one and the same.
 */
export const withFolders = (
  books: readonly ListedBook[],
): (ListedBook & { readonly folder: string; readonly stem: string })[] => {
  const places = books.map(({ course }) => placeOfCourse(course));
  const folders = coursesApart(places);
  const stemsAsked = new Map<string, string>();
  const stems = books.map((book) => {
    const asked = `${book.layout}\n${book.use}`;
    const stem = stemsAsked.get(asked) ?? stemOf(book);
    stemsAsked.set(asked, stem);
    return stem;
  });
  const plain = books.map((_, i) => `${folders.get(places[i])}/${stems[i]}`);
  const counts = countsOf(plain);
  const taken = new Map<string, string>();
  return books.map((book, i) => {
    const isShared = counts.get(plain[i])! > 1;
    const { use = '', units, edition, buyer } = book;
    const more = [use, units === 'metric' ? 'metric' : '', asName(edition), asName(buyer)].filter(
      (word) => word !== '',
    );
    const folder = [folders.get(places[i])!, ...(isShared ? more : [])].join('-');
    const before = taken.get(`${folder}/${stems[i]}`);
    if (before !== undefined) {
      throw new InputFault(
        { file: book.place },
        `it would write over the book of ${before}: both go to ${quotedInPart(folder)}, layout ${stems[i]}`,
        'leave one out, or give one another layout, edition or buyer',
      );
    }
    taken.set(`${folder}/${stems[i]}`, book.place);
    return { ...book, folder, stem: stems[i] };
  });
};
