import { InputFault, quoted } from '../../fault.js';
import type { Line } from './text-lines.js';
import { degreesOf, numberOfText } from './text-number.js';

/** How the fields and the decimals of a points file are marked. */
export interface Dialect {
  readonly delimiter: 'white space' | ',' | ';' | '\t' | '|' | ':';
  readonly decimal: 'point' | 'comma';
  /** NaN when the field is not a number. */
  number(field: string | undefined): number;
}

const unquoted = (field: string): string => {
  const text = field.trim();
  return text.length > 1 && text.startsWith('"') && text.endsWith('"')
    ? text.slice(1, -1).replaceAll('""', '"').trim()
    : text;
};

/** Without the apostrophes round it, or the one before it by which sheets mark a number as text. */
const withoutApostrophes = (field: string): string =>
  field.startsWith("'") && field.length > 1 ? field.slice(1).replace(/'$/, '').trim() : field;

const DIALECTS: readonly Dialect[] = (
  [
    ['\t', 'point'],
    ['\t', 'comma'],
    [';', 'point'],
    [';', 'comma'],
    ['|', 'point'],
    ['|', 'comma'],
    [',', 'point'],
    ['white space', 'point'],
    ['white space', 'comma'],
    [':', 'point'],
    [':', 'comma'],
    [',', 'comma'],
  ] as const
).map(([delimiter, decimal]) => ({
  delimiter,
  decimal,
  number: (field) => (field === undefined ? Number.NaN : numberOfText(field, decimal)),
}));

/** Fields of a line; a field that begins with a double quote may hold the delimiter. */
export const splitFields = (line: string, dialect: Dialect): string[] => {
  const { delimiter } = dialect;
  if (line.includes("'")) return quotedFields(line, delimiter).map(withoutApostrophes);
  return quotedFields(line, delimiter);
};

/** Without the comma or semicolon by which some programs end a line of columns in white space. */
const withoutEnd = (line: string): string =>
  line.endsWith(';') || line.endsWith(',') ? line.slice(0, -1) : line;

/** The fields between delimiters, trimmed; few of them have anything to trim. */
const plainFields = (line: string, delimiter: string): string[] => {
  const fields: string[] = [];
  for (let start = 0; ; ) {
    const at = line.indexOf(delimiter, start);
    const end = at < 0 ? line.length : at;
    const field = line.slice(start, end);
    const isBare = end > start && isInk(line.charCodeAt(start)) && isInk(line.charCodeAt(end - 1));
    fields.push(isBare ? field : field.trim());
    if (at < 0) return fields;
    start = at + 1;
  }
};

/** A letter, digit or sign of ASCII: no kind of white space. */
const isInk = (code: number): boolean => code > 0x20 && code < 0x7f;

const quotedFields = (line: string, delimiter: Dialect['delimiter']): string[] => {
  if (!line.includes('"')) {
    return delimiter === 'white space'
      ? withoutEnd(line.trim()).split(/\s+/)
      : plainFields(line, delimiter);
  }
  const fields: string[] = [];
  const isBreak = (c: string): boolean =>
    delimiter === 'white space' ? /\s/.test(c) : c === delimiter;
  const text = delimiter === 'white space' ? line.trim() : line;
  let start = 0;
  let quoted = false;
  let fresh = true;
  for (let i = 0; i < text.length; i++) {
    const c = text[i];
    if (quoted) {
      if (c === '"' && text[i + 1] === '"') i += 1;
      else if (c === '"') quoted = false;
    } else if (isBreak(c)) {
      if (delimiter !== 'white space' || i > start) fields.push(text.slice(start, i));
      start = i + 1;
      fresh = true;
    } else if (c === '"' && fresh) {
      quoted = true;
      fresh = false;
    } else if (c !== ' ') fresh = false;
  }
  // A quote that never closes is part of the text: seconds of arc.
  if (quoted)
    return line.split(delimiter === 'white space' ? /\s+/ : delimiter).map((f) => f.trim());
  fields.push(text.slice(start));
  return fields.map(unquoted);
};

/** Numbers of a line, and its angles when there are two: 1,25:10:20,5 is not latitude and longitude. */
const numbersIn = (text: string, dialect: Dialect): number => {
  const fields = splitFields(text, dialect);
  const numbers = fields.filter((field) => Number.isFinite(dialect.number(field))).length;
  if (numbers >= 3) return numbers;
  const angles = fields.filter(
    (field) => Number.isNaN(dialect.number(field)) && Number.isFinite(degreesOf(field)),
  ).length;
  return angles >= 2 ? numbers + angles : numbers;
};

/** The delimiter that a first line "sep=;" names; null when it is no such line. */
export const namedDelimiter = (text: string): string | null => {
  const match = /^\s*"?sep=(.|\\t)"?\s*$/i.exec(text.slice(0, 20));
  return match === null ? null : match[1] === '\\t' ? '\t' : match[1];
};

/** Numbers of two digits and more, as in coordinates. */
const NUMBERS = /\d{2,}/g;

/**
 * The delimiter and decimal mark under which the most lines hold three numbers or more, the earlier in
 * the list of dialects when several do.
 *
 * @throws InputFault when under none of them a line does.
 */
export const dialectOf = (
  lines: readonly Line[],
  named: string | null,
  source: string,
): Dialect => {
  let best: Dialect | null = null;
  let bestScore = 0;
  let bestNumbers = 0;
  for (const dialect of DIALECTS) {
    if (named !== null && dialect.delimiter !== named) continue;
    const counts = lines.map(({ text }) => numbersIn(text, dialect));
    const score = counts.filter((count) => count >= 3).length;
    const numbers = counts.reduce((sum, count) => sum + count, 0);
    // Of two decimal marks with one delimiter the one that leaves more numbers.
    const better =
      score === bestScore && dialect.delimiter === best?.delimiter && numbers > bestNumbers;
    if (score > bestScore || better) {
      bestNumbers = numbers;
      best = dialect;
      bestScore = score;
    }
  }
  if (best === null && /\.ya?ml$/i.test(source)) {
    throw new InputFault(
      { file: source },
      'it is a YAML file, not a survey',
      'name a file of measured points or a grid of heights',
    );
  }
  if (best === null) {
    const close = lines.find(({ text }) => (text.slice(0, 300).match(NUMBERS)?.length ?? 0) >= 3);
    throw new InputFault(
      { file: source, place: `line ${(close ?? lines[0]).number}` },
      close === undefined
        ? `${quoted(lines[0].text, 60)}: no line of the file holds three numbers`
        : `${quoted(close.text, 60)}: the numbers stand among other signs`,
      close === undefined
        ? 'one point a line: east, north and height, parted by commas, semicolons, tabs or spaces'
        : 'one point a line: east, north and height as plain numbers, parted by commas, semicolons, tabs or spaces',
    );
  }
  return best;
};
