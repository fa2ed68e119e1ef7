import { readFileSync } from 'node:fs';
import { parseJson } from '../checked-json.js';
import { InputFault, quoted } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { kindOfFile, readNamedFile } from '../named-file.js';
import { schemaCheck } from '../schema-check.js';
import { textOf } from '../user-text.js';
import { type Cache, keep, recall } from './cache.js';
import { type CourseMarks, isOfOther, marksOfRecord } from './course-marks.js';
import { type EditionRecord, RECORD_FORM } from './edition-record.js';
import { digestOfFile } from './file-digest.js';

const CURE =
  'name a PDF of the earlier edition as `runnel book` made it, or the books.json of its run';

const text = { type: 'string', maxLength: 1000 };
const textOrNull = { type: ['string', 'null'], maxLength: 1000 };
const number = { type: 'number' };
const pair = { type: 'array', prefixItems: [text, text], items: false, minItems: 2 };
const pairs = { type: 'array', items: pair, maxItems: 1000 };

const HOLE = {
  id: text,
  names: text,
  survey: { ...pair, type: ['array', 'null'] },
  outline: textOrNull,
  tees: pairs,
  line: textOrNull,
  map: text,
  ground: textOrNull,
  locations: pairs,
  speed: { type: ['number', 'null'] },
  worth: textOrNull,
  notes: textOrNull,
};

const RECORD = {
  form: { const: RECORD_FORM },
  title: text,
  at: { type: ['array', 'null'], prefixItems: [number, number], items: false, minItems: 2 },
  edition: textOrNull,
  layout: pair,
  use: text,
  units: text,
  pages: {
    type: 'array',
    maxItems: INPUT_LIMITS.editionPages,
    items: { type: 'array', prefixItems: [text, text, text], items: false, minItems: 3 },
  },
  holes: {
    type: 'array',
    maxItems: INPUT_LIMITS.editionPages,
    items: { type: 'object', properties: HOLE, required: Object.keys(HOLE) },
  },
};

const SCHEMA = { type: 'object', properties: RECORD, required: Object.keys(RECORD) };

const isRecord = (value: unknown): value is EditionRecord => schemaCheck(SCHEMA)(value);

/** The record of a value that was read; a fault where it is none, or one of another form. */
const requireRecord = (value: unknown, file: string): EditionRecord => {
  if (isRecord(value)) return value;
  const form = (value as { readonly form?: unknown } | null)?.form;
  throw new InputFault(
    { file },
    typeof form === 'number' && form !== RECORD_FORM
      ? `its record of what the pages rest on is of form ${form}, and this program reads form ${RECORD_FORM}`
      : 'its record of what the pages rest on is damaged',
    CURE,
  );
};

interface ManifestBook {
  readonly folder?: unknown;
  readonly record?: unknown;
}

/** The book of a manifest that went to the same folder and has the same layout; null where it holds none. */
const ofManifest = (text: string, file: string, asked: AskedEdition): EditionRecord | null => {
  const value = parseJson(text, file) as { readonly books?: unknown } | null;
  const books = value?.books;
  if (!Array.isArray(books)) {
    throw new InputFault({ file }, 'this is no manifest of books: it has no list "books"', CURE);
  }
  const found = (books as (ManifestBook | null)[])
    .filter((book) => book?.folder === asked.folder && book?.record !== undefined)
    .map((book) => requireRecord(book?.record, file))
    .find((record) => record.layout[0] === asked.layout);
  return found ?? null;
};

/** Loaded by who has a PDF to ask. */
const recordOf = async (bytes: Uint8Array, file: string): Promise<string | null> => {
  const { recordOfPdf } = await import('../check/read-record.js');
  return recordOfPdf(bytes, file);
};

/** The book that is to be held against an earlier edition. */
export interface AskedEdition {
  /** The folder of its products, and the name of its layout. */
  readonly folder: string;
  readonly layout: string;
}

/**
 * What the pages of an earlier edition rested on, from any PDF of it or from the manifest of the run that made it.
 *
 * @throws InputFault for a file that carries no such record, and for the book of another layout.
 */
export const readEarlierEdition = async (
  file: string,
  asked: AskedEdition,
): Promise<EditionRecord> => {
  const bytes = readNamedFile(file, CURE);
  if (/^\s*\{/.test(bytes.subarray(0, 64).toString('latin1'))) {
    const found = ofManifest(textOf(bytes, file), file, asked);
    if (found !== null) return found;
    throw new InputFault(
      { file },
      `it tells of no book in the folder ${asked.folder} of the layout ${asked.layout}`,
      CURE,
    );
  }
  const written = await recordOf(bytes, file);
  if (written === null) {
    throw new InputFault(
      { file },
      'it carries no record of what its pages rest on, so that nothing can be told of what has changed',
      CURE,
    );
  }
  const record = requireRecord(parseJson(written, file), file);
  if (record.layout[0] === asked.layout) return record;
  throw new InputFault(
    { file },
    `it is the book of layout ${record.layout[0]}, and this one is of layout ${asked.layout}`,
    'name the earlier edition of the same layout',
  );
};

/** Of which course a PDF is; null where it does not say. */
const marksOfPdf = async (bytes: Uint8Array, file: string): Promise<CourseMarks | null> => {
  let record: unknown;
  try {
    record = JSON.parse((await recordOf(bytes, file)) ?? 'null');
  } catch {
    return null;
  }
  return isRecord(record) ? marksOfRecord(record) : null;
};

/** Keeps of which course a book's file of that digest is, so that the next run need not read it for that. */
export const keepMarks = (cache: Cache, digest: string, record: EditionRecord): void =>
  keep(cache, 'course', digest, marksOfRecord(record));

/**
 * Whether a book may take the place of the file: not where that is the book of another course, whose folder bears
 * the same name. A file that does not say whose it is may be written over.
 *
 * @throws InputFault with both courses.
 */
export const refuseOtherCourse = async (
  file: string,
  course: CourseMarks,
  cache: Cache,
): Promise<void> => {
  if (kindOfFile(file) !== 'a file') return;
  const marks =
    recall<CourseMarks>(cache, 'course', digestOfFile(file)) ??
    (await marksOfPdf(readFileSync(file), file));
  if (marks === null || !isOfOther(marks, course)) return;
  throw new InputFault(
    { file },
    `it is the book of another course, ${quoted(marks.title)}, whose folder has the same name; this run would write over it`,
    'name another folder with --out, or name both courses in one run',
  );
};
