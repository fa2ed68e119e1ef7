import { SURVEY_LIMITS } from '../../input-limits.js';
import { ownValue } from '../../own-value.js';
import {
  CODE,
  ELLIPSOIDAL,
  foldedWord,
  HORIZONTAL,
  LINE,
  MEANINGS,
  type NamedUnit,
  NOT_GROUND,
  NUMBER,
  ORTHOMETRIC,
  OTHER_QUALITY,
  QUALITY,
  RANKS,
  SESSION,
  TIME,
  unitOfWord,
  VERTICAL,
  VERTICAL_QUALITY,
} from './column-vocabulary.js';

/** What the names of columns mean. */

export type Column =
  | 'x'
  | 'y'
  | 'z'
  | 'line'
  | 'sigma'
  | 'time'
  | 'session'
  | 'number'
  | 'code'
  | 'other';

export interface NamedColumn {
  readonly column: Column;
  /** Degrees, by the name: longitude or latitude. */
  readonly geographic: boolean;
  /** Of two columns with one meaning the lower rank is taken. */
  readonly rank: number;
  readonly unit: NamedUnit | null;
  /** East or north by the letter x or y alone, which some countries give to the other. */
  readonly byLetter?: boolean;
  /** Degrees, minutes and seconds packed into one number (DD.MMSSss), by the name. */
  readonly packed: boolean;
}

