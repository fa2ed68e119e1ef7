import { InputFault, quoted } from '../../fault.js';
import { type Column, columnsOfNames, type NamedColumn } from './column-names.js';
import { type Dialect, splitFields } from './points-dialect.js';
import { completeness, type Header, isNumber, NEEDED } from './points-header.js';
import type { Line } from './text-lines.js';
import { directionOf } from './text-number.js';

const WORD = { x: 'east', y: 'north', z: 'height' } as const;

export const CURE =
  'name the columns in order: --columns "id north east height code", or the key columns in the course file';

/** The number of fields that most points have. */
export const widthOf = (points: readonly Line[], dialect: Dialect): number => {
  const counts = new Map<number, number>();
  for (const { text } of points) {
    const count = splitFields(text, dialect).length;
    counts.set(count, (counts.get(count) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? 0;
};

export interface Order {
  readonly columns: readonly NamedColumn[];
  readonly ambiguous: boolean;
  readonly whence: string;
  readonly notes: readonly string[];
}

const plainColumn = (column: Column, geographic = false): NamedColumn => ({
  column,
  geographic,
  rank: 1,
  unit: null,
  packed: false,
});

/** Whence an order is known that the asker gave. */
export const AS_ASKED = 'as asked';

/** Columns by what the asker names: names of the header pick its columns, else they are the order itself. */
export const askedOrder = (
  asked: readonly string[],
  header: Header | null,
  names: readonly string[] | null,
  source: string,
): Order => {
  const whence = AS_ASKED;
  const inFile = (names ?? []).map((name) => name.trim().toLowerCase());
  const picked = asked.map((name) => inFile.indexOf(name.trim().toLowerCase()));
  if (asked.length === 3 && picked.every((at) => at >= 0)) {
    const named = columnsOfNames(asked);
    const known = completeness(named) === 3;
    const columns = inFile.map((_, k) => ({
      ...(header?.columns[k] ?? plainColumn('other')),
      column: 'other' as Column,
    }));
    picked.forEach((at, k) => {
      columns[at] = { ...columns[at], column: known ? named[k].column : NEEDED[k] };
    });
    return { columns, ambiguous: false, whence, notes: [] };
  }
  const columns = columnsOfNames(asked);
  if (completeness(columns) < 3) {
    throw new InputFault(
      { file: source, place: 'columns' },
      `the columns ${quoted(asked.join(' '), 60)} do not name east, north and height`,
      'name them in order, for example: id east north height code',
    );
  }
  return {
    columns: columns.map((one, k) => ({
      ...one,
      unit: one.unit ?? (header?.columns.length === columns.length ? header.columns[k].unit : null),
    })),
    ambiguous: false,
    whence,
    notes: [],
  };
};

/** Shares of the points that have a number, and a plain whole number, in each column. */
export interface Shape {
  readonly numeric: readonly boolean[];
  readonly whole: readonly boolean[];
  readonly width: number;
  /** A column holds nothing but a letter of the hemisphere, and one of them is W or S. */
  readonly turned: boolean;
}

export const shapeOf = (points: readonly Line[], dialect: Dialect): Shape => {
  const width = widthOf(points, dialect);
  const rows = points.map(({ text }) => splitFields(text, dialect));
  const share = (k: number, test: (field: string) => boolean): number =>
    rows.filter((row) => row[k] !== undefined && test(row[k])).length / rows.length;
  const columns = Array.from({ length: width }, (_, k) => k);
  const turned = columns.some(
    (k) =>
      share(k, (field) => /^[nsew]$/i.test(field)) === 1 &&
      share(k, (field) => /^[sw]$/i.test(field)) > 0,
  );
  return {
    width,
    turned,
    numeric: columns.map((k) => share(k, (field) => isNumber(field, dialect)) > 0.6),
    whole: columns.map((k) => share(k, (field) => /^\+?\d{1,12}$/.test(field)) === 1),
  };
};

/** A header that lacks one of the three: the one column of numbers that no name explains is it. */
export const byElimination = (
  header: Header,
  shape: Shape,
  source: string,
  line: number,
): Order => {
  const missing = NEEDED.filter((name) => !header.columns.some(({ column }) => column === name));
  const open = header.columns.flatMap(({ column }, k) =>
    column === 'other' && shape.numeric[k] && namesNothing(header.names[k]) ? [k] : [],
  );
  if (missing.length !== 1 || open.length !== 1) {
    throw new InputFault(
      { file: source, place: `line ${line}` },
      `no column is named as the ${missing.map((name) => WORD[name]).join(' and the ')} among ${quoted(header.names.join(', '), 70)}`,
      CURE,
    );
  }
  const columns = [...header.columns];
  columns[open[0]] = { ...columns[open[0]], column: missing[0] };
  return {
    columns,
    ambiguous: false,
    whence: 'by their names',
    notes: [
      `the column ${quoted(header.names[open[0]], 30)} is taken as the ${WORD[missing[0]]}, since no other is left`,
    ],
  };
};

/** A name that is known to mean something else leaves no doubt about its column. */
const namesNothing = (name: string): boolean =>
  !/rms|sigma|sd|std|err|prec|acc|dop|sat|date|time|ant|rod|hi\b|geoid|undul|qual|dist|angle|azim|west|south|delta|hrp|vrp|depth|cut|fill|thick|slope|grade\b|tiefe|profond/i.test(
    name,
  );

/** A word for the order of columns before the points: "PNEZD (comma delimited)"; null without one. */
export const namedByWord = (before: readonly Line[], shape: Shape): Order | null => {
  for (const { text } of before) {
    const word = /\b(P(?:NE|EN)[ZH]D?)\b/i.exec(text.slice(0, 200))?.[1];
    if (word === undefined || word.length > shape.width + 1) continue;
    const columns = columnsOfNames([word]);
    if (columns.every(({ column }, k) => !isPlace(column) || shape.numeric[k])) {
      return {
        columns,
        ambiguous: false,
        whence: `by ${quoted(word)} before the points`,
        notes: [],
      };
    }
  }
  return null;
};

const isPlace = (column: Column): boolean => NEEDED.some((name) => name === column);

/** Columns of a file that names none. */
export const unnamedOrder = (
  points: readonly Line[],
  dialect: Dialect,
  shape: Shape,
  source: string,
): Order => {
  const sample = splitFields(points[0].text, dialect);
  const refuse = (problem: string): never => {
    throw new InputFault({ file: source, place: `line ${points[0].number}` }, problem, CURE);
  };
  const { numeric, whole, width } = shape;
  const columns: NamedColumn[] = Array.from({ length: width }, () => plainColumn('other'));
  const directions = sample.map((field) => directionOf(field));
  const latitude = directions.indexOf('latitude');
  const longitude = directions.indexOf('longitude');
  if (latitude >= 0 && longitude >= 0) {
    const height = numeric.findIndex((is, k) => is && k > Math.max(latitude, longitude));
    if (height < 0) refuse('no height follows the latitude and the longitude');
    columns[latitude] = plainColumn('y', true);
    columns[longitude] = plainColumn('x', true);
    columns[height] = plainColumn('z');
    return { columns, ambiguous: false, whence: 'by the letters of their directions', notes: [] };
  }
  // A code may stand between the number of a point and its position.
  const triple = numeric.findIndex((is, k) => is && numeric[k + 1] && numeric[k + 2]);
  const first = triple < 0 ? numeric.indexOf(true) : triple;
  const after = first < 0 ? -1 : numeric.findIndex((is, k) => k > first && !is);
  const run = first < 0 ? 0 : (after < 0 ? width : after) - first;
  const text = quoted(points[0].text, 50);
  if (run < 3) refuse(`no east, north and height among the columns of ${text}`);
  const decimals = [1, 2, 3].some((k) => k < run && !whole[first + k]);
  const numbered = run >= 4 && whole[first];
  if (numbered && !decimals) {
    refuse(
      `all columns of ${text} are whole numbers: the first may be a point number or a position`,
    );
  }
  const start = numbered ? first + 1 : first;
  columns[start] = plainColumn('x');
  columns[start + 1] = plainColumn('y');
  columns[start + 2] = plainColumn('z');
  const ambiguous = start > 0;
  return {
    columns,
    ambiguous,
    whence: ambiguous ? 'by the map' : 'three numbers without names are east, north and height',
    notes: [],
  };
};
