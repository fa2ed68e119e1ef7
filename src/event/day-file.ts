import { InputFault } from '../fault.js';

/** One line of a file of hole locations: which hole, which day, paces on and in. */
export interface DayEntry {
  readonly hole: string;
  readonly day: number;
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
  /** Line of the file, from 1. */
  readonly line: number;
}

const COLUMNS = ['hole', 'day', 'on', 'in', 'side'] as const;
type Column = (typeof COLUMNS)[number];

const HEADER = COLUMNS.join(',');

const SIDES: Readonly<Record<string, 'left' | 'right'>> = {
  left: 'left',
  l: 'left',
  right: 'right',
  r: 'right',
};

const LAST_DAY = 99;

/** The cells of a line; a semicolon or a tab separates them when the header has one. */
const cellsOf = (line: string, separator: string): string[] =>
  line.split(separator).map((cell) =>
    cell
      .trim()
      .replace(/^"(.*)"$/, '$1')
      .trim(),
  );

const separatorOf = (header: string): string =>
  header.includes(';') ? ';' : header.includes('\t') ? '\t' : ',';

/** Paces as written: 12, 12.5 or 12½; with semicolons also 12,5. */
const pacesOf = (cell: string): number => {
  const plain = cell.replace(/½$/, '.5').replace(',', '.');
  return /^-?(\d+(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : Number.NaN;
};

/**
 * Reads the hole locations of several days: a CSV with the columns hole, day, on, in and side (left or
 * right) in any order, paces for `on` and `in`. Empty lines and lines that begin with # are skipped.
 *
 * @throws InputFault with the line, for an unknown or missing column, a value that is none, or a hole
 * that has two locations on one day.
 */
export const readDayFile = (text: string, file: string): DayEntry[] => {
  const fault = (line: number, problem: string, cure: string): InputFault =>
    new InputFault({ file, place: `line ${line}` }, problem, cure);
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const entries: DayEntry[] = [];
  const firstLine = new Map<string, number>();
  let columns: readonly Column[] | null = null;
  let separator = ',';
  lines.forEach((content, index) => {
    const line = index + 1;
    if (content.trim() === '' || content.trimStart().startsWith('#')) return;
    if (columns === null) {
      separator = separatorOf(content);
      columns = headerOf(cellsOf(content.toLowerCase(), separator), (problem) =>
        fault(line, problem, `the first line names the columns: ${HEADER}`),
      );
      return;
    }
    const cells = cellsOf(content, separator);
    if (cells.length !== columns.length) {
      throw fault(
        line,
        `${cells.length} values for ${columns.length} columns`,
        `each line gives ${columns.join(separator)}`,
      );
    }
    const cellOf = (column: Column): string => cells[columns!.indexOf(column)];
    const paces = (column: 'on' | 'in', words: string): number => {
      const value = pacesOf(cellOf(column));
      if (value >= 0 && value < 200) return value;
      throw fault(line, `"${cellOf(column)}" in column "${column}" is no number of paces`, words);
    };
    const hole = cellOf('hole').replace(/^0+(?=\d)/, '');
    if (hole === '') throw fault(line, 'the hole is missing', 'give its number');
    const day = Number(cellOf('day'));
    if (!(Number.isInteger(day) && day >= 1 && day <= LAST_DAY)) {
      throw fault(line, `"${cellOf('day')}" is no day`, `days are numbered from 1 to ${LAST_DAY}`);
    }
    const side = SIDES[cellOf('side').toLowerCase()];
    if (side === undefined) {
      throw fault(line, `"${cellOf('side')}" is no side`, 'write left or right');
    }
    const key = `${hole} ${day}`;
    const first = firstLine.get(key);
    if (first !== undefined) {
      throw fault(
        line,
        `hole ${hole} already has a location on day ${day}, in line ${first}`,
        'a hole has one location a day',
      );
    }
    firstLine.set(key, line);
    entries.push({
      hole,
      day,
      on: paces('on', 'paces on from the front edge, such as 12 or 12.5'),
      in: paces('in', 'paces in from the side, such as 5 or 5.5'),
      side,
      line,
    });
  });
  if (columns === null) {
    throw new InputFault({ file }, 'the file is empty', `its first line is ${HEADER}`);
  }
  return entries;
};

const headerOf = (cells: readonly string[], fault: (problem: string) => InputFault): Column[] => {
  const columns = cells.map((cell): Column => {
    const column = COLUMNS.find((one) => one === cell);
    if (column === undefined) throw fault(`unknown column "${cell}"`);
    return column;
  });
  for (const column of COLUMNS) {
    const count = columns.filter((one) => one === column).length;
    if (count === 0) throw fault(`the column "${column}" is missing`);
    if (count > 1) throw fault(`the column "${column}" stands twice`);
  }
  return columns;
};

/** The entries as such a file, by day and in the order given. */
export const writeDayFile = (entries: readonly Omit<DayEntry, 'line'>[]): string =>
  [HEADER, ...entries.map((e) => [e.hole, e.day, e.on, e.in, e.side].join(',')), ''].join('\n');
