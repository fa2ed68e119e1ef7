import { basename, join, resolve } from 'node:path';
import { contentOf } from '../book/course-book.js';
import { openCourseCache } from '../book/course-cache.js';
import { keptBook, keyOfBook, type MadeBook } from '../book/kept-book.js';
import { loadNotes, requireNotesFit } from '../book/load-notes.js';
import { type ComparedPutt, comparedWords, comparePlayed } from '../book/played-putts.js';
import { type GreenOfBook, greensOfBook, prepareGreens } from '../book/prepare-green.js';
import { writeAll } from '../book/write-beside.js';
import { courseFigures } from '../course/course-figures.js';
import { loadCourse } from '../course/load-course.js';
import { withMeasured } from '../event/notes-file.js';
import { InputFault } from '../fault.js';
import { requireBound } from '../layout/binding.js';
import type { Layout } from '../layout/layout.js';
import { loadLayout } from '../layout/layout-file.js';
import { measureWith, openFonts } from '../print/fonts.js';
import { loadRasteriser } from '../print/raster.js';
import type { UnitSystem } from '../units.js';
import { madeFiles } from './made-files.js';
import { showProgress } from './output.js';
import { toldGround } from './told-ground.js';
import { sayWorths, worthJson } from './worth-words.js';

export interface BookArguments {
  readonly course: string;
  readonly layout: string;
  readonly out: string;
  readonly use: 'practice' | 'play' | 'committee' | undefined;
  readonly svg: boolean;
  readonly png: number | undefined;
  readonly units: UnitSystem;
  readonly outside: boolean;
  readonly json: boolean;
}

const LANGUAGE = 'en';

/** The layout, made for another condition of use than its own where the user says so. */
const layoutFor = ({ layout, use }: BookArguments): Layout => {
  const own = loadLayout(layout);
  return use === undefined ? own : { ...own, use };
};

const playedJson = ({
  holeId,
  played,
  stimp,
  past,
  solved,
  doubt,
  within,
}: ComparedPutt): object => ({
  hole: holeId,
  putt: played.words,
  date: played.date,
  stimp_m: stimp,
  past_m: past,
  held_aim_m: played.aim,
  solved_aim_m: solved,
  interval_m: solved === null || doubt === null ? null : [solved - doubt, solved + doubt],
  within,
});

const bindingJson = (
  { binding }: Layout,
  { sheets, thickness, creep, warning }: ReturnType<typeof requireBound>,
): object => ({
  method: binding.method,
  sheets,
  thickness_mm: thickness,
  creep_mm: creep,
  ...(warning === null ? {} : { warning }),
});

const greenJson = ({ content, fit: { report } }: GreenOfBook): object => ({
  hole: content.holeId,
  name: content.name,
  points: report.pointsUsed,
  outliers: report.outliers.length,
  noise_m: report.sigma,
  locations: content.locations.map((location) => location.name),
  ...worthJson(content.worth),
});

/** The files of the book, and the folders of pages with how many they hold. */
const sayFiles = (
  folder: string,
  products: MadeBook['products'],
  tell: (line: string) => void,
): void => {
  for (const { file, what } of products.filter((one) => !one.file.includes('/'))) {
    tell(`${join(folder, file)}  ${what}`);
  }
  const folders = new Set(products.flatMap(({ file }) => file.split('/').slice(0, -1)));
  for (const name of folders) {
    const count = products.filter(({ file }) => file.startsWith(`${name}/`)).length;
    tell(`${join(folder, name)}  ${count} pages`);
  }
};

/** A book that was made and written: what is printed of it as JSON, and under which key it is kept; null for not. */
export interface WrittenBook {
  readonly json: object;
  readonly key: string | null;
}

/** Makes and writes a book; `tell` gets each line for the reader. */
export const makeBook = async (
  args: BookArguments,
  tell: (line: string) => void,
): Promise<WrittenBook> => {
  if (args.png !== undefined && !(args.png >= 36 && args.png <= 1200)) {
    throw new InputFault(
      { place: '--png' },
      `${args.png} is not a resolution to draw at`,
      'give 36 to 1200 pixels to an inch',
    );
  }
  if (args.png !== undefined) await loadRasteriser();
  const bare = loadCourse(args.course, args);
  const layout = layoutFor(args);
  const fonts = openFonts();
  const notes = loadNotes(bare, fonts);
  requireNotesFit(notes, bare, layout, measureWith(fonts));
  const course = withMeasured(bare, notes);
  const courseName = basename(resolve(course.folder));
  const cache = openCourseCache(args.out, courseName);
  const holes = courseFigures(course, await toldGround(course, tell));
  // A map alone makes a book of holes; greens want their surveys.
  const surveyed = course.holes.some((hole) => hole.green !== null);
  const wanted = surveyed || holes.length === 0 ? greensOfBook(course) : [];
  const greens = await prepareGreens(course, wanted, layout, cache, {
    units: args.units,
    onProgress: showProgress,
  });
  for (const { feature, problem, cure } of course.findings) {
    tell(`${course.map.file}, ${feature}: ${problem}; ${cure}`);
  }
  const played = comparePlayed(notes, greens, layout.tables.past);
  const folder = join(args.out, courseName);
  const make = async (): Promise<MadeBook> => {
    // Not loaded where the book is there already.
    const [{ composeBook }, { makeProducts }] = await Promise.all([
      import('../page/book-pages.js'),
      import('../book/book-products.js'),
    ]);
    const content = contentOf(course, layout, args.units, greens, { holes, notes });
    const pages = composeBook(content, layout, measureWith(fonts));
    const products = await makeProducts(pages, layout, {
      fonts,
      title: course.title,
      language: LANGUAGE,
      svg: args.svg,
      png: args.png ?? null,
    });
    return { pages: pages.map(({ id, title, label }) => ({ id, title, label })), products };
  };
  const { units } = args;
  const parts = { course, layout, units, language: LANGUAGE, greens, holes, notes };
  // Pictures of every page would fill the cache for little.
  const isPlain = !args.svg && args.png === undefined;
  const key = isPlain ? keyOfBook(parts) : null;
  const { pages, products } = await (key === null ? make() : keptBook(cache, key, make));
  const bound = requireBound(pages.length, layout);
  // Nothing is written before everything is made: a fault above leaves the old book as it was.
  writeAll(folder, products);
  const json = {
    course: course.title,
    layout: layout.name,
    pages,
    binding: bindingJson(layout, bound),
    greens: greens.map(greenJson),
    ...(played.length === 0 ? {} : { putts_of_notes: played.map(playedJson) }),
    files: madeFiles(folder, products),
  };
  if (args.json) return { json, key };
  sayFiles(folder, products, tell);
  for (const one of played) {
    tell(`hole ${one.holeId}, ${one.played.words}: ${comparedWords(one, args.units)}`);
  }
  if (bound.warning !== null) tell(`binding: ${bound.warning}`);
  sayWorths(
    greens.map(({ content }) => content),
    tell,
  );
  return { json, key };
};
