import { join } from 'node:path';
import { languageOf } from '../book/book-language.js';
import type { Cache } from '../book/cache.js';
import { openCourseCache } from '../book/course-cache.js';
import { courseMarks } from '../book/course-marks.js';
import { readEarlierEdition, refuseOtherCourse } from '../book/earlier-edition.js';
import type { EarlyOptions, UnsolvedBook } from '../book/early-check.js';
import type { RefusedPages } from '../book/green-job.js';
import { keptBook, keyOfBook, type MadeBook } from '../book/kept-book.js';
import { rememberIn } from '../book/kept-course.js';
import { keepShapes, recallShapes } from '../book/kept-shapes.js';
import { facesDigest, openFontsOf } from '../book/layout-faces.js';
import {
  loadNotes,
  requireNamesSet,
  requireNotesFit,
  requireWordsSet,
} from '../book/load-notes.js';
import { loadLogo } from '../book/logo/load-logo.js';
import { requireOwnFolder } from '../book/made-sets.js';
import { namedIn } from '../book/named-holes.js';
import { plainJson } from '../book/plain-json.js';
import { type ComparedPutt, comparePlayed } from '../book/played-putts.js';
import {
  type GreenOfBook,
  greensOfBook,
  type OnProgress,
  prepareGreens,
  wantedInShort,
} from '../book/prepare-green.js';
import { GREENS_IN_MEMORY } from '../book/shelf.js';
import type { Course } from '../course/course.js';
import { madeFor } from '../course/imprint.js';
import { loadCourse } from '../course/load-course.js';
import { withMeasured } from '../event/notes-file.js';
import { faultsAt, InputFault } from '../fault.js';
import { requireBound } from '../layout/binding.js';
import { requireFlatWithin } from '../layout/flat-sheet.js';
import type { Layout } from '../layout/layout.js';
import { loadLayout } from '../layout/layout-file.js';
import { othersTurn } from '../others-turn.js';
import { unshownOfImprint } from '../page/front/unshown-imprint.js';
import { requireSpeedsFit } from '../page/putts/speeds-fit.js';
import { type Fonts, measureWith } from '../print/fonts.js';
import { loadRasteriser } from '../print/raster.js';
import type { UnitSystem } from '../units.js';
import { type RunWords, readBuyers, runWords } from './run-words.js';
import { toldFigures } from './told-ground.js';

/** What the command line says. */
export interface BookArguments {
  readonly course: readonly string[] | undefined;
  readonly list: string | undefined;
  readonly layout: string;
  readonly out: string;
  readonly use: BookAsked['use'];
  readonly edition?: string | undefined;
  readonly buyer?: string | undefined;
  readonly date?: string | undefined;
  /** A table (CSV) of buyers, for each of whom a cover is made. */
  readonly buyers?: string | undefined;
  readonly svg: boolean;
  readonly png: number | undefined;
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly since: string | undefined;
  readonly json: boolean;
}

/** The same of one course. */
export type OneBookArguments = Omit<BookArguments, 'course' | 'list'> & {
  readonly course: string;
};

/** A book that is asked for. */
export interface BookAsked {
  readonly course: string;
  readonly layout: string;
  /** The folder that its products go to lies in `out`, and the cache that courses share. */
  readonly out: string;
  readonly folder: string;
  readonly use: 'practice' | 'play' | 'committee' | undefined;
  /** Instead of what the course file says; left out where it holds. */
  readonly edition?: string | undefined;
  readonly buyer?: string | undefined;
  readonly date?: string | undefined;
  /** A table (CSV) of buyers, for each of whom a cover is made. */
  readonly buyers?: string | undefined;
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly svg: boolean;
  readonly png: number | undefined;
  /** A PDF or the manifest of an earlier edition, of which is told what has changed. */
  readonly since: string | undefined;
}

export interface BookTellers {
  readonly onProgress?: OnProgress;
  /** Lines that the user should know of, as they are found. */
  readonly tell: (line: string) => void;
  /** Threads for greens; as many as pay where it is left out. */
  readonly threads?: number;
  /** Greens that are kept in memory with their pages; as many as a course has where it is left out. */
  readonly inMemory?: number;
  /** What is kept of other runs, where it is open already. */
  readonly cache?: Cache | undefined;
}

/** A book that is made and not written yet. */
export interface BookOfCourse {
  readonly course: Course;
  readonly layout: Layout;
  readonly units: UnitSystem;
  readonly greens: readonly GreenOfBook[];
  readonly played: readonly ComparedPutt[];
  readonly made: MadeBook;
  readonly bound: ReturnType<typeof requireBound>;
  /** Under which the book is kept; null for not. */
  readonly key: string | null;
}

/** The layout in the units shown, made for another condition of use than its own where the user says so. */
export const layoutFor = (
  { layout, use, units }: Pick<BookAsked, 'layout' | 'use' | 'units'>,
  course?: UnitSystem,
): Layout => {
  const own = loadLayout(layout, { asked: units, course });
  return use === undefined ? own : { ...own, use };
};

/** Refuses a resolution that nothing is drawn at, and tells what is missing where pictures cannot be drawn. */
export const requirePng = async (png: number | undefined): Promise<void> => {
  if (png === undefined) return;
  if (!(png >= 36 && png <= 1200)) {
    throw new InputFault(
      { place: '--png' },
      `${png} is not a resolution to draw at`,
      'give 36 to 1200 pixels to an inch',
    );
  }
  await loadRasteriser();
};

