import { InputFault } from '../../fault.js';
import { METRES_PER } from '../crs/plane.js';
import type { ByteSource } from './byte-source.js';
import type { FileReader, ReadContext, ReadPoint } from './file-reader.js';
import { type Columns, isComment, settleColumns, unitsOfRow } from './points-columns.js';
import { type Dialect, dialectOf, namedDelimiter, splitFields } from './points-dialect.js';
import { type Line, linesOf } from './text-lines.js';
import { degreesOf, isNoDataValue, unpackedDegrees } from './text-number.js';

/** Lines looked at before the delimiter, the decimal mark and the columns are settled. */
const LOOK = 200;

/** No line of points is longer. */
const LONGEST = 10_000;

/** Lines passed over that are listed by their number. */
const LISTED = 4;

interface Passed {
  readonly what: string;
  count: number;
  readonly lines: number[];
}

/** Position, height and what else a line tells, in the file's own numbers; or why it is no point. */
type Read =
  | { readonly point: readonly [number, number, number] }
  | { readonly passed: string }
  | { readonly wrong: number };

const isBlank = (field: string | undefined): boolean =>
  field !== undefined && /^(?:|\*+|-+|n\/a|null|none)$/i.test(field);

const readLine = (fields: readonly string[], columns: Columns, dialect: Dialect): Read => {
  const { at, factor } = columns;
  const place = (k: number): number => {
    const field = fields[k];
    const number = dialect.number(field);
    if (!columns.angles) return number;
    if (columns.packed) return unpackedDegrees(number);
    return Number.isNaN(number) ? degreesOf(field ?? '') : number;
  };
  const x = place(at.x) * factor.x;
  const y = place(at.y) * factor.y;
  const z = dialect.number(fields[at.z]) * factor.z;
  if (Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z)) {
    return isNoDataValue(z) ? { passed: 'without a height' } : { point: [x, y, z] };
  }
  const sound = [x, y, z].filter(Number.isFinite).length;
  if (sound === 2 && isBlank(fields[at.z])) return { passed: 'without a height' };
  const header = columns.header;
  if (header !== null && fields.some((field, k) => field !== '' && field === header[k])) {
    return { passed: 'that repeat the names' };
  }
  if (unitsOfRow(fields) !== null) return { passed: 'of units' };
  if (sound === 0 || (sound === 1 && fields.length !== Math.max(header?.length ?? 0, 3))) {
    return { passed: 'that are no points' };
  }
  return {
    wrong: [at.x, at.y, at.z].find((_, k) => !Number.isFinite([x, y, z][k]))!,
  };
};

/** Seconds of a time of day, of a date with a time, or of a plain number; NaN when it is none of them. */
const secondsOf = (field: string | undefined, dialect: Dialect): number => {
  const number = dialect.number(field);
  if (Number.isFinite(number) || field === undefined || field.length > 40) return number;
  const clock = /(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d{1,6})?))?/.exec(field);
  if (clock === null) return Number.NaN;
  const day = /(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})/.exec(field);
  const days =
    day === null ? 0 : Date.UTC(Number(day[1]), Number(day[2]) - 1, Number(day[3])) / 1000;
  return days + Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number(clock[3] ?? 0);
};

const ordinal = (columns: Columns, k: number): string => {
  const name = columns.names[k];
  return columns.header === null || name === undefined || name === ''
    ? `column ${k + 1}`
    : `column ${k + 1} "${name.slice(0, 24)}"`;
};

const howOf = (columns: Columns): string => {
  const { at } = columns;
  const [east, north] = columns.angles ? ['longitude', 'latitude'] : ['east', 'north'];
  const parts = [
    `${ordinal(columns, at.x)} ${east}`,
    `${ordinal(columns, at.y)} ${north}`,
    `${ordinal(columns, at.z)} height`,
    ...(at.sigma < 0 ? [] : [`${ordinal(columns, at.sigma)} its standard deviation`]),
    ...(at.line < 0 ? [] : [`${ordinal(columns, at.line)} breakline`]),
  ];
  return `${parts.join(', ')} (${columns.whence})`;
};

/** The same columns with east and north exchanged. */
const exchanged = (columns: Columns): Columns => ({
  ...columns,
  at: { ...columns.at, x: columns.at.y, y: columns.at.x },
});

