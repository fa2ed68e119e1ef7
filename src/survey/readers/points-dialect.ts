import { InputFault } from '../../fault.js';
import type { LengthUnit } from '../crs/plane.js';

/** How the fields and the decimals of a points file are marked. */
export interface Dialect {
  readonly delimiter: 'white space' | ',' | ';' | '\t' | '|' | ':';
  readonly decimal: 'point' | 'comma';
  /** NaN when the field is not a number. */
  number(field: string | undefined): number;
}

export type Column = 'x' | 'y' | 'z' | 'line' | 'other';

const NAMES: Readonly<Record<Exclude<Column, 'other'>, readonly string[]>> = {
  x: ['x', 'e', 'east', 'easting', 'eastings', 'lon', 'long', 'lng', 'longitude'],
  y: ['y', 'n', 'north', 'northing', 'northings', 'lat', 'latitude'],
  z: ['z', 'h', 'height', 'elev', 'elevation', 'level', 'alt', 'altitude', 'rl'],
  line: ['line', 'breakline', 'string'],
};

/** "Easting (m)", "ELEV_FT" and "Height [m]" are easting, elev and height. */
const plainName = (name: string): string =>
  name
    .trim()
    .toLowerCase()
    .replace(/^["']|["']$/g, '')
    .replace(/[([].*$/, '')
    .replace(/[_ ](m|ft|us-ft|usft|ftus|sft|metres|meters|feet|coordinate|coord|deg|degrees)$/, '')
    .trim();

/** "Height (ft)", "ELEV_FTUS", "northing [m]": the unit that a column's name states. */
export const unitOfName = (name: string): LengthUnit | null => {
  const match =
    /[([_ ]\s*(us[- ]?ft|us survey feet|ftus|sft|ft|feet|m|metres?|meters?)\s*[)\]]?\s*["']?$/i.exec(
      name.trim(),
    );
  if (match === null) return null;
  const unit = match[1].toLowerCase();
  if (unit.startsWith('m')) return 'm';
  return unit === 'ft' || unit === 'feet' ? 'ft' : 'us-ft';
};

export const columnOfName = (name: string): Column => {
  const plain = plainName(name);
  for (const column of ['x', 'y', 'z', 'line'] as const) {
    if (NAMES[column].includes(plain)) return column;
  }
  return 'other';
};

/** Names in order; one word of the letters p, e, n, z, d (x, y, h) stands for as many columns. */
export const columnsOfNames = (names: readonly string[]): Column[] => {
  const only = names.length === 1 ? names[0].trim().toLowerCase() : '';
  const list = /^[penzdxyh]{3,6}$/.test(only) ? [...only] : names;
  return list.map(columnOfName);
};

const POINT_NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
const COMMA_NUMBER = /^[+-]?(\d+(,\d*)?|,\d+)(e[+-]?\d+)?$/i;

const unquoted = (field: string): string => {
  const text = field.trim();
  return text.length > 1 && text.startsWith('"') && text.endsWith('"')
    ? text.slice(1, -1).replaceAll('""', '"').trim()
    : text;
};

const numberIn = (decimal: 'point' | 'comma') => {
  const shape = decimal === 'point' ? POINT_NUMBER : COMMA_NUMBER;
  return (field: string | undefined): number => {
    if (field === undefined || !shape.test(field)) return Number.NaN;
    return Number(decimal === 'point' ? field : field.replace(',', '.'));
  };
};

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
  ] as const
).map(([delimiter, decimal]) => ({ delimiter, decimal, number: numberIn(decimal) }));

/** Fields of a line; a field in double quotes may hold the delimiter. */
export const splitFields = (line: string, dialect: Dialect): string[] => {
  if (dialect.delimiter === 'white space') return line.trim().split(/\s+/).map(unquoted);
  if (!line.includes('"')) return line.split(dialect.delimiter).map((field) => field.trim());
  const fields: string[] = [];
  let start = 0;
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    const c = line[i];
    if (c === '"') quoted = !quoted;
    else if (c === dialect.delimiter && !quoted) {
      fields.push(line.slice(start, i));
      start = i + 1;
    }
  }
  fields.push(line.slice(start));
  return fields.map(unquoted);
};

/**
 * The delimiter and decimal mark under which the most lines hold three numbers or more, the earlier in
 * the list of dialects when several do.
 *
 * @throws InputFault when under none of them a line does.
 */
export const dialectOf = (lines: readonly string[], source: string, line: number): Dialect => {
  let best: Dialect | null = null;
  let bestScore = 0;
  for (const dialect of DIALECTS) {
    let score = 0;
    for (const text of lines) {
      const numbers = splitFields(text, dialect).filter((field) =>
        Number.isFinite(dialect.number(field)),
      ).length;
      if (numbers >= 3) score += 1;
    }
    if (score > bestScore) {
      best = dialect;
      bestScore = score;
    }
  }
  if (best === null) {
    throw new InputFault(
      { file: source, place: `line ${line}` },
      `"${lines[0].slice(0, 60)}": no line of the file holds three numbers`,
      'one point a line: east, north and height, parted by commas, semicolons, tabs or spaces',
    );
  }
  return best;
};
