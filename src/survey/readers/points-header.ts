import { columnsOfHeader, type NamedColumn } from './column-names.js';
import { type Dialect, splitFields } from './points-dialect.js';
import type { Line } from './text-lines.js';
import { degreesOf } from './text-number.js';

export const isComment = (text: string): boolean => /^\s*(?:[#;%!*]|\/\/)/.test(text);

export const uncommented = (text: string): string => text.replace(/^\s*(?:[#;%!*]|\/\/)+\s*/, '');

/** What every survey needs of a point. */
export const NEEDED = ['x', 'y', 'z'] as const;

export const isNumber = (field: string, dialect: Dialect): boolean =>
  Number.isFinite(dialect.number(field)) || Number.isFinite(degreesOf(field));

export const looksLikePoint = (text: string, dialect: Dialect): boolean =>
  splitFields(text, dialect).filter((field) => isNumber(field, dialect)).length >= 3;

export const completeness = (columns: readonly NamedColumn[]): number =>
  NEEDED.filter((name) => columns.some(({ column }) => column === name)).length;

/** Names of a header in white space hold white space themselves: "Ortho Height (m)" is one. */
const gluedNames = (text: string, width: number): string[] => {
  for (const parts of [text.trim().split(/\s{2,}|\t/), text.split(','), text.split(';')]) {
    if (parts.length === width) return parts.map((part) => part.trim());
  }
  const names: string[] = [];
  for (const word of text.trim().split(/\s+/)) {
    const last = names.at(-1);
    const joins =
      last !== undefined &&
      (/^[([]/.test(word) ||
        /[([][^)\]]*$/.test(last) ||
        /(?:^|\s)(?:grid|local|ground|ortho\.?|orthometric|ellipsoidal|ellip\.?|point|pt|us|std|survey|dev)$/i.test(
          last,
        ) ||
        /^(?:value|coordinate|coord\.?)$/i.test(word));
    if (joins) names[names.length - 1] = `${last} ${word}`;
    else names.push(word);
  }
  return names;
};

/** The names of a line's columns, in the number of fields that the points have. */
export const namesOf = (text: string, dialect: Dialect, width: number): string[] => {
  const names = splitFields(text, dialect);
  if (dialect.delimiter !== 'white space' || names.length === width) {
    if (names.length >= 3 || width < 3) return names;
  }
  const glued = gluedNames(text, width);
  return glued.length === width ? glued : names;
};

export interface Header {
  readonly index: number;
  readonly names: readonly string[];
  readonly columns: readonly NamedColumn[];
}

const quotes = (text: string): number => text.split('"').length - 1;

/** No name of a column is broken over more lines. */
const BROKEN = 12;

/** The lines with those joined that a quoted name breaks: "Northing, line break, (m)" is one name. */
export const withJoinedNames = (lines: readonly Line[], dialect: Dialect): Line[] => {
  const out: Line[] = [];
  for (let k = 0; k < lines.length; k++) {
    let { text } = lines[k];
    const open = out.length < BROKEN && quotes(text) % 2 === 1;
    if (open && !looksLikePoint(text, dialect)) {
      let to = k;
      while (quotes(text) % 2 === 1 && to - k < BROKEN && to + 1 < lines.length) {
        to += 1;
        text = `${text} ${lines[to].text}`;
      }
      if (quotes(text) % 2 === 0) {
        out.push({ number: lines[to].number, text });
        k = to;
        continue;
      }
    }
    out.push(lines[k]);
  }
  return out;
};

/** "2025/11/02 10:10:00" is two fields in white space, under one name. */
const DATE = /^\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}$/;
const CLOCK = /^\d{1,2}:\d{2}/;

/** The names with one more for the clock, where a date and a clock in white space stand under one. */
const withClock = (names: readonly string[], fields: readonly string[]): string[] => {
  const date = fields.findIndex((field, k) => DATE.test(field) && CLOCK.test(fields[k + 1] ?? ''));
  const spare = fields.length - names.length;
  if (date < 0 || spare < 1 || /clock|hour|uhrzeit/i.test(names[date + 1] ?? '')) return [...names];
  if (/time|zeit|hora|heure/i.test(names[date + 1] ?? '')) return [...names];
  return [...names.slice(0, date), 'date', ...names.slice(date)];
};

/** The line that names the most of east, north and height, before the points it stands over. */
export const headerOf = (
  lines: readonly Line[],
  dialect: Dialect,
  width: number,
): Header | null => {
  let best: Header | null = null;
  let most = 1;
  const point = lines.find(({ text }) => !isComment(text) && looksLikePoint(text, dialect));
  const sample = point === undefined ? [] : splitFields(point.text, dialect);
  for (let index = 0; index < lines.length; index++) {
    const { text } = lines[index];
    if (text.length > 2000) continue;
    if (looksLikePoint(text, dialect)) {
      if (best !== null) break;
      continue;
    }
    const bare = namesOf(isComment(text) ? uncommented(text) : text, dialect, width);
    const names = dialect.delimiter === 'white space' ? withClock(bare, sample) : bare;
    if (names.filter((name) => isNumber(name, dialect)).length > 1) continue;
    const columns = columnsOfHeader(names);
    const count = completeness(columns);
    if (count > most || (count === most && count > 1)) {
      best = { index, names, columns };
      most = count;
    }
  }
  return best;
};