/** How much more often the one order must land on the green than the other. */
const CLEAR = 10;

const refuseOrder = (line: Line, columns: Columns, dialect: Dialect, source: string): never => {
  const { at } = columns;
  const fields = splitFields(line.text, dialect);
  const [a, b] = [at.x, at.y];
  const names = (north: number, east: number): string =>
    fields
      .map((_, k) =>
        k === north
          ? 'north'
          : k === east
            ? 'east'
            : k === at.z
              ? 'height'
              : k === 0
                ? 'id'
                : 'code',
      )
      .slice(0, Math.max(at.z + 1, Math.min(fields.length, at.z + 2)))
      .join(' ');
  throw new InputFault(
    { file: source, place: `line ${line.number}` },
    `columns ${a + 1} and ${b + 1} may be north and east, or east and north: nothing says which`,
    `write --columns "${names(a, b)}" or --columns "${names(b, a)}", or the key columns in the course file`,
  );
};

/** Settles an order that the file leaves open by where its points come to lie. */
const settleOrder = async (
  bytes: ByteSource,
  context: ReadContext,
  columns: Columns,
  dialect: Dialect,
  first: Line,
): Promise<Columns> => {
  if (!columns.ambiguous) return columns;
  const { source } = context.options;
  let straight = 0;
  let turned = 0;
  for await (const lines of linesOf(bytes, source)) {
    const places: [number, number][] = [];
    for (const line of lines) {
      if (line.number < columns.firstLine || isComment(line.text)) continue;
      const read = readLine(splitFields(line.text, dialect), columns, dialect);
      if ('point' in read) places.push([read.point[0], read.point[1]]);
    }
    const one = context.landing(columns.stated, places);
    if (one === null) return refuseOrder(first, columns, dialect, source);
    straight += one;
    turned += context.landing(
      columns.stated,
      places.map(([x, y]) => [y, x]),
    )!;
  }
  if (straight >= CLEAR * turned) return columns;
  if (turned >= CLEAR * straight) return exchanged(columns);
  return refuseOrder(first, columns, dialect, source);
};

/**
 * Points, one a line, in any delimiter. A header line names the columns, or the asker names them in order,
 * or the map settles them, or three numbers a line are east, north, height. What is no point is passed over
 * with a count.
 *
 * @throws InputFault with the line number at the first line that should be a point and is not, and when the
 * order of north and east is not to be told.
 */
