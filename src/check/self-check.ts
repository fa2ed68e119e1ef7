import { InputFault } from '../fault.js';
import type { FilePart } from '../file-bytes.js';
import { othersTurn } from '../others-turn.js';
import type { KnownPages } from './known-pages.js';
import { preflight } from './preflight.js';
import type { Finding } from './preflight-finding.js';
import { type ReadBook, readBook, readOwnInParts } from './read-book.js';

/** What mends a finding that a layout or a name can bring about. */
const CURES: Readonly<Record<string, string>> = {
  margins: 'shorten the words, or give their module more room in the layout',
  legibility:
    'use shorter words, fewer columns or smaller type, or give their module more room in the layout',
  'type size': 'use larger type in the layout',
  'line width': 'use a larger page in the layout',
  'ink coverage': 'use lighter inks in the layout',
  'facing pages': 'leave out "facing" in the layout, or give it pages of both kinds',
  spine: 'use shorter words on the spine, thicker paper, or leave out the cover',
  'page count': 'use another binding in the layout',
};

/** Rules that hold for each mark by itself, or for two. */
const EARLY: ReadonlySet<string> = new Set([
  'margins',
  'legibility',
  'type size',
  'line width',
  'glyphs',
]);

const isFailing = ({ verdict }: Finding): boolean => verdict === 'fail';

/**
 * Reads finished PDFs back by the rules of `runnel check`. Throws InputFault at the first finding that
 * fails, with file and page: nothing is written that our own check would refuse.
 *
 * @param read books that have been read already, by their bytes.
 * @param pages pages that have been read already, in this run or another.
 * @returns pages and the rules looked at, by file.
 */
export const refuseFailing = async (
  products: readonly { readonly file: string; readonly bytes: Uint8Array | FilePart }[],
  read: ReadonlyMap<Uint8Array | FilePart, ReadBook> = new Map(),
  pages?: KnownPages,
): Promise<Map<string, { readonly pages: number; readonly rules: readonly string[] }>> => {
  const passed = new Map<string, { readonly pages: number; readonly rules: readonly string[] }>();
  for (const { file, bytes } of products) {
    if (!file.endsWith('.pdf')) continue;
    const book = read.get(bytes) ?? (await readBook(bytes, file, pages));
    const findings = preflight(book);
    const failed = findings.find(isFailing);
    if (failed === undefined) {
      const rules = [...new Set(findings.map(({ rule }) => rule))];
      passed.set(file, { pages: book.pages.length, rules });
      continue;
    }
    // What fails is told from the whole file.
    const inFull = preflight(await readBook(bytes, file)).find(isFailing);
    throw faultOf(inFull ?? failed, file);
  }
  return passed;
};

const faultOf = ({ rule, page, words }: Finding, file: string): InputFault =>
  new InputFault(
    { file, ...(page === null ? {} : { place: `page ${page}` }) },
    `it would fail its own check (${rule}): ${words}; it is not written`,
    CURES[rule] ?? 'change the layout',
  );

/** Pages that are read at a time. */
const AT_A_TIME = 16;

/**
 * What pages fail that are drawn without all that a book will show of them: the first fault of each page by its place,
 * from 0. Only what more marks would not mend is looked at: words that touch or run out, type and lines too small.
 */
export const drawingFaults = async (
  bytes: Uint8Array | FilePart,
  file: string,
): Promise<ReadonlyMap<number, InputFault>> => {
  const faults = new Map<number, InputFault>();
  for (const { from, book } of readOwnInParts(bytes, file, AT_A_TIME)) {
    await othersTurn();
    for (const finding of preflight(book)) {
      const { rule, page } = finding;
      if (!isFailing(finding) || page === null || !EARLY.has(rule)) continue;
      const at = from + page - 1;
      if (!faults.has(at)) faults.set(at, faultOf({ ...finding, page: at + 1 }, file));
    }
  }
  return faults;
};
