import { faultsAt, InputFault, quoted } from '../fault.js';
import { INPUT_LIMITS } from '../input-limits.js';
import { kindOfFile } from '../named-file.js';
import { cellsOf, refuseOpenQuote, separatorOf } from '../table-cells.js';
import { readTextFile } from '../user-text.js';

/** What a run says of a book beside its course. */
export interface RunAsked {
  readonly edition?: string | undefined;
  readonly buyer?: string | undefined;
  /** The day that it is made, as it is asked for. */
  readonly date?: string | undefined;
}

/** The same, checked; `date` is a moment of ISO 8601, in seconds, and `made` its day. Left out is what is not said. */
export interface RunWords {
  readonly edition?: string;
  readonly buyer?: string;
  readonly date?: string;
  readonly made?: string;
}

/** A line of words, as a course file would have to say it. */
const lineOf = (
  words: string,
  where: { readonly file?: string; readonly place: string },
): string => {
  const line = words.trim();
  if (line !== '' && line.length <= INPUT_LIMITS.runWord) return line;
  const problem = line === '' ? 'it is empty' : `${line.length} letters are no line`;
  throw new InputFault(where, problem, `give 1 to ${INPUT_LIMITS.runWord} letters`);
};

/** Seconds since 1970 of the last moment that a date has four digits for its year. */
const LAST_SECOND = 253_402_300_799;

const momentOf = (seconds: number): string =>
  `${new Date(seconds * 1000).toISOString().slice(0, 19)}Z`;

const dateOf = (date: string): string => {
  const moment = /^\d{4}-\d\d-\d\d$/.test(date) ? `${date}T00:00:00Z` : date;
  const seconds = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/.test(moment)
    ? Date.parse(moment) / 1000
    : Number.NaN;
  // A day that its month does not have is another when it is written back.
  if (Number.isFinite(seconds) && momentOf(seconds) === moment) return moment;
  throw new InputFault(
    { place: '--date' },
    `${quoted(date)} is no date`,
    'write 2027-05-03, or 2027-05-03T09:30:00Z',
  );
};

/** The moment that SOURCE_DATE_EPOCH names (its specification: whole seconds since 1970, UTC); undefined where it is not set. */
const dateOfEnvironment = (seconds: string | undefined): string | undefined => {
  if (seconds === undefined || seconds === '') return undefined;
  if (/^\d{1,12}$/.test(seconds) && Number(seconds) <= LAST_SECOND)
    return momentOf(Number(seconds));
  throw new InputFault(
    { place: 'SOURCE_DATE_EPOCH' },
    `${quoted(seconds)} is no moment`,
    'set it to whole seconds since 1970, or not at all',
  );
};

const isMoment = (date: string): boolean => {
  try {
    return dateOf(date) !== '';
  } catch {
    return false;
  }
};

/**
 * When files are dated that are made now: by SOURCE_DATE_EPOCH, or before it by the day that they are for, where that is
 * written as a date; undefined for nothing.
 */
export const fileDate = (
  day?: string,
  environment: string | undefined = process.env.SOURCE_DATE_EPOCH,
): string | undefined =>
  day !== undefined && isMoment(day) ? dateOf(day) : dateOfEnvironment(environment);

/**
 * What the command line says of a book. Without a date, and without SOURCE_DATE_EPOCH, a book is dated by nothing, so that
 * the same input gives the same bytes on every day.
 */
export const runWords = (
  { edition, buyer, date }: RunAsked,
  environment: string | undefined = process.env.SOURCE_DATE_EPOCH,
): RunWords => {
  const moment = date === undefined ? dateOfEnvironment(environment) : dateOf(date);
  return {
    ...(edition === undefined ? {} : { edition: lineOf(edition, { place: '--edition' }) }),
    ...(buyer === undefined ? {} : { buyer: lineOf(buyer, { place: '--buyer' }) }),
    ...(moment === undefined ? {} : { date: moment, made: moment.slice(0, 10) }),
  };
};

/**
 * The buyers of a table (CSV) with a column "buyer", in its order; `refuse` throws for what a cover cannot show.
 *
 * @throws InputFault with file and line.
 */
export const readBuyers = (file: string, refuse: (buyer: string) => void = () => {}): string[] => {
  if (kindOfFile(file) !== 'a file') {
    throw new InputFault({ file }, 'there is no such table', 'name a CSV file with a column buyer');
  }
  const lines = readTextFile(file).split(/\r?\n/);
  const separator = separatorOf(lines[0]);
  const columns = cellsOf(lines[0], separator).map((one) => one.toLowerCase());
  const column = columns.indexOf('buyer');
  if (column < 0) {
    throw new InputFault({ file, place: 'line 1' }, 'no column "buyer"', 'head one of them so');
  }
  if (columns.lastIndexOf('buyer') !== column) {
    throw new InputFault({ file, place: 'line 1' }, 'column "buyer" stands twice');
  }
  const buyers = lines.flatMap((line, i) => {
    if (i === 0 || line.trim() === '') return [];
    const where = { file, place: `line ${i + 1}` };
    const cells = cellsOf(line, separator);
    faultsAt(where, () => cells.forEach(refuseOpenQuote));
    if (cells.length > columns.length) {
      throw new InputFault(
        where,
        `${cells.length} cells, under ${columns.length} columns`,
        'write a name that holds a separator in quotes: "Doe, Jo"',
      );
    }
    const buyer = lineOf(cells[column] ?? '', where);
    faultsAt(where, () => {
      refuse(buyer);
    });
    return [buyer];
  });
  if (buyers.length === 0 || buyers.length > INPUT_LIMITS.buyers) {
    throw new InputFault(
      { file },
      `it names ${buyers.length} buyers`,
      `a run makes covers for 1 to ${INPUT_LIMITS.buyers}`,
    );
  }
  return buyers;
};