export const readPointsText: FileReader = async (bytes, context) => {
  const { source, columns: asked } = context.options;
  let settled: { readonly dialect: Dialect; readonly columns: Columns } | null = null;
  let take: ReadPoint | null = null;
  let sigmaScale = 1;
  const waiting: Line[] = [];
  const breaklines = new Map<string, [number, number, number][]>();
  const sessions = new Map<string, number>();
  const passed = new Map<string, Passed>();
  let points = 0;
  let named: string | null = null;

  const passOver = (what: string, line: Line): void => {
    const one = passed.get(what) ?? { what, count: 0, lines: [] };
    one.count += 1;
    if (one.lines.length < LISTED) one.lines.push(line.number);
    passed.set(what, one);
  };

  const settle = async (): Promise<void> => {
    const first = waiting.find(({ text }) => !isComment(text)) ?? waiting[0];
    if (first === undefined) {
      throw new InputFault({ file: source }, 'the file holds no points', 'one point a line');
    }
    const texts = waiting.filter(({ text }) => !isComment(text)).map(({ text }) => text);
    const dialect = dialectOf(
      texts.length === 0 ? [first.text] : texts,
      named,
      source,
      first.number,
    );
    const open = settleColumns(waiting, dialect, asked ?? null, source);
    const line = waiting.find(({ number }) => number === open.firstLine)!;
    const columns = await settleOrder(bytes, context, open, dialect, line);
    settled = { dialect, columns };
    take = context.begin(columns.stated);
    const unit = context.options.verticalUnit ?? columns.stated.verticalUnit ?? columns.stated.unit;
    sigmaScale = columns.factor.sigma * (unit === null ? 1 : METRES_PER[unit]);
  };

  const detailOf = (fields: readonly string[], columns: Columns, dialect: Dialect) => {
    const { at } = columns;
    if (at.sigma < 0 && at.time < 0 && at.session < 0) return undefined;
    const sigma = at.sigma < 0 ? Number.NaN : dialect.number(fields[at.sigma]) * sigmaScale;
    const time = at.time < 0 ? Number.NaN : secondsOf(fields[at.time], dialect);
    const name = at.session < 0 ? '' : (fields[at.session] ?? '');
    if (name !== '' && !sessions.has(name)) sessions.set(name, sessions.size);
    return {
      ...(sigma > 0 && sigma < 10 ? { sigma } : {}),
      ...(Number.isFinite(time) ? { time } : {}),
      ...(at.session < 0 ? {} : { session: sessions.get(name) ?? 0 }),
    };
  };

  const point = (line: Line): void => {
    const { dialect, columns } = settled!;
    if (isComment(line.text) || line.number < columns.firstLine) {
      passOver(isComment(line.text) ? 'of comment' : 'before the points', line);
      return;
    }
    const fields = splitFields(line.text, dialect);
    const read = readLine(fields, columns, dialect);
    if ('passed' in read) {
      passOver(read.passed, line);
      return;
    }
    if ('wrong' in read) {
      const field = fields[read.wrong];
      throw new InputFault(
        { file: source, place: `line ${line.number}` },
        field === undefined
          ? `column ${read.wrong + 1} is missing`
          : `"${field.slice(0, 30)}" in column ${read.wrong + 1} is not a number`,
        'each line is one point with east, north and height',
      );
    }
    points += 1;
    const placed = take!(
      ...read.point,
      () => `line ${line.number}`,
      detailOf(fields, columns, dialect),
    );
    const name = columns.at.line < 0 ? '' : (fields[columns.at.line] ?? '').trim();
    if (name !== '' && placed !== null) {
      const string = breaklines.get(name);
      if (string === undefined) breaklines.set(name, [placed]);
      else string.push(placed);
    }
  };

  let ended = false;
  for await (const lines of linesOf(bytes, source)) {
    for (const line of lines) {
      if (ended || line.text.trim() === '') continue;
      if (line.text.startsWith('\u001a')) {
        ended = true;
        continue;
      }
      if (line.text.length > LONGEST) {
        throw new InputFault(
          { file: source, place: `line ${line.number}` },
          `the line has ${line.text.length} characters`,
          `a points file is text, one point a line of at most ${LONGEST}`,
        );
      }
      const text = line.text.endsWith('\u001a') ? line.text.slice(0, -1) : line.text;
      if (line.number === 1 && named === null) {
        named = namedDelimiter(text);
        if (named !== null) continue;
      }
      const one = text === line.text ? line : { number: line.number, text };
      if (settled !== null) {
        point(one);
        continue;
      }
      waiting.push(one);
      if (waiting.length >= LOOK) {
        await settle();
        for (const held of waiting) point(held);
      }
    }
  }
  if (settled === null) {
    await settle();
    for (const held of waiting) point(held);
  }
  const { columns } = settled as unknown as { readonly columns: Columns };
  const none = passed.get('that are no points');
  if (none !== undefined && none.count > points) {
    throw new InputFault(
      { file: source, place: `line ${none.lines[0]}` },
      `${none.count} lines are no points, and ${points} are`,
      'each line is one point with east, north and height',
    );
  }
  return {
    kind: 'points',
    cellSize: null,
    breaklines: [...breaklines.values()].filter((string) => string.length > 1),
    notes: [...columns.notes, ...passedWords([...passed.values()])],
    how: howOf(columns),
    unitWhence: columns.unitWhence,
  };
};

/** One sentence of all that was passed over; a header alone is not worth one. */
const passedWords = (passed: readonly Passed[]): string[] => {
  const told = passed.filter(({ what, count }) => what !== 'before the points' || count > 1);
  if (told.length === 0) return [];
  const parts = told.map(
    ({ what, count, lines }) =>
      `${count} ${count === 1 ? 'line' : 'lines'} ${what} (line ${lines.join(', ')}${count > lines.length ? ', ...' : ''})`,
  );
  return [`passed over: ${parts.join('; ')}`];
};
