import { InputFault } from './fault.js';

/** What separates the cells of a table's lines: a semicolon or a tab when its header has one. */
export const separatorOf = (header: string): string =>
  header.includes(';') ? ';' : header.includes('\t') ? '\t' : ',';

/** A cell's quotes, and what they hold, doubled quotes and all (RFC 4180). */
const QUOTED = /^"((?:[^"]|"")*)"$/;

/** Whether a cell that begins at `from` holds a quote first, before the place `at` or there. */
const startsCell = (line: string, from: number, at: number): boolean => {
  let first = from;
  while (line[first] === ' ') first += 1;
  return line[first] === '"' && first <= at;
};

/** The pieces of a line between separators, of which those inside of quotes are none. */
const piecesOf = (line: string, separator: string): string[] => {
  const pieces: string[] = [];
  let from = 0;
  let isQuoted = false;
  for (let i = 0; i < line.length; i++) {
    if (line[i] === '"' && (isQuoted || startsCell(line, from, i))) isQuoted = !isQuoted;
    else if (line[i] === separator && !isQuoted) {
      pieces.push(line.slice(from, i));
      from = i + 1;
    }
  }
  // A quote that never ends is a letter like others.
  return isQuoted ? line.split(separator) : [...pieces, line.slice(from)];
};

/** The cells of a line, without quotes round them. */
export const cellsOf = (line: string, separator: string): string[] =>
  piecesOf(line, separator).map((cell) => {
    const bare = cell.trim();
    return bare.replace(QUOTED, (_, held: string) => held.replaceAll('""', '"')).trim();
  });

/** Refuses a cell whose quote goes on in the next line: a list of names would hold its two halves. The fault names no file. */
export const refuseOpenQuote = (cell: string): void => {
  if (/^"[^"]*$/.test(cell)) {
    throw new InputFault({}, 'a quote begins here and does not end', 'write each cell on one line');
  }
};
