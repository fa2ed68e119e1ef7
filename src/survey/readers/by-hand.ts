import { InputFault, quoted } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { ownValue } from '../../own-value.js';
import { separatorOf } from '../../table-cells.js';
import { degreesToRadians, METRES_PER_FOOT, METRES_PER_INCH } from '../../units.js';

/** One line of a rough survey made by hand: where it was measured on the green, and what. */
export interface HandReading {
  /** Paces on from the front edge and in from a side. */
  readonly on: number;
  readonly in: number;
  readonly side: 'left' | 'right';
  /** The fall there: grade as a part of one, and whither it falls in hours of a clock, 12 up the page. */
  readonly fall: { readonly grade: number; readonly clock: number } | null;
  /** Metres over any level. */
  readonly height: number | null;
  /** Line of the file, from 1. */
  readonly line: number;
}

const SIDES: Readonly<Record<string, 'left' | 'right'>> = {
  left: 'left',
  l: 'left',
  right: 'right',
  r: 'right',
};

/** Units of a height, by the end of the column's name: "height cm". */
const UNITS: Readonly<Record<string, number>> = {
  m: 1,
  cm: 0.01,
  mm: 0.001,
  in: METRES_PER_INCH,
  ft: METRES_PER_FOOT,
};

interface Columns {
  readonly on: number;
  readonly in: number;
  readonly side: number;
  readonly grade: number;
  readonly degrees: number;
  readonly clock: number;
  readonly height: number;
  readonly heightUnit: number;
}

/** What a column holds, where a number alone does not tell. */
const CURES: Readonly<Record<string, string>> = {
  clock: 'where it falls by a clock: 12 is up the page, 3 to the right, as 4.5 or 4:30',
  grade: 'per cent, as 2.5; what an inclinometer reads stands in a column "degrees"',
  degrees: 'as an inclinometer reads them, such as 1.5',
};

const cellsOf = (line: string, separator: string): string[] =>
  line
    .slice(0, SURVEY_LIMITS.lineByHand)
    .split(separator)
    .map((cell) => cell.trim().replace(/^"|"$/g, '').trim());

/** The columns of a header; null when it is not that of a survey by hand. */
const columnsOf = (header: string): Columns | null => {
  const cells = cellsOf(header.toLowerCase(), separatorOf(header));
  const at = (...names: string[]): number => cells.findIndex((cell) => names.includes(cell));
  const heightAt = cells.findIndex((cell) => /^height( (m|cm|mm|in|ft))?$/.test(cell));
  const columns = {
    on: at('on'),
    in: at('in'),
    side: at('side'),
    grade: at('grade', 'grade %'),
    degrees: at('degrees', 'grade degrees'),
    clock: at('clock', 'falls', 'direction'),
    height: heightAt,
    heightUnit: ownValue(UNITS, cells[heightAt]?.split(' ')[1] ?? 'm') ?? 1,
  };
  const isPaced = columns.on >= 0 && columns.in >= 0 && columns.side >= 0;
  const isFall = (columns.grade >= 0 || columns.degrees >= 0) && columns.clock >= 0;
  return isPaced && (isFall || columns.height >= 0) ? columns : null;
};

const isSaid = (line: string): boolean => line.trim() !== '' && !line.trimStart().startsWith('#');

/** Whether a text begins as a survey by hand: a header with on, in, side and grade, clock or height. */
export const isByHand = (text: string): boolean => {
  const header = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/, 40)
    .find(isSaid);
  return header !== undefined && columnsOf(header) !== null;
};

/** Numbers as written: 12, 12.5 or 12½; with semicolons also 12,5; hours also as a clock shows them, 4:30. */
const numberOf = (cell: string): number => {
  const [, hours, minutes] = /^(\d{1,2}):([0-5]\d)$/.exec(cell) ?? [];
  if (hours !== undefined) return Number(hours) + Number(minutes) / 60;
  const plain = cell
    .replace(/½$/, '.5')
    .replace(',', '.')
    .replace(/ ?[%°]$/, '');
  return cell.length <= 24 && /^-?(\d+(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : Number.NaN;
};

/**
 * Reads a rough survey by hand: a CSV with the columns on, in, side (paces on from the front edge and in from
 * a side), and grade (per cent; or degrees) with clock (where it falls, hours of a clock whose 12 is up the page), or
 * height (`height cm`, in, ft, mm, else metres). Lines that begin with # are skipped.
 *
 * @throws InputFault with the line.
 */
export const readByHand = (text: string, file: string): HandReading[] => {
  const fault = (line: number, problem: string, cure: string): InputFault =>
    new InputFault({ file, place: `line ${line}` }, problem, cure);
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const headerAt = lines.findIndex(isSaid);
  const columns = headerAt < 0 ? null : columnsOf(lines[headerAt]);
  if (columns === null) {
    throw fault(
      headerAt + 1,
      'no survey by hand',
      'its first line is on,in,side,grade,clock or on,in,side,height cm',
    );
  }
  const separator = separatorOf(lines[headerAt]);
  const readings: HandReading[] = [];
  for (const [index, content] of lines.entries()) {
    if (index <= headerAt || !isSaid(content)) continue;
    const line = index + 1;
    const cells = cellsOf(content, separator);
    const within = (column: number, what: string, least: number, most: number): number => {
      const value = numberOf(cells[column] ?? '');
      if (value >= least && value <= most) return value;
      throw fault(
        line,
        `${quoted(cells[column] ?? '', 20)} in column ${quoted(what)} is no number from ${least} to ${most}`,
        CURES[what] ?? 'such as 12 or 12.5',
      );
    };
    const gradeOf = (): number =>
      columns.grade < 0
        ? Math.tan(degreesToRadians(within(columns.degrees, 'degrees', 0, 20)))
        : within(columns.grade, 'grade', 0, 40) / 100;
    const side = ownValue(SIDES, (cells[columns.side] ?? '').toLowerCase());
    if (side === undefined) {
      throw fault(
        line,
        `${quoted(cells[columns.side] ?? '', 20)} is no side`,
        'write left or right',
      );
    }
    readings.push({
      on: within(columns.on, 'on', 0, 100),
      in: within(columns.in, 'in', 0, 100),
      side,
      fall:
        columns.clock < 0 || (columns.grade < 0 && columns.degrees < 0)
          ? null
          : { grade: gradeOf(), clock: within(columns.clock, 'clock', 0, 12) },
      height:
        columns.height < 0
          ? null
          : within(columns.height, 'height', -10_000, 10_000) * columns.heightUnit,
      line,
    });
  }
  return readings;
};
