import { InputFault } from '../fault.js';
import { preflight } from './preflight.js';
import { type ReadBook, readBook } from './read-book.js';

/** What mends a finding that a layout or a name can bring about. */
const CURES: Readonly<Record<string, string>> = {
  margins: 'shorten the words, or give their module more room in the layout',
  legibility:
    'use shorter words, fewer columns or smaller type, or give their module more room in the layout',
  'type size': 'use larger type in the layout',
  'line width': 'use a larger page in the layout',
  'ink coverage': 'use lighter inks in the layout',
  'page count': 'use another binding in the layout',
};

/**
 * Reads finished PDFs back by the rules of `runnel check`. Throws InputFault at the first finding that
 * fails, with file and page: nothing is written that our own check would refuse.
 *
 * @param known books that have been read already, by their bytes.
 * @returns pages and the rules looked at, by file.
 */
export const refuseFailing = async (
  products: readonly { readonly file: string; readonly bytes: Uint8Array }[],
  known: ReadonlyMap<Uint8Array, ReadBook> = new Map(),
): Promise<Map<string, { readonly pages: number; readonly rules: readonly string[] }>> => {
  const read = new Map<string, { readonly pages: number; readonly rules: readonly string[] }>();
  for (const { file, bytes } of products) {
    if (!file.endsWith('.pdf')) continue;
    const book = known.get(bytes) ?? (await readBook(bytes, file));
    const findings = preflight(book);
    const failed = findings.find(({ verdict }) => verdict === 'fail');
    if (failed === undefined) {
      const rules = [...new Set(findings.map(({ rule }) => rule))];
      read.set(file, { pages: book.pages.length, rules });
      continue;
    }
    const { rule, page, words } = failed;
    throw new InputFault(
      { file, ...(page === null ? {} : { place: `page ${page}` }) },
      `it would fail its own check (${rule}): ${words}; it is not written`,
      CURES[rule] ?? 'change the layout',
    );
  }
  return read;
};
