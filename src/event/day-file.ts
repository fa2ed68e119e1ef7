import { InputFault, quoted } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { cellsOf, separatorOf } from '../table-cells.js';
import { counted } from '../wording.js';
import {
  areNamedAsInWords,
  type DayColumn,
  dayHeader,
  HEADER,
  namesColumns,
} from './day-header.js';
import { pacesOfCell } from './day-length.js';
import {
  CENTRED_SIDE,
  type DayLine,
  isCentre,
  lineInWords,
  SIDE,
  sideOfWord,
} from './day-words.js';

/** One line of a file of hole locations: which hole, which day, paces on and in. */
export interface DayEntry extends DayLine {
  readonly day: number;
  /** Line of the file, from 1. */
  readonly line: number;
}

const WHOLE_SIDE = new RegExp(`^${SIDE}$`, 'i');
/** A figure with its side before or behind it. */
const WITH_SIDE = new RegExp(`^${SIDE}?\\s*(.*?)\\s*${SIDE}?$`, 'i');

const LAST_DAY = 99;
/** Paces that no green has. */
const MOST_PACES = 200;

type Fault = (problem: string, cure: string) => InputFault;

const dayOf = (cell: string, fault: Fault): number => {
  const day = Number(cell);
  if (cell !== '' && Number.isInteger(day) && day >= 1 && day <= LAST_DAY) return day;
  throw fault(`${quoted(cell)} is no day`, `days are numbered from 1 to ${LAST_DAY}`);
};

const paces = (cell: string, { name, unit }: DayColumn, fault: Fault): number => {
  const value = pacesOfCell(cell, unit);
  if (value < MOST_PACES) return value;
  const such = ['in', 'left', 'right'].includes(name)
    ? 'in from the side, such as 5 or 5.5'
    : 'on, such as 12 or 12.5';
  throw fault(
    `${quoted(cell)} in column ${quoted(name)} is no number of paces`,
    `paces ${such}; or 11m, 36ft`,
  );
};

/** How far in and from which side: "5" with a side of its own, or "5L", "left 5", "C" in one cell. */
const inAndSide = (
  column: DayColumn,
  cell: string,
  side: string | null,
  fault: Fault,
): Pick<DayLine, 'in' | 'side' | 'isCentred'> => {
  const isBlank = /^[-–—0]?$/.test(cell);
  if (isCentre(cell) ? !side : isBlank && side !== null && isCentre(side)) return CENTRED_SIDE;
  const together = WITH_SIDE.exec(cell);
  const written = (side ?? together?.[1] ?? together?.[3] ?? '').toLowerCase();
  if (!WHOLE_SIDE.test(written)) {
    throw fault(`${quoted(written)} is no side`, 'write left or right, or centre with no figure');
  }
  return {
    in: paces(side === null ? (together?.[2] ?? '') : cell, column, fault),
    side: sideOfWord(written),
  };
};

/** How far in, from the one of two columns that is filled. */
const inOfSides = (
  columns: readonly DayColumn[],
  cells: readonly string[],
  fault: Fault,
): Pick<DayLine, 'in' | 'side'> => {
  const filled = (['left', 'right'] as const).flatMap((side) => {
    const at = columns.findIndex(({ name }) => name === side);
    const cell = cells[at] ?? '';
    return cell === '' ? [] : [{ side, cell, column: columns[at] }];
  });
  const [one, other] = filled;
  if (one === undefined || other !== undefined) {
    throw fault(
      one === undefined ? 'neither left nor right is filled' : 'left and right are both filled',
      'give the paces from one side',
    );
  }
  return { in: paces(one.cell, one.column, fault), side: one.side };
};

/** A line of a table, by its header. */
const lineOfTable = (
  columns: readonly DayColumn[],
  cells: readonly string[],
  fault: Fault,
): DayLine => {
  const at = (name: DayColumn['name']): number => columns.findIndex((one) => one.name === name);
  const cellOf = (name: DayColumn['name']): string | null => cells[at(name)] ?? null;
  const hole = (cellOf('hole') ?? '').replace(/^0+(?=\d)/, '');
  if (hole === '') throw fault('the hole is missing', 'give its number');
  const front = cellOf('on');
  const back = cellOf('back');
  const fromBack = back !== null && back !== '' && (front === null || front === '');
  const tees = cellOf('tees');
  const depth = cellOf('depth');
  return {
    hole,
    on: paces((fromBack ? back : front) ?? '', columns[at(fromBack ? 'back' : 'on')], fault),
    ...(at('in') < 0
      ? inOfSides(columns, cells, fault)
      : inAndSide(columns[at('in')], cellOf('in') ?? '', cellOf('side'), fault)),
    ...(fromBack ? { fromBack } : {}),
    ...(tees === null || tees === '' ? {} : { tees }),
    ...(depth === null || depth === '' ? {} : { depth: paces(depth, columns[at('depth')], fault) }),
  };
};

/** Words over columns by which figures in words would mean something else: counts from the back, other units. */
const COLUMN_WORDS = /\b(back|rear|m|metres?|meters?|feet|ft|left|right)\b|\bin\b.*\bon\b/i;

/** Whether a line of a file is meant for the header of a table. */
const isHeader = (content: string): boolean => {
  const line = content.toLowerCase();
  return namesColumns(cellsOf(line, separatorOf(line)));
};

/**
 * Whether a line above the first one in words is a title: it begins with no number, and names no columns. Columns
 * set apart by spaces only are refused where they tell another meaning than words have.
 */