/** For whom covers are made, where a table is named; refused where the layout has no cover of its own. */
const buyersAsked = (
  { buyers }: BookAsked,
  { name, cover }: Layout,
  fonts: Fonts,
): string[] | null => {
  if (buyers === undefined) return null;
  if (cover !== null) return readBuyers(buyers, (buyer) => requireWordsSet(buyer, fonts));
  throw new InputFault(
    { place: '--buyers' },
    `layout ${name} has no cover of its own to make one for each`,
    'take pocket-glued, or make whole books by --list with a column buyer',
  );
};

/** The notes of a course; refuses names that no face can set, speeds without room and notes longer than theirs. */
const fittingNotes = (
  bare: Course,
  layout: Layout,
  fonts: Fonts,
  said: RunWords,
): ReturnType<typeof loadNotes> => {
  const notes = loadNotes(bare, fonts);
  for (const option of ['edition', 'buyer'] as const) {
    faultsAt({ place: `--${option}` }, () => requireWordsSet(said[option] ?? '', fonts));
  }
  requireNamesSet(bare, fonts);
  requireSpeedsFit(layout);
  requireNotesFit(notes, bare, layout, measureWith(fonts));
  return notes;
};

/**
 * Refuses a folder with the products of another course, the book of another in the place of this one, and a folded sheet
 * of too few greens.
 */
const requirePlaceAndSheet = async (
  folder: string,
  layout: Layout,
  course: Course,
  cache: Cache,
): Promise<void> => {
  const drawn = course.holes.filter(({ green, outline }) => green !== null || outline !== null);
  requireFlatWithin(layout, drawn.length);
  const { name } = layout;
  const marks = courseMarks(course);
  requireOwnFolder(folder, marks);
  await refuseOtherCourse(join(folder, `${name}.pdf`), marks, cache);
};

/** A book but for its green speeds, whose figures hardly change what its pages need of room. */
const withoutSpeeds = ({ course, ...book }: UnsolvedBook): string =>
  plainJson({ ...book, course: { ...course, folder: '' } }, (key, value) =>
    key === 'stimp' ? null : value,
  );

/** Loaded where something is to be solved. */
const checkEarly = async (
  book: UnsolvedBook,
  { cache, ...options }: EarlyOptions & { readonly cache: Cache },
): Promise<RefusedPages> => {
  const [{ checkBeforeSolving }, { checkedEarly }] = await Promise.all([
    import('../book/early-check.js'),
    import('../book/passed-early.js'),
  ]);
  return checkedEarly(cache, withoutSpeeds(book), () => checkBeforeSolving(book, options));
};

const tellFindings = ({ findings, map }: Course, tell: (line: string) => void): void => {
  for (const { feature, problem, cure } of findings) {
    tell(`${map.file}, ${feature}: ${problem}; ${cure}`);
  }
};

/**
 * Makes the book of a course.
 *
 * @throws InputFault for what is wrong in the course, its surveys, the layout or the book itself.
 */
export const bookOfCourse = async (
  asked: BookAsked,
  { onProgress = () => {}, tell, threads, cache: open, inMemory = GREENS_IN_MEMORY }: BookTellers,
): Promise<BookOfCourse> => {
  const { svg, png, out } = asked;
  const said = runWords(asked);
  // A signal gets its turn between steps that take a second on a slow machine.
  const remember = rememberIn(open);
  const bare = madeFor(loadCourse(asked.course, { ...asked, remember }), said);
  await othersTurn();
  const layout = layoutFor(asked, bare.units);
  const since =
    asked.since === undefined
      ? null
      : await readEarlierEdition(asked.since, { folder: asked.folder, layout: layout.name });
  const cache = open ?? openCourseCache(out, asked.folder);
  await requirePlaceAndSheet(join(out, asked.folder), layout, bare, cache);
  const fonts = openFontsOf(layout);
  const faces = facesDigest(layout);
  recallShapes(cache, fonts, faces);
  const buyers = buyersAsked(asked, layout, fonts);
  await othersTurn();
  const notes = fittingNotes(bare, layout, fonts, said);
  await othersTurn();
  const logo = await loadLogo(bare);
  const { units, words, tag, told } = languageOf(bare, layout, fonts, asked.units);
  for (const line of [...told, ...unshownOfImprint(layout, bare.imprint)]) tell(line);
  const course = namedIn(withMeasured(bare, notes), { words });
  const holes = await toldFigures(cache, course, tell);
  // A map alone makes a book of holes; greens want their surveys.
  const surveyed = course.holes.some((hole) => hole.green !== null);
  const wanted = surveyed || holes.length === 0 ? wantedInShort(greensOfBook(course), notes) : [];
  const greens = await prepareGreens(course, wanted, layout, cache, {
    ...{ units, onProgress, inMemory },
    beforeSolving: () =>
      checkEarly(
        { course, layout, units, words, holes },
        { fonts, language: tag, room: cache.folder, cache },
      ),
    threads,
  });
  tellFindings(course, tell);
  const played = comparePlayed(notes, greens, layout.tables.past);
  const parts = {
    course,
    layout,
    units,
    language: tag,
    words,
    faces,
    greens,
    holes,
    notes,
    since,
    ...{ date: said.date ?? null, buyers, logo },
  };
  const make = async (): Promise<MadeBook> => {
    // Not loaded where the book is there already.
    const { makeAnew } = await import('../book/make-anew.js');
    const of = [asked.folder, layout.name];
    const pictures = { svg, png: png ?? null };
    return makeAnew(parts, { fonts, cache, of, played, pictures, threads, inMemory });
  };
  // Pictures of every page would fill the cache for little.
  const key = svg || png !== undefined ? null : keyOfBook(parts);
  const made = await (key === null ? make() : keptBook(cache, key, make));
  for (const line of made.shortened) tell(line);
  const bound = requireBound(made.pages.length, layout);
  keepShapes(cache, fonts, faces);
  return { course, layout, units, greens, played, made, bound, key };
};
