import { lstatSync, readdirSync, statSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { readTextFile } from '../user-text.js';
import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';
import { digestOfFile } from './file-digest.js';
import { type MadeBook, recallBook } from './kept-book.js';

/** What a run is asked: words and numbers, by which alone and the files its result is told. */
export interface AskedRun {
  readonly course: string;
  /** The file of the layout; null where none is used. */
  readonly layout: string | null;
  readonly out: string;
  /** All else that the command line says. */
  readonly rest: readonly (string | number | boolean | undefined)[];
}

/** A run that was done: its book, and all that it told. */
export interface DoneRun {
  /** The key of the book. */
  readonly book: string;
  readonly said: readonly string[];
  readonly json: object;
}

/** Above these a course's folder holds more than a course, or surveys that had better be looked at alone. */
const MOST_FILES = 1000;
const MOST_BYTES = 64 * 1024 * 1024;

/** The folder of a course that is there, named by it or by its file. */
export const folderOfCourse = (course: string): string =>
  statSync(course, { throwIfNoEntry: false })?.isDirectory() === true ? course : dirname(course);

const liesIn = (folder: string, path: string): boolean => {
  const way = relative(resolve(folder), resolve(path));
  return !way.startsWith('..') && !isAbsolute(way);
};

/** All that lies in a folder, by name and bytes; null where there is a link, a device or too much. */
const digestOfFolder = (folder: string): string | null => {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort();
  if (names.length > MOST_FILES) return null;
  let bytes = 0;
  const parts: string[] = [];
  for (const name of names) {
    const path = join(folder, name);
    const stats = lstatSync(path);
    if (stats.isDirectory()) parts.push(`${name} is a folder`);
    else {
      bytes += stats.size;
      if (!stats.isFile() || bytes > MOST_BYTES) return null;
      parts.push(name, digestOfFile(path));
    }
  }
  return digestOfParts(parts);
};

/** Whether a layout names files of its own, which may lie anywhere. */
const namesFiles = (layout: string): boolean =>
  /^["']?(words|faces)["']?\s*:/m.test(readTextFile(layout));

/**
 * A digest of all that a run can depend on whose course reads nothing outside its own folder: the program, the
 * command line, the layout, and every file of the folder. Null where that cannot be told for little: the
 * products lie in the folder, something there is no plain file, or something cannot be read.
 */
export const digestOfRun = ({ course, layout, out, rest }: AskedRun): string | null => {
  try {
    const folder = folderOfCourse(course);
    if (liesIn(folder, out)) return null;
    if (layout !== null && (!statSync(layout).isFile() || namesFiles(layout))) return null;
    const files = digestOfFolder(folder);
    if (files === null) return null;
    return digestOfParts([
      wholeProgramDigest(),
      JSON.stringify([course, resolve(course), layout, out, rest]),
      layout === null ? '' : digestOfFile(layout),
      files,
    ]);
  } catch {
    // Whatever is wrong is told by those who read it.
    return null;
  }
};

/** The run that was done under the key, where its book is still there. */
export const recallRun = (
  cache: Cache,
  key: string,
): (DoneRun & { readonly made: MadeBook }) | null => {
  const run = recall<DoneRun>(cache, 'told', key);
  const made = run === null ? null : recallBook(cache, run.book);
  return run === null || made === null ? null : { ...run, made };
};

export const keepRun = (cache: Cache, key: string, run: DoneRun): void =>
  keep(cache, 'told', key, run);