const isTitle = (content: string, day: number | undefined, fault: Fault): boolean => {
  if (NUMBERED.test(content)) return false;
  try {
    dayHeader(cellsOf(content.toLowerCase(), separatorOf(content)), day, fault);
    return false;
  } catch (error) {
    if (!(error instanceof InputFault)) throw error;
  }
  const cells = content.toLowerCase().split(/[,;|\t]/);
  const named = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const isOtherTable = named.length > 2 && !areNamedAsInWords(named);
  if (!isOtherTable && !COLUMN_WORDS.test(content)) return true;
  throw fault(
    `${quoted(content.trim())} may name columns, and the lines below do not tell them apart`,
    'put commas between the columns, or write each line as in: 7 4 from back 5 left',
  );
};

export interface DayFileOptions {
  /** Only this day is judged: lines of others are passed over unread, and a sheet may leave the day out. */
  readonly day?: number;
  /** Told the days that are passed over, where they can be read. */
  readonly onOtherDay?: (day: number) => void;
  /** Titles of a sheet in words, above, between and below its locations, are passed over, and this is told of each. */
  readonly onTitle?: (line: number, words: string) => void;
  /** Of lines typed or pasted: what looks like a table that is not set apart is taken for words. */
  readonly isPasted?: boolean;
}

const WRITE_AS = 'write as in: 7 12 on 5 left';

/** Words between or below the locations that cannot be meant for one: "Back 9", "In", "Issued by the Committee". */
const isNoLocation = (content: string): boolean =>
  !/\d/.test(content.replace(/^\s*(?:front|back)\s*(?:9|nine)\s*$/i, ''));

/** Lines that begin with a number, with or without "hole", are meant for a hole. */
const NUMBERED = /^\s*(?:hole\s*)?#?\s*\d/i;

/**
 * Reads hole locations: a CSV with the columns hole, day, on, in and side (left or right) in any order,
 * or, for one day, a sheet in words ("7  12 on  5 left", "7, 12, 5L", "7: 4 from back, 3 m from right").
 * Paces, or metres and feet where they are written. Empty lines and lines that begin with # are skipped.
 *
 * @throws InputFault with the line, for an unknown or missing column, a value that is none, or a hole
 * that has two locations on one day.
 */
export const readDayFile = (
  text: string,
  file: string,
  { day: wanted, onOtherDay = () => {}, onTitle = () => {}, isPasted = false }: DayFileOptions = {},
): DayEntry[] => {
  const entries: DayEntry[] = [];
  const firstLine = new Map<string, number>();
  let columns: readonly DayColumn[] | 'words' | null = null;
  let separator = ',';
  const read = (content: string, fault: Fault): Omit<DayEntry, 'line'> | null => {
    if (columns === null) {
      separator = separatorOf(content);
      if (wanted !== undefined && lineInWords(content) !== null) columns = 'words';
      else if (isPasted && !content.includes(separator)) {
        throw fault(`${quoted(content.trim())} is no hole location`, WRITE_AS);
      } else {
        columns = dayHeader(cellsOf(content.toLowerCase(), separator), wanted, fault);
        return null;
      }
    }
    if (columns === 'words') {
      const line = lineInWords(content);
      if (line !== null) return { ...line, day: wanted! };
      throw fault(`${quoted(content.trim())} is no hole location`, WRITE_AS);
    }
    const cells = cellsOf(content, separator);
    const dayAt = columns.findIndex(({ name }) => name === 'day');
    const other = Number(cells[dayAt]);
    if (wanted !== undefined && dayAt >= 0 && other !== wanted) {
      if (Number.isInteger(other)) onOtherDay(other);
      return null;
    }
    if (cells.length !== columns.length) {
      throw fault(
        `${counted(cells.length, 'value')} for ${counted(columns.length, 'column')}`,
        `each line gives ${columns.map(({ name }) => name).join(separator)}`,
      );
    }
    const day = dayAt < 0 ? wanted! : dayOf(cells[dayAt], fault);
    return { ...lineOfTable(columns, cells, fault), day };
  };
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const begins = wanted === undefined ? 0 : lines.findIndex((one) => lineInWords(one) !== null);
  lines.forEach((content, index) => {
    const line = index + 1;
    const fault: Fault = (problem, cure) =>
      new InputFault({ file, place: `line ${line}` }, problem, cure);
    const isRemark = /^\s*#/.test(content) && !(isPasted && /^\s*#\d/.test(content));
    if (content.trim() === '' || isRemark) return;
    if (content.length > INPUT_LIMITS.locationLine) {
      throw fault(`${content.length} characters`, 'a line names one hole location');
    }
    if (columns === 'words' && isNoLocation(content)) {
      onTitle(line, content.trim());
      return;
    }
    const isAbove = columns === null && index < begins;
    if (isAbove && (isPasted || !isHeader(content)) && isTitle(content, wanted, fault)) {
      onTitle(line, content.trim());
      return;
    }
    const entry = read(content, fault);
    if (entry === null) return;
    const key = `${entry.hole} ${entry.day}`;
    const first = firstLine.get(key);
    if (first !== undefined) {
      throw fault(
        `hole ${entry.hole} already has a location on day ${entry.day}, in line ${first}`,
        'a hole has one location a day',
      );
    }
    firstLine.set(key, line);
    entries.push({ ...entry, line });
  });
  if (columns === null) {
    throw isPasted
      ? new InputFault({ file }, 'there are none', `${WRITE_AS}, a line a hole`)
      : new InputFault({ file }, 'the file is empty', `its first line is ${HEADER}`);
  }
  return entries;
};

/** The entries as such a file, by day and in the order given. */
export const writeDayFile = (entries: readonly Omit<DayEntry, 'line'>[]): string =>
  [
    HEADER,
    ...entries.map((e) =>
      [e.hole, e.day, e.on, ...(e.isCentred === true ? ['', 'centre'] : [e.in, e.side])].join(','),
    ),
    '',
  ].join('\n');
