import { InputFault } from '../../fault.js';
import type { Stated } from '../crs/placement.js';
import type { LengthUnit } from '../crs/plane.js';
import type { ByteSource } from './byte-source.js';
import type { FileReader, ReadPoint } from './file-reader.js';
import {
  type Column,
  columnOfName,
  columnsOfNames,
  type Dialect,
  dialectOf,
  splitFields,
  unitOfName,
} from './points-dialect.js';
import { type Line, linesOf } from './text-lines.js';

/** Lines looked at before the delimiter, the decimal mark and the columns are settled. */
const LOOK = 200;

const isComment = (text: string): boolean => /^\s*(#|\/\/|$)/.test(text);

/** What the columns of the file are, and whether the first line of data is their names. */
interface Columns {
  readonly order: readonly Column[];
  readonly header: number | null;
  readonly note: string | null;
}

const settleColumns = (
  lines: readonly Line[],
  dialect: Dialect,
  asked: readonly string[] | null,
  source: string,
): Columns => {
  const first = lines[0];
  const fields = splitFields(first.text, dialect);
  const numeric = fields.filter((field) => Number.isFinite(dialect.number(field))).length;
  const header = numeric < 2 && lines.length > 1 ? first.number : null;
  const complete = (order: readonly Column[]): boolean =>
    (['x', 'y', 'z'] as const).every((name) => order.includes(name));
  if (asked !== null) {
    // Names that stand in the header pick its columns; otherwise they are the order itself.
    const names = header === null ? [] : fields.map((field) => field.trim().toLowerCase());
    const picked = asked.map((name) => names.indexOf(name.trim().toLowerCase()));
    if (header !== null && picked.every((at) => at >= 0) && asked.length === 3) {
      const order: Column[] = names.map(() => 'other');
      picked.forEach((at, k) => {
        order[at] = (['x', 'y', 'z'] as const)[k];
      });
      const named = asked.map(columnOfName);
      if (complete(named)) {
        picked.forEach((at, k) => {
          order[at] = named[k];
        });
      }
      return { order, header, note: null };
    }
    const order = columnsOfNames(asked);
    if (!complete(order)) {
      throw new InputFault(
        { file: source, place: 'columns' },
        `the columns "${asked.join(' ')}" do not name east, north and height`,
        'name them in order, for example: id east north height code',
      );
    }
    return { order, header, note: null };
  }
  if (header !== null) {
    const order = fields.map(columnOfName);
    if (complete(order)) return { order, header, note: null };
    // A title line, or names that are not known: fall through to the numbers alone.
  }
  const width = fields.length;
  const body = header === null ? lines : lines.slice(1);
  const sample = splitFields(body[0].text, dialect);
  const isNumber = sample.map((field) => Number.isFinite(dialect.number(field)));
  const at = isNumber.indexOf(true);
  const leading = isNumber.slice(at).findIndex((is) => !is);
  const run = leading === -1 ? isNumber.length - at : leading;
  const counts = body.every((line, k) => {
    const value = dialect.number(splitFields(line.text, dialect)[at]);
    const start = dialect.number(sample[at]);
    return Number.isInteger(value) && value - start === k;
  });
  const skip = run >= 4 && counts && body.length > 2 ? at + 1 : at;
  if (at < 0 || run - (skip - at) < 3) {
    throw new InputFault(
      { file: source, place: `line ${body[0].number}` },
      `no east, north and height among the columns of "${body[0].text.slice(0, 60)}"`,
      'name the columns in order, for example: id east north height code',
    );
  }
  const order: Column[] = Array.from({ length: Math.max(width, sample.length) }, () => 'other');
  order[skip] = 'x';
  order[skip + 1] = 'y';
  order[skip + 2] = 'z';
  const taken = `columns ${skip + 1}, ${skip + 2} and ${skip + 3} are taken as east, north and height`;
  const plain = run === 3 && at === 0;
  const guess =
    header !== null
      ? `the first line names no east, north and height: ${taken}`
      : plain
        ? null
        : `no column names: ${taken}`;
  return { order, header, note: guess };
};

/** Units in the names of the columns: "Easting (m), Northing (m), Height (ft)". */
const statedUnits = (lines: readonly Line[], dialect: Dialect, columns: Columns): Stated => {
  if (columns.header === null) return { crs: null, unit: null, verticalUnit: null };
  const names = splitFields(lines[0].text, dialect);
  const unitOf = (column: Column): LengthUnit | null => {
    const at = columns.order.indexOf(column);
    return at < 0 || names[at] === undefined ? null : unitOfName(names[at]);
  };
  const across = unitOf('x');
  return {
    crs: null,
    unit: across === unitOf('y') ? across : null,
    verticalUnit: unitOf('z'),
  };
};

/**
 * Points, one a line, in any delimiter. A header line names the columns, or the asker names them in
 * order, or three numbers a line are east, north, height. Lines that begin with # or // are comments.
 *
 * @throws InputFault with the line number at the first line that is not a point.
 */
export const readPointsText: FileReader = async (bytes: ByteSource, context) => {
  const { source, columns: asked } = context.options;
  let settled: { dialect: Dialect; columns: Columns } | null = null;
  let take: ReadPoint | null = null;
  const waiting: Line[] = [];
  const breaklines = new Map<string, [number, number, number][]>();
  const notes: string[] = [];
  let at = { x: 0, y: 0, z: 0, line: -1 };

  const settle = (): void => {
    if (waiting.length === 0) {
      throw new InputFault({ file: source }, 'the file holds no points', 'one point a line');
    }
    const dialect = dialectOf(
      waiting.map((line) => line.text),
      source,
      waiting[0].number,
    );
    const columns = settleColumns(waiting, dialect, asked ?? null, source);
    if (columns.note !== null) notes.push(columns.note);
    settled = { dialect, columns };
    at = {
      x: columns.order.indexOf('x'),
      y: columns.order.indexOf('y'),
      z: columns.order.indexOf('z'),
      line: columns.order.indexOf('line'),
    };
    take = context.begin(statedUnits(waiting, dialect, columns));
  };

  const point = (line: Line): void => {
    const { dialect, columns } = settled!;
    if (line.number === columns.header) return;
    const fields = splitFields(line.text, dialect);
    const x = dialect.number(fields[at.x]);
    const y = dialect.number(fields[at.y]);
    const z = dialect.number(fields[at.z]);
    if (!(Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z))) {
      const wrong = [at.x, at.y, at.z].find((k) => !Number.isFinite(dialect.number(fields[k])))!;
      throw new InputFault(
        { file: source, place: `line ${line.number}` },
        fields[wrong] === undefined
          ? `column ${wrong + 1} is missing`
          : `"${fields[wrong].slice(0, 30)}" in column ${wrong + 1} is not a number`,
        'each line is one point with east, north and height',
      );
    }
    const placed = take!(x, y, z, () => `line ${line.number}`);
    const name = at.line < 0 ? '' : (fields[at.line] ?? '').trim();
    if (name !== '' && placed !== null) {
      const string = breaklines.get(name);
      if (string === undefined) breaklines.set(name, [placed]);
      else string.push(placed);
    }
  };

  for await (const lines of linesOf(bytes, source)) {
    for (const line of lines) {
      if (isComment(line.text)) continue;
      if (settled !== null) {
        point(line);
        continue;
      }
      waiting.push(line);
      if (waiting.length >= LOOK) {
        settle();
        for (const held of waiting) point(held);
      }
    }
  }
  if (settled === null) {
    settle();
    for (const held of waiting) point(held);
  }
  return {
    kind: 'points',
    cellSize: null,
    breaklines: [...breaklines.values()].filter((string) => string.length > 1),
    notes,
  };
};
