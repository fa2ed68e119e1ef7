import { InputFault } from '../../fault.js';
import type { Stated } from '../crs/placement.js';
import type { LengthUnit } from '../crs/plane.js';
import {
  type Column,
  columnsOfHeader,
  columnsOfNames,
  type NamedColumn,
  type NamedUnit,
  unitOfWord,
} from './column-names.js';
import { type Dialect, splitFields } from './points-dialect.js';
import type { Line } from './text-lines.js';
import { degreesOf, directionOf } from './text-number.js';

/** How the lines of a points file are to be taken. */
export interface Columns {
  /** Where each stands, from 0; -1 where the file has none. */
  readonly at: Readonly<Record<'x' | 'y' | 'z' | 'line' | 'sigma' | 'time' | 'session', number>>;
  /** What a number is multiplied by: 0.01 for centimetres in metres. */
  readonly factor: Readonly<Record<'x' | 'y' | 'z' | 'sigma', number>>;
  /** x and y are angles; packed when degrees, minutes and seconds stand in one number. */
  readonly angles: boolean;
  readonly packed: boolean;
  /** The number of the first line of points. */
  readonly firstLine: number;
  /** The fields of the header; null when there is none. */
  readonly header: readonly string[] | null;
  readonly stated: Stated;
  /** Whether north and east may be exchanged, for all that the file says. */
  readonly ambiguous: boolean;
  /** Whence the order is known: "by their names". */
  readonly whence: string;
  /** Whence the unit is known; empty when nothing in the file states it. */
  readonly unitWhence: string;
  readonly names: readonly string[];
  readonly notes: readonly string[];
}

