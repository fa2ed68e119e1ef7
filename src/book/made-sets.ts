import { lstatSync } from 'node:fs';
import { join } from 'node:path';
import { InputFault, quoted } from '../fault.js';
import { readOwnFile } from '../named-file.js';
import { type CourseMarks, isOfOther } from './course-marks.js';
import type { Product } from './product.js';
import { digestOf } from './stored-bytes.js';
import {
  liesInside,
  requirePlaceToWrite,
  type SetEnd,
  type StaleFile,
  writeAll,
} from './write-beside.js';

/**
 * What a folder of products says of itself: whose they are, and the files of each set (a book of one layout, a day) by their
 * digests. By it a run takes away what an earlier one of the same set made and it makes no more, and nothing that anyone has
 * changed or put there since.
 */
const LEDGER = '.runnel-made';

interface Ledger {
  readonly course: CourseMarks;
  readonly sets: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

/** Products that are made anew together, and of which course they are. */
export interface MadeSet {
  readonly course: CourseMarks;
  /** What the set is called in its folder; null where each file is made for itself. */
  readonly name: string | null;
}

const isText = (value: unknown): value is string => typeof value === 'string';

const isTable = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isMarks = (value: unknown): value is CourseMarks => {
  if (!isTable(value)) return false;
  const { title, at, outlines } = value;
  const isPlace =
    at === null ||
    (Array.isArray(at) && at.length === 2 && at.every((one) => typeof one === 'number'));
  return isText(title) && isPlace && Array.isArray(outlines) && outlines.every(isText);
};

const isLedger = (value: unknown): value is Ledger =>
  isTable(value) &&
  isMarks(value.course) &&
  isTable(value.sets) &&
  Object.values(value.sets).every((files) => isTable(files) && Object.values(files).every(isText));

/** Null where the folder has none that can be read: then nothing is known of what lies there. */
const readLedger = (folder: string): Ledger | null => {
  try {
    const value: unknown = JSON.parse(readOwnFile(join(folder, LEDGER)).toString('utf8'));
    return isLedger(value) ? value : null;
  } catch {
    return null;
  }
};

/**
 * Refuses a folder that holds the products of another course whose folder bears the same name, or that cannot be written.
 *
 * @throws InputFault with both courses; the system's error.
 */
export const requireOwnFolder = (folder: string, course: CourseMarks): void => {
  requirePlaceToWrite(folder);
  const ledger = readLedger(folder);
  if (ledger === null || !isOfOther(ledger.course, course)) return;
  throw new InputFault(
    { file: folder },
    `it holds what was made of another course, ${quoted(ledger.course.title)}, whose folder has the same name; this run would write over it`,
    'name another folder with --out, or name both courses in one run of book',
  );
};

const isPlainFile = (path: string): boolean =>
  lstatSync(path, { throwIfNoEntry: false })?.isFile() === true;

/** The files of the set that are not made any more, still lie there and belong to no other set. */
const staleFiles = (
  folder: string,
  { sets }: Ledger,
  name: string,
  made: ReadonlySet<string>,
): StaleFile[] => {
  const others = new Set(
    Object.entries(sets).flatMap(([set, files]) => (set === name ? [] : Object.keys(files))),
  );
  return Object.entries(Object.hasOwn(sets, name) ? sets[name] : {})
    .filter(([file]) => !made.has(file) && !others.has(file) && liesInside(file))
    .filter(([file]) => isPlainFile(join(folder, file)))
    .map(([file, sha256]) => ({ file, sha256 }));
};

/** What the folder says of itself once the set is in it, and what goes. */
const endOfSet = (
  folder: string,
  digests: readonly (readonly [file: string, digest: string])[],
  { course, name }: MadeSet,
): SetEnd => {
  const ledger = readLedger(folder) ?? { course, sets: {} };
  const now =
    name === null
      ? digests.map(([file, digest]) => [file, { [file]: digest }] as const)
      : [[name, Object.fromEntries(digests)] as const];
  const sets = Object.entries({ ...ledger.sets, ...Object.fromEntries(now) }).sort(([a], [b]) =>
    a < b ? -1 : 1,
  );
  const made = new Set(digests.map(([file]) => file));
  const text = `${JSON.stringify({ course, sets: Object.fromEntries(sets) }, null, 1)}\n`;
  return {
    ledger: { file: LEDGER, bytes: new TextEncoder().encode(text) },
    stale: name === null ? [] : staleFiles(folder, ledger, name, made),
  };
};

/**
 * Writes products into their folder, each whole or not at all, and takes away what an earlier run of the same set made
 * and this one does not; gives the names of what was taken away.
 */
export const writeSet = (
  folder: string,
  products: readonly Pick<Product, 'file' | 'bytes'>[],
  set: MadeSet,
): string[] => {
  const digests = products.map((product) => [product.file, digestOf(product)] as const);
  return writeAll(folder, products, () => endOfSet(folder, digests, set));
};
