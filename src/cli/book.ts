import { basename, join, resolve } from 'node:path';
import type { CommandModule } from 'yargs';
import { approachFigures } from '../course/approach-figures.js';
import type { Course } from '../course/course.js';
import { readGround } from '../course/ground.js';
import { linesOfCourse } from '../course/hole-features.js';
import { courseFigures, type HoleFigures } from '../course/hole-figures.js';
import { loadCourse } from '../course/load-course.js';
import type { Notes } from '../event/notes-file.js';
import type { BookContent } from '../page/book-content.js';
import { composeBook } from '../page/book-pages.js';
import type { Page } from '../page/marks.js';
import { type Fonts, measureWith, openFonts } from '../print/fonts.js';
import type { Layout } from '../print/layout.js';
import { writePdf } from '../print/pdf.js';
import { writeSheets } from '../print/sheet-pdf.js';
import type { UnitSystem } from '../units.js';
import { loadLayout, ownLayouts } from './layout-file.js';
import { loadNotes } from './load-notes.js';
import { printJson, say } from './output.js';
import { type GreenOfBook, greensOfBook, openCourseCache, prepareGreens } from './prepare-green.js';
import { writeAll } from './write-beside.js';

interface BookArguments {
  readonly course: string;
  readonly layout: string;
  readonly out: string;
  readonly units: UnitSystem;
  readonly json: boolean;
}

interface Product {
  readonly file: string;
  readonly what: string;
  readonly bytes: Uint8Array;
}

const LANGUAGE = 'en';

const contentOf = (
  course: Course,
  layout: Layout,
  units: UnitSystem,
  greens: readonly GreenOfBook[],
  holes: readonly HoleFigures[],
  notes: Notes | undefined,
): BookContent => ({
  title: course.title,
  setting: course.setting,
  use: layout.use,
  units,
  stimp: course.stimp,
  past: layout.tables.past,
  greens: greens.map(({ content }) => {
    const hole = course.holes.find((one) => one.id === content.holeId);
    return hole === undefined
      ? content
      : { ...content, approach: approachFigures(course, hole, linesOfCourse(course.map)) };
  }),
  holes,
  ...(notes === undefined ? {} : { notes }),
});

const makeProducts = async (
  stem: string,
  pages: readonly Page[],
  layout: Layout,
  fonts: Fonts,
  title: string,
): Promise<Product[]> => {
  const words = { fonts, title, language: LANGUAGE };
  const products: Product[] = [
    {
      file: `${stem}.pdf`,
      what: 'the book, page by page, for a screen',
      bytes: await writePdf(pages, layout, { ...words, edition: 'screen' }),
    },
    {
      file: `${stem}-press.pdf`,
      what: 'the book for a press',
      bytes: await writePdf(pages, layout, { ...words, edition: 'press' }),
    },
  ];
  for (const plan of layout.sheets) {
    products.push({
      file: `${stem}-${plan.name}.pdf`,
      what: `sheets, ${plan.paper}, ${plan.scheme}, ${plan.up} up`,
      bytes: await writeSheets(pages, layout, plan, words),
    });
  }
  return products;
};

const run = async (args: BookArguments): Promise<void> => {
  const course = loadCourse(args.course);
  const layout = loadLayout(args.layout);
  const fonts = openFonts();
  const measure = measureWith(fonts);
  const notes = loadNotes(course, measure);
  const courseName = basename(resolve(course.folder));
  const cache = openCourseCache(args.out, courseName);
  const greens = await prepareGreens(course, greensOfBook(course), layout, cache);
  const holes = courseFigures(course, await readGround(course));
  const pages = composeBook(
    contentOf(course, layout, args.units, greens, holes, notes),
    layout,
    measure,
  );
  const folder = join(args.out, courseName);
  const products = await makeProducts(layout.name, pages, layout, fonts, course.title);
  // Nothing is written before everything is made: a fault above leaves the old book as it was.
  writeAll(folder, products);
  if (args.json) {
    printJson({
      course: course.title,
      layout: layout.name,
      pages: pages.map(({ id, title, label }) => ({ id, title, label })),
      greens: greens.map(({ content, fit: { report } }) => ({
        hole: content.holeId,
        name: content.name,
        points: report.pointsUsed,
        outliers: report.outliers.length,
        noise_m: report.sigma,
        locations: content.locations.map((location) => location.name),
      })),
      files: products.map(({ file, what, bytes }) => ({
        file: join(folder, file),
        what,
        bytes: bytes.length,
      })),
    });
    return;
  }
  for (const { file, what } of products) say(`${join(folder, file)}  ${what}`);
};

export const bookCommand: CommandModule<object, BookArguments> = {
  command: 'book <course>',
  describe: 'make the whole book of a course',
  builder: (yargs) =>
    yargs
      .positional('course', {
        type: 'string',
        demandOption: true,
        describe: 'course folder or course file',
      })
      .option('layout', {
        type: 'string',
        default: 'pocket',
        describe: `a layout file, or one of ${ownLayouts().join(', ')}`,
      })
      .option('out', {
        type: 'string',
        default: 'out',
        describe: 'folder for what is made',
      }) as never,
  handler: run,
};