export const isComment = (text: string): boolean => /^\s*(?:[#;%!*]|\/\/)/.test(text);

const uncommented = (text: string): string => text.replace(/^\s*(?:[#;%!*]|\/\/)+\s*/, '');

const NEEDED = ['x', 'y', 'z'] as const;
const WORD = { x: 'east', y: 'north', z: 'height' } as const;

const CURE =
  'name the columns in order: --columns "id north east height code", or the key columns in the course file';

const isNumber = (field: string, dialect: Dialect): boolean =>
  Number.isFinite(dialect.number(field)) || Number.isFinite(degreesOf(field));

const looksLikePoint = (text: string, dialect: Dialect): boolean =>
  splitFields(text, dialect).filter((field) => isNumber(field, dialect)).length >= 3;

const completeness = (columns: readonly NamedColumn[]): number =>
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
const namesOf = (text: string, dialect: Dialect, width: number): string[] => {
  const names = splitFields(text, dialect);
  if (dialect.delimiter !== 'white space' || names.length === width) {
    if (names.length >= 3 || width < 3) return names;
  }
  const glued = gluedNames(text, width);
  return glued.length === width ? glued : names;
};

interface Header {
  readonly index: number;
  readonly names: readonly string[];
  readonly columns: readonly NamedColumn[];
}

/** The line that names the most of east, north and height, before the points it stands over. */
const headerOf = (lines: readonly Line[], dialect: Dialect, width: number): Header | null => {
  let best: Header | null = null;
  let most = 1;
  for (let index = 0; index < lines.length; index++) {
    const { text } = lines[index];
    if (text.length > 2000) continue;
    if (looksLikePoint(text, dialect)) {
      if (best !== null) break;
      continue;
    }
    const names = namesOf(isComment(text) ? uncommented(text) : text, dialect, width);
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

/** The number of fields that most points have. */
const widthOf = (points: readonly Line[], dialect: Dialect): number => {
  const counts = new Map<number, number>();
  for (const { text } of points) {
    const count = splitFields(text, dialect).length;
    counts.set(count, (counts.get(count) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? 0;
};

/** Units of a row such as "m, m, m" or "(ft) (ft) (ft)"; null when the line is no such row. */
export const unitsOfRow = (fields: readonly string[]): (NamedUnit | null)[] | null => {
  const bare = fields.map((field) => field.replace(/^[([]|[)\]]$/g, '').trim());
  const units = bare.map(unitOfWord);
  const others = bare.filter(
    (field, k) => units[k] === null && !/^(?:|-|text|id|none|n\/a|deg|degrees|°|dms)$/i.test(field),
  );
  return others.length === 0 && units.some((unit) => unit !== null) ? units : null;
};

/** "Units: US survey feet", "Distances = metres" among the lines before the points. */
const unitOfPreamble = (lines: readonly Line[]): NamedUnit | null => {
  for (const { text } of lines) {
    if (text.length > 200) continue;
    const match =
      /\b(?:(?:linear|distance|length|horizontal|coordinate)[ _]?)?(?:units?|distances?)\b[^:=,;\p{L}]{0,20}[:=,;]\s*"?(?:are\s+|in\s+)?([\p{L}' .-]{1,30})/iu.exec(
        text,
      );
    if (match === null) continue;
    const unit = unitOfWord(match[1].trim()) ?? unitOfWord(match[1].trim().split(/\s{2,}|[,;]/)[0]);
    if (unit !== null) return unit;
  }
  return null;
};

const crsOfPreamble = (lines: readonly Line[]): string | null => {
  for (const { text } of lines) {
    const match = /\bEPSG\s?:{1,2}\s?(\d{4,6})\b/i.exec(text.slice(0, 500));
    if (match !== null) return `EPSG:${match[1]}`;
  }
  return null;
};

interface Order {
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

/** Columns by what the asker names: names of the header pick its columns, else they are the order itself. */
const askedOrder = (
  asked: readonly string[],
  header: Header | null,
  names: readonly string[] | null,
  source: string,
): Order => {
  const whence = 'as asked';
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
      `the columns "${asked.join(' ').slice(0, 60)}" do not name east, north and height`,
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
interface Shape {
  readonly numeric: readonly boolean[];
  readonly whole: readonly boolean[];
  readonly width: number;
}

const shapeOf = (points: readonly Line[], dialect: Dialect): Shape => {
  const width = widthOf(points, dialect);
  const rows = points.map(({ text }) => splitFields(text, dialect));
  const share = (k: number, test: (field: string) => boolean): number =>
    rows.filter((row) => row[k] !== undefined && test(row[k])).length / rows.length;
  const columns = Array.from({ length: width }, (_, k) => k);
  return {
    width,
    numeric: columns.map((k) => share(k, (field) => isNumber(field, dialect)) > 0.6),
    whole: columns.map((k) => share(k, (field) => /^\+?\d{1,12}$/.test(field)) === 1),
  };
};

/** A header that lacks one of the three: the one column of numbers that no name explains is it. */
const byElimination = (header: Header, shape: Shape, source: string, line: number): Order => {
  const missing = NEEDED.filter((name) => !header.columns.some(({ column }) => column === name));
  const open = header.columns.flatMap(({ column }, k) =>
    column === 'other' && shape.numeric[k] && namesNothing(header.names[k]) ? [k] : [],
  );
  if (missing.length !== 1 || open.length !== 1) {
    throw new InputFault(
      { file: source, place: `line ${line}` },
      `no column is named as the ${missing.map((name) => WORD[name]).join(' and the ')} among "${header.names.join(', ').slice(0, 70)}"`,
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
      `the column "${header.names[open[0]].slice(0, 30)}" is taken as the ${WORD[missing[0]]}, since no other is left`,
    ],
  };
};

/** A name that is known to mean something else leaves no doubt about its column. */
const namesNothing = (name: string): boolean =>
  !/rms|sigma|sd|std|err|prec|acc|dop|sat|date|time|ant|rod|hi\b|geoid|undul|qual|dist|angle|azim|west|south|delta|hrp|vrp/i.test(
    name,
  );

/** Columns of a file that names none. */
const unnamedOrder = (
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
  const first = numeric.indexOf(true);
  const after = first < 0 ? -1 : numeric.findIndex((is, k) => k > first && !is);
  const run = first < 0 ? 0 : (after < 0 ? width : after) - first;
  const text = `"${points[0].text.slice(0, 50)}"`;
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

/** The unit on which two columns agree. */
const commonUnit = (a: NamedUnit | null, b: NamedUnit | null): NamedUnit | null =>
  a !== null && b !== null && a.unit === b.unit && a.factor === b.factor ? a : null;

/**
 * Settles what the columns of a points file are, from its first lines.
 *
 * @throws InputFault when east, north and height are not to be told, naming the option that tells them.
 */
export const settleColumns = (
  lines: readonly Line[],
  dialect: Dialect,
  asked: readonly string[] | null,
  source: string,
): Columns => {
  const candidates = lines.filter(({ text }) => !isComment(text) && looksLikePoint(text, dialect));
  const width = widthOf(candidates, dialect);
  const header = headerOf(lines, dialect, width);
  const points = candidates.filter(
    ({ number }) => header === null || number > lines[header.index].number,
  );
  const usual = points.filter(({ text }) => splitFields(text, dialect).length === width);
  // A date among the lines before the points may hold three numbers too.
  const body =
    header === null && dialect.delimiter !== 'white space' && usual.length > 2 ? usual : points;
  if (body.length === 0) {
    throw new InputFault(
      { file: source, place: `line ${lines.at(-1)?.number ?? 1}` },
      'no line of three numbers stands below the names of the columns',
      'one point a line: east, north and height',
    );
  }
  const firstLine = body[0].number;
  const before = lines.filter(({ number }) => number < firstLine);
  const above = before.at(-1);
  const shape = shapeOf(body, dialect);
  const names =
    header?.names ?? (above === undefined ? null : namesOf(above.text, dialect, shape.width));
  if (
    header !== null &&
    dialect.delimiter === 'white space' &&
    header.names.length !== shape.width &&
    asked === null
  ) {
    const spare = shape.width > header.names.length && completeness(header.columns) === 3;
    if (!spare || !header.columns.slice(0, 3).every((_, k) => shape.numeric[k] || k === 0)) {
      throw new InputFault(
        { file: source, place: `line ${lines[header.index].number}` },
        `${header.names.length} names of columns stand over ${shape.width} fields a line`,
        CURE,
      );
    }
  }
  const order =
    asked !== null
      ? askedOrder(asked, header, names, source)
      : header === null
        ? unnamedOrder(body, dialect, shape, source)
        : completeness(header.columns) === 3
          ? { columns: header.columns, ambiguous: false, whence: 'by their names', notes: [] }
          : byElimination(header, shape, source, lines[header.index].number);
  const row = before
    .filter(({ number }) => header === null || number > lines[header.index].number)
    .map(({ text }) => unitsOfRow(splitFields(isComment(text) ? uncommented(text) : text, dialect)))
    .find((units) => units !== null);
  return described({
    order,
    before,
    row: row ?? null,
    header,
    names,
    firstLine,
    body,
    dialect,
    source,
  });
};

interface Found {
  readonly order: Order;
  readonly before: readonly Line[];
  readonly row: readonly (NamedUnit | null)[] | null;
  readonly header: Header | null;
  readonly names: readonly string[] | null;
  readonly firstLine: number;
  readonly body: readonly Line[];
  readonly dialect: Dialect;
  readonly source: string;
}

const unitOfField = (field: string | undefined): NamedUnit | null => {
  const match = /\d\s*([a-z'\u2032-]{1,5})$/i.exec((field ?? '').slice(-12));
  return match === null ? null : unitOfWord(match[1]);
};

/** Units, angles and places of columns whose order is known. */
const described = (found: Found): Columns => {
  const { order, before, row, header, body, dialect, source } = found;
  const { columns } = order;
  const place = (name: Column): number => columns.findIndex(({ column }) => column === name);
  const at = {
    x: place('x'),
    y: place('y'),
    z: place('z'),
    line: place('line'),
    sigma: place('sigma'),
    time: place('time'),
    session: place('session'),
  };
  const sample = splitFields(body[0].text, dialect);
  const geographic =
    columns[at.x].geographic ||
    columns[at.y].geographic ||
    (Number.isNaN(dialect.number(sample[at.x])) && Number.isFinite(degreesOf(sample[at.x] ?? '')));
  const whole = unitOfPreamble(before);
  const unitAt = (k: number): NamedUnit | null =>
    k < 0 ? null : (columns[k].unit ?? row?.[k] ?? unitOfField(sample[k]) ?? null);
  const [unitX, unitY] = [unitAt(at.x), unitAt(at.y)];
  if (!geographic && unitX !== null && unitY !== null && commonUnit(unitX, unitY) === null) {
    throw new InputFault(
      { file: source, place: `line ${found.firstLine}` },
      'north and east are in different units by their names',
      'export both in one unit',
    );
  }
  const across = geographic ? null : (commonUnit(unitX, unitY) ?? unitX ?? unitY ?? whole);
  const up = unitAt(at.z) ?? (across === null || (unitX === null && unitY === null) ? whole : null);
  const byName = columns.some(({ unit }) => unit !== null) || row !== null;
  const sigma = unitAt(at.sigma) ?? up ?? across;
  const crs = geographic ? 'EPSG:4326' : crsOfPreamble(before);
  const unit: LengthUnit | null = across?.unit ?? null;
  return {
    at,
    factor: {
      x: across?.factor ?? 1,
      y: across?.factor ?? 1,
      z: up?.factor ?? (up === null ? (across?.factor ?? 1) : 1),
      sigma: sigma?.factor ?? 1,
    },
    angles: geographic,
    packed: columns[at.x].packed || columns[at.y].packed,
    firstLine: found.firstLine,
    header: header?.names ?? null,
    stated: { crs, unit, verticalUnit: up?.unit ?? null, ...(geographic ? { degrees: true } : {}) },
    ambiguous: order.ambiguous,
    whence: order.whence,
    unitWhence:
      across === null && up === null
        ? ''
        : byName
          ? 'by the names'
          : whole !== null
            ? 'by a line before the points'
            : 'by the first point',
    names: found.names ?? [],
    notes: order.notes,
  };
};
