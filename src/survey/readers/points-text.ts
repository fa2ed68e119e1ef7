import { InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { counted } from '../../wording.js';
import { METRES_PER } from '../crs/plane.js';
import type { ByteSource } from './byte-source.js';
import type { FileReader, ReadContext, ReadPoint } from './file-reader.js';
import type { PointDetail } from './point-store.js';
import { settleOrder } from './points-axes.js';
import { refuseChange } from './points-changes.js';
import { type Columns, settleColumns } from './points-columns.js';
import { type Dialect, dialectOf, namedDelimiter, splitFields } from './points-dialect.js';
import { isComment, withJoinedNames } from './points-header.js';
import { type LineRead, readLine, secondsOf } from './points-line.js';
import { type Line, linesOf } from './text-lines.js';

/** Lines looked at before the delimiter, the decimal mark and the columns are settled. */
const LOOK = 200;

/** Lines passed over that are listed by their number. */
const LISTED = 4;

interface Passed {
  readonly what: string;
  count: number;
  readonly lines: number[];
}

/** How the lines are taken, once that is settled. */
interface Settled {
  readonly dialect: Dialect;
  readonly columns: Columns;
  readonly take: ReadPoint;
  /** Metres per unit of the column of standard deviations. */
  readonly sigmaScale: number;
}

/** What the lines have told so far. */
interface Told {
  readonly breaklines: Map<string, [number, number, number][]>;
  readonly sessions: Map<string, number>;
  readonly passed: Map<string, Passed>;
  points: number;
}

const ordinal = (columns: Columns, k: number): string => {
  const name = columns.names[k];
  return columns.header === null || name === undefined || name === ''
    ? `column ${k + 1}`
    : `column ${k + 1} ${quoted(name, 24)}`;
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

const passOver = ({ passed }: Told, what: string, line: Line): void => {
  const one = passed.get(what) ?? { what, count: 0, lines: [] };
  one.count += 1;
  if (one.lines.length < LISTED) one.lines.push(line.number);
  passed.set(what, one);
};

/** Settles delimiter, decimal mark and columns from the first lines. */
const settle = async (
  bytes: ByteSource,
  context: ReadContext,
  waiting: readonly Line[],
  delimiter: string | null,
): Promise<Settled> => {
  const { source, columns: asked, verticalUnit } = context.options;
  const first = waiting.find(({ text }) => !isComment(text)) ?? waiting[0];
  if (first === undefined) {
    throw new InputFault({ file: source }, 'the file holds no points', 'one point a line');
  }
  const bare = waiting.filter(({ text }) => !isComment(text));
  const dialect = dialectOf(bare.length === 0 ? [first] : bare, delimiter, source);
  const open = settleColumns(withJoinedNames(waiting, dialect), dialect, asked ?? null, source);
  const line = waiting.find(({ number }) => number === open.firstLine)!;
  const columns = await settleOrder(bytes, context, open, dialect, line);
  const { stated, factor } = columns;
  const take = context.begin(stated);
  const unit = verticalUnit ?? stated.verticalUnit ?? stated.unit;
  const sigmaScale = factor.sigma * (unit === null ? 1 : METRES_PER[unit]);
  return { dialect, columns, take, sigmaScale };
};

/** What else a line tells of its point: its standard deviation, time and session. */
const detailOf = (
  fields: readonly string[],
  { columns, dialect, sigmaScale }: Settled,
  sessions: Map<string, number>,
): PointDetail | undefined => {
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

const badField = (
  line: Line,
  fields: readonly string[],
  wrong: number,
  source: string,
): InputFault => {
  const field = fields[wrong];
  return new InputFault(
    { file: source, place: `line ${line.number}` },
    field === undefined
      ? `column ${wrong + 1} is missing`
      : `${quoted(field, 30)} in column ${wrong + 1} is not a number`,
    'each line is one point with east, north and height',
  );
};

/** A line as it is to be taken: its fields and what they tell, or why it is passed over. */
const lineRead = (
  line: Line,
  { dialect, columns }: Settled,
): { readonly fields: readonly string[]; readonly read: LineRead } => {
  if (isComment(line.text)) return { fields: [], read: { passed: 'of comment' } };
  if (line.number < columns.firstLine) return { fields: [], read: { passed: 'before the points' } };
  const fields = splitFields(line.text, dialect);
  return { fields, read: readLine(fields, columns, dialect) };
};

/** Takes one line: a point, perhaps of a breakline, or what is passed over. */
const takeLine = (line: Line, settled: Settled, told: Told, source: string): void => {
  const { fields, read } = lineRead(line, settled);
  if ('passed' in read) {
    if (line.number > settled.columns.firstLine) refuseChange(line, settled, source);
    passOver(told, read.passed, line);
    return;
  }
  if ('wrong' in read) throw badField(line, fields, read.wrong, source);
  const { columns, take } = settled;
  told.points += 1;
  const detail = detailOf(fields, settled, told.sessions);
  const placed = take(...read.point, () => `line ${line.number}`, detail);
  const name = columns.at.line < 0 ? '' : (fields[columns.at.line] ?? '').trim();
  if (name === '' || placed === null) return;
  const string = told.breaklines.get(name);
  if (string === undefined) told.breaklines.set(name, [placed]);
  else string.push(placed);
};

/** The mark by which old systems end a text. */
const END_OF_TEXT = '\u001a';

/** The wide comma and semicolon of East Asia, which part fields like the others. */
const WIDE = /[\uff0c\uff1b]/;

/** The lines that hold something, to the end of the text. */
const textLines = async function* (bytes: ByteSource, source: string): AsyncGenerator<Line[]> {
  for await (const lines of linesOf(bytes, source)) {
    const kept: Line[] = [];
    for (const line of lines) {
      if (line.text.trim() === '') continue;
      if (line.text.startsWith(END_OF_TEXT)) {
        yield kept;
        return;
      }
      if (line.text.length > SURVEY_LIMITS.pointLine) {
        throw new InputFault(
          { file: source, place: `line ${line.number}` },
          `the line has ${line.text.length} characters`,
          `a points file is text, one point a line of at most ${SURVEY_LIMITS.pointLine}`,
        );
      }
      const text = line.text.endsWith(END_OF_TEXT) ? line.text.slice(0, -1) : line.text;
      kept.push(
        WIDE.test(text)
          ? { number: line.number, text: text.replace(/\uff0c/g, ',').replace(/\uff1b/g, ';') }
          : text === line.text
            ? line
            : { number: line.number, text },
      );
    }
    yield kept;
  }
};

/** Refuses a file of which most lines are no points. */
const checkShare = ({ passed, points }: Told, isNamed: boolean, source: string): void => {
  const among = passed.get('that are no points');
  // Without names a few numbers below much else may be anything.
  const before = isNamed ? undefined : passed.get('before the points');
  const none = before !== undefined && before.count > 3 && points < 3 ? before : among;
  if (none === undefined || none.count <= points) return;
  throw new InputFault(
    { file: source, place: `line ${none.lines[0]}` },
    `${counted(none.count, 'line is no point', 'lines are no points')}, and ${points === 1 ? '1 is' : `${points} are`}`,
    'each line is one point with east, north and height',
  );
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
  const { source } = context.options;
  const told: Told = { breaklines: new Map(), sessions: new Map(), passed: new Map(), points: 0 };
  let settled: Settled | null = null;
  let waiting: Line[] = [];
  let delimiter: string | null = null;
  for await (const lines of textLines(bytes, source)) {
    for (const line of lines) {
      if (line.number === 1) {
        delimiter = namedDelimiter(line.text);
        if (delimiter !== null) continue;
      }
      if (settled !== null) takeLine(line, settled, told, source);
      else if (waiting.push(line) >= LOOK) {
        settled = await settle(bytes, context, waiting, delimiter);
        for (const held of waiting) takeLine(held, settled, told, source);
        waiting = [];
      }
    }
  }
  if (settled === null) {
    settled = await settle(bytes, context, waiting, delimiter);
    for (const held of waiting) takeLine(held, settled, told, source);
  }
  const { columns } = settled;
  checkShare(told, columns.header !== null, source);
  return {
    kind: 'points',
    cellSize: null,
    breaklines: [...told.breaklines.values()].filter((string) => string.length > 1),
    notes: [...columns.notes, ...passedWords([...told.passed.values()])],
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
