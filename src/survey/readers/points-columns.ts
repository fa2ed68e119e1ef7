import { InputFault } from '../../fault.js';
import type { Stated } from '../crs/placement.js';
import type { LengthUnit } from '../crs/plane.js';
import type { Column } from './column-names.js';
import type { NamedUnit } from './column-vocabulary.js';
import { type Dialect, splitFields } from './points-dialect.js';
import { refuseDoubtful } from './points-doubts.js';
import {
  completeness,
  type Header,
  headerOf,
  isComment,
  looksLikePoint,
  namesOf,
  uncommented,
} from './points-header.js';
import {
  AS_ASKED,
  askedOrder,
  byElimination,
  CURE,
  namedByWord,
  type Order,
  shapeOf,
  unnamedOrder,
  widthOf,
} from './points-order.js';
import { crsOfPreamble, unitOfField, unitOfPreamble, unitsOfRow } from './points-units.js';
import type { Line } from './text-lines.js';
import { degreesOf } from './text-number.js';

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
  /** North and east are told by the letters x and y alone, which some countries give to the other. */
  readonly byLetters: boolean;
  /** Whence the order is known: "by their names". */
  readonly whence: string;
  /** Whence the unit is known; empty when nothing in the file states it. */
  readonly unitWhence: string;
  readonly names: readonly string[];
  readonly notes: readonly string[];
}

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
  if (asked === null) {
    const line = header === null ? (above?.number ?? firstLine) : lines[header.index].number;
    refuseDoubtful({ header, names, shape, dialect, source, line });
  }
  const order =
    asked !== null
      ? askedOrder(asked, header, names, source)
      : header === null
        ? (namedByWord(before, shape) ?? unnamedOrder(body, dialect, shape, source))
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
  const byLetters =
    order.whence !== AS_ASKED && columns[at.x].byLetter === true && columns[at.y].byLetter === true;
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
    byLetters,
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
