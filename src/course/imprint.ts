import { readTextFile } from '../user-text.js';
import { bookNumber } from './book-number.js';
import type { Course, Hole, Imprint } from './course.js';
import {
  type CourseFile,
  type FaultAt,
  type ImprintEntry,
  readImprintFile,
} from './course-file.js';
import type { NamedFileCheck } from './course-files.js';

/** What all surveys say of when they were made; null where one says otherwise or nothing. */
const surveyedAll = (holes: readonly Hole[]): string | null => {
  const told = holes.flatMap(({ green }) => (green === null ? [] : [green.survey.surveyed]));
  return new Set(told).size === 1 ? told[0] : null;
};

interface FoundEntry {
  readonly entry: ImprintEntry;
  readonly fault: FaultAt;
}

const entryOf = (value: CourseFile, named: NamedFileCheck, fault: FaultAt): FoundEntry => {
  const { imprint = {} } = value;
  if (typeof imprint !== 'string') {
    return {
      entry: imprint,
      fault: (path, problem, cure) => fault(['imprint', ...path], problem, cure),
    };
  }
  const file = named(imprint, ['imprint'], fault);
  const read = readImprintFile(readTextFile(file), file);
  return { entry: read.value, fault: read.fault };
};

/** Millimetres on paper, where the course file does not say. */
const LOGO_WIDTH = 24;

const logoOf = ({ logo }: ImprintEntry, named: NamedFileCheck, fault: FaultAt): Imprint['logo'] => {
  if (logo === undefined) return null;
  const { file, width = LOGO_WIDTH } = typeof logo === 'string' ? { file: logo } : logo;
  named(file, ['logo'], fault);
  return { file, width };
};

/**
 * What the book says of itself: the keys of the course file, and of the file that it may name.
 *
 * @throws InputFault for an ISBN whose check digit is wrong, and for an add-on to no ISBN.
 */
export const imprintOf = (
  value: CourseFile,
  holes: readonly Hole[],
  named: NamedFileCheck,
  faultAt: FaultAt,
): Imprint => {
  const { entry, fault } = entryOf(value, named, faultAt);
  const found = entry.isbn === undefined ? null : bookNumber(entry.isbn);
  if (found !== null && 'problem' in found) throw fault(['isbn'], found.problem, found.cure);
  if (entry.addOn !== undefined && found === null) {
    throw fault(['addOn'], 'the digits stand beside the bar code of an ISBN', 'give "isbn", too');
  }
  const { contact = [] } = entry;
  return {
    edition: value.edition ?? null,
    buyer: value.buyer ?? null,
    publisher: entry.publisher ?? null,
    copyright: entry.copyright ?? null,
    contact: typeof contact === 'string' ? [contact] : contact,
    surveyed: entry.surveyed ?? surveyedAll(holes),
    price: entry.price ?? null,
    isbn: found?.number ?? null,
    addOn: entry.addOn ?? null,
    made: null,
    logo: logoOf(entry, named, fault),
    about: entry.about ?? null,
  };
};

/** What a run says of a book. */
interface Run {
  readonly edition?: string | undefined;
  readonly buyer?: string | undefined;
  readonly made?: string | undefined;
}

/** A course whose edition or buyer a run names otherwise, or that is told the day. */
export const madeFor = (course: Course, { edition, buyer, made }: Run): Course => ({
  ...course,
  imprint: {
    ...course.imprint,
    ...(edition === undefined ? {} : { edition }),
    ...(buyer === undefined ? {} : { buyer }),
    ...(made === undefined ? {} : { made }),
  },
});