/** The name without a unit in brackets or at its end, and that unit. */
const unitApart = (
  name: string,
): { readonly rest: string; readonly unit: NamedUnit | null; readonly packed: boolean } => {
  const text = name.trim();
  const open = text.search(/[([{]/);
  if (open >= 0) {
    const inside = text.slice(open + 1).replace(/[)\]}].*$/, '');
    const packed = /dms|mmss|sexag/i.test(inside);
    const unit = unitOfWord(/^in\.?$/i.test(inside.trim()) ? 'inch' : inside);
    // "X (Nord)" says in brackets what it is.
    return { rest: unit === null ? text : text.slice(0, open), unit, packed };
  }
  if (/['\u2032]$/.test(text) && text.length > 1) {
    return { rest: text.slice(0, -1), unit: unitOfWord("'"), packed: false };
  }
  const parts = text.split(/[\s_,.:/-]/);
  for (const count of [3, 2, 1]) {
    if (parts.length <= count) continue;
    const unit = unitOfWord(parts.slice(-count).join(''));
    if (unit !== null) return { rest: parts.slice(0, -count).join(' '), unit, packed: false };
  }
  // "ft_north", but not the one letter of "m north".
  const before = parts.length > 1 && parts[0].length > 1 ? unitOfWord(parts[0]) : null;
  if (before !== null) return { rest: parts.slice(1).join(' '), unit: before, packed: false };
  return { rest: text, unit: null, packed: parts.some((part) => /^(dms|dddmmss)$/i.test(part)) };
};

const NONE: NamedColumn = {
  column: 'other',
  geographic: false,
  rank: 9,
  unit: null,
  packed: false,
};

/** "xcoord", "Nordkoordinate" and "Pohjoiskoordinaatti" say no more than their first part. */
const COMPOUND = /^(\p{L}{1,12}?)(?:coord|koord)\p{L}{0,10}$/u;

/** What a column is by its name; `other` when the name says nothing that matters here. */
export const namedColumn = (name: string): NamedColumn => {
  if (name.length > SURVEY_LIMITS.columnName) return NONE;
  const { rest, unit, packed } = unitApart(name.replace(/^["'\s]+|["\s]+$/g, ''));
  // "GridNorthing" is two words; "NORTHING" and "EPSG" are one.
  const list = foldedWord(rest.replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2'))
    .split(/[^\p{L}\p{N}#°]+/u)
    .flatMap((word) => splitPrefix(word.replace(COMPOUND, '$1')))
    .filter((word) => word !== '');
  const has = (set: ReadonlySet<string>): boolean => list.some((word) => set.has(word));
  const all = list.join('');
  const of = (column: Column, rank = 1, geographic = false): NamedColumn => ({
    column,
    geographic,
    rank,
    unit,
    packed,
  });
  if (/^(?:d|delta|δ)[nexyzh]$/.test(all)) return of('other');
  // "σH" and "sigma" in one sign.
  if (/^σ[nexyzhu]$/.test(all)) return of(/[zhu]$/.test(all) ? 'sigma' : 'other');
  if (LINE.has(all)) return of('line');
  if (
    VERTICAL_QUALITY.has(all) ||
    (has(QUALITY) && (has(VERTICAL) || has(MEANINGS.height)) && !has(HORIZONTAL))
  ) {
    return of('sigma');
  }
  if (OTHER_QUALITY.has(all) || has(QUALITY) || has(OTHER_QUALITY)) return of('other');
  if (has(NOT_GROUND))
    return CODE.has(all) ? of('code') : NUMBER.has(all) ? of('number') : of('other');
  if (has(TIME)) return of('time');
  if (SESSION.has(all)) return of('session');
  const rank = Math.min(...list.map((word) => ownValue(RANKS, word) ?? 1), 3);
  const side = list.reduce((most, word) => Math.max(most, ownValue(RANKS, word) ?? 0), 0);
  const place = list.some((word) => ownValue(RANKS, word) !== undefined)
    ? Math.max(side, rank === 0 ? 0 : side)
    : 1;
  if (has(MEANINGS.latitude)) return of('y', 5, true);
  if (has(MEANINGS.longitude)) return of('x', 5, true);
  const north = has(MEANINGS.north) || all === 'hw';
  const east = has(MEANINGS.east) || all === 'rw';
  if (north !== east) return of(north ? 'y' : 'x', place);
  if (north) return of('other');
  if (has(MEANINGS.height)) {
    return of('z', has(ORTHOMETRIC) ? 0 : has(ELLIPSOIDAL) ? 4 : 1 + (side > 1 ? 1 : 0));
  }
  if (list.includes('x')) return { ...of('x', place + 2), byLetter: true };
  if (list.includes('y')) return { ...of('y', place + 2), byLetter: true };
  if (has(NUMBER)) return of('number');
  if (has(CODE)) return of('code');
  return of('other');
};

const PREFIX = /^(grid|local|ground|ortho|ellip|point|map|utm)(?=.{3})/;

/** "gridnorthing" and "localelev" as two words each; numbers at the end of a word go. */
const splitPrefix = (word: string): string[] => {
  const bare = word.replace(/(?<=\D)[12]$/, '');
  if (isKnown(word)) return [word];
  const match = PREFIX.exec(bare);
  return match === null ? [isKnown(bare) ? bare : word] : [match[1], bare.slice(match[1].length)];
};

const isKnown = (word: string): boolean =>
  Object.values(MEANINGS).some((set) => set.has(word)) ||
  [QUALITY, VERTICAL_QUALITY, OTHER_QUALITY, NUMBER, CODE].some((set) => set.has(word));

/** The columns of a header: of two with one meaning the better one, north and east from one pair. */
export const columnsOfHeader = (names: readonly string[]): NamedColumn[] => {
  const found = names.map(namedColumn);
  // German surveyors write R and H for east and north, with another column for the height.
  const letter = (k: number): string => foldedWord(names[k].replace(/[^\p{L}]/gu, ''));
  const r = names.findIndex((_, k) => letter(k) === 'r' || found[k].column === 'x');
  const h = names.findIndex((_, k) => letter(k) === 'h');
  const hasNorth = found.some(({ column }) => column === 'y');
  if (r >= 0 && h >= 0 && !hasNorth && letter(r) === 'r') {
    const height = found.findIndex(({ column }, k) => column === 'z' && k !== h);
    if (height >= 0) {
      found[r] = { ...found[r], column: 'x', rank: 1 };
      found[h] = { ...found[h], column: 'y', rank: 1 };
    }
  }
  const best = (column: Column): number =>
    found.reduce(
      (at, one, k) => (one.column === column && (at < 0 || one.rank < found[at].rank) ? k : at),
      -1,
    );
  // Latitude and longitude stand back where the file has a projected pair as well.
  const projected = (['x', 'y'] as const).every((column) =>
    found.some((one) => one.column === column && !one.geographic),
  );
  const complete = projected
    ? found.map((one) => (one.geographic ? { ...one, column: 'other' as const } : one))
    : found;
  complete.forEach((one, k) => {
    found[k] = one;
  });
  const taken = new Set(
    ['x', 'y', 'z', 'sigma', 'time', 'session', 'line'].map((c) => best(c as Column)),
  );
  return found.map((one, k) =>
    taken.has(k) || one.column === 'number' || one.column === 'code'
      ? one
      : { ...one, column: 'other' },
  );
};

/** Names in order; one word of the letters p, e, n, z, d (x, y, h) stands for as many columns. */
export const columnsOfNames = (names: readonly string[]): NamedColumn[] => {
  const only = names.length === 1 ? names[0].trim().toLowerCase() : '';
  return /^[penzdxyh]{3,6}$/.test(only)
    ? [...only].map((letter) => (letter === 'p' || letter === 'd' ? NONE : namedColumn(letter)))
    : columnsOfHeader(names);
};
