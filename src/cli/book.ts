import { readFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { openCourseCache } from '../book/course-cache.js';
import {
  type AskedRun,
  digestOfRun,
  folderOfCourse,
  keepRun,
  recallRun,
} from '../book/kept-run.js';
import { requireOwnFolder } from '../book/made-sets.js';
import type { Product } from '../book/product.js';
import { InputFault } from '../fault.js';
import { layoutFileOf } from '../layout/own-layouts.js';
import { kindOfFile } from '../named-file.js';
import type { BookArguments, OneBookArguments } from './book-of-course.js';
import { printJson, say } from './output.js';
import { setOfBook, writeSaid } from './write-said.js';

/** What the run is asked; null for what is not kept: pictures of every page, files from anywhere, an
 * earlier edition. */
const askedOf = (args: OneBookArguments): AskedRun | null => {
  const { course, out, use, units, edition, buyer, json } = args;
  const date = args.date ?? process.env.SOURCE_DATE_EPOCH;
  if (
    args.svg ||
    args.png !== undefined ||
    args.outside ||
    args.since !== undefined ||
    args.buyers !== undefined
  )
    return null;
  const layout = layoutFileOf(args.layout);
  return { course, layout, out, rest: [args.layout, use, units, edition, buyer, date, json] };
};

/** Whether what stands there is the same book; else it is made again, which finds out whose it is. */
const isOwnOrNew = (
  { out }: OneBookArguments,
  name: string,
  products: readonly Product[],
): boolean => {
  const [{ file, bytes }] = products;
  const path = join(out, name, file);
  return kindOfFile(path) !== 'a file' || readFileSync(path).equals(bytes);
};

/** A book, or several where more than one course is named. */
export const runBook = async (args: BookArguments): Promise<void> => {
  const { course: named = [], list } = args;
  if (named.length === 0 && list === undefined) {
    throw new InputFault(
      { file: 'command line' },
      'no course is named',
      'write: runnel book COURSE, several of them, or --list FILE',
    );
  }
  if (named.length === 1 && list === undefined) {
    await runOne({ ...args, course: named[0] });
    return;
  }
  const { runBooks } = await import('./books.js');
  await runBooks(args);
};

/**
 * Makes the book; where nothing has changed since the same was asked last, what was made and told then is
 * written and told again, and nothing that makes books is even loaded.
 */
const runOne = async (args: OneBookArguments): Promise<void> => {
  const asked = askedOf(args);
  const key = asked === null ? null : digestOfRun(asked);
  const name = basename(resolve(folderOfCourse(args.course)));
  const cache = key === null ? undefined : openCourseCache(args.out, name);
  if (key !== null && cache !== undefined) {
    const before = recallRun(cache, key);
    if (before !== null && isOwnOrNew(args, name, before.made.products)) {
      const folder = join(args.out, name);
      const set = setOfBook(before.made.record);
      requireOwnFolder(folder, set.course);
      writeSaid(folder, before.made.products, set, say);
      for (const line of before.said) say(line);
      if (args.json) printJson(before.json);
      return;
    }
  }
  const { makeBook } = await import('./make-book.js');
  const said: string[] = [];
  const tell = (line: string): void => {
    said.push(line);
    say(line);
  };
  const { json, key: book } = await makeBook({ ...args, folder: name }, tell, cache);
  if (args.json) printJson(json);
  // Whoever changed a file under way changed what was read, before it or after.
  if (asked === null || cache === undefined || book === null) return;
  if (key !== null && digestOfRun(asked) === key) keepRun(cache, key, { book, said, json });
};
