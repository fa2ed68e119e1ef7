import { basename, join, resolve } from 'node:path';
import type { CommandModule } from 'yargs';
import type { Course } from '../course/course.js';
import { loadCourse } from '../course/load-course.js';
import { InputFault } from '../fault.js';
import type { BookContent } from '../page/book-content.js';
import { composeBook } from '../page/book-pages.js';
import type { Page } from '../page/marks.js';
import { type Fonts, measureWith, openFonts } from '../print/fonts.js';
import type { Layout } from '../print/layout.js';
import { writePdf } from '../print/pdf.js';
import { writeSheets } from '../print/sheet-pdf.js';
import type { UnitSystem } from '../units.js';
import { loadLayout, ownLayouts } from './layout-file.js';
import { printJson, say, startProgress } from './output.js';
import { type PreparedGreen, prepareGreen } from './prepare-green.js';
import { sweep, writeBeside } from './write-beside.js';

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

/** Reads, fits and solves every green of the course that has a survey. */
export const prepareCourse = async (course: Course, layout: Layout): Promise<PreparedGreen[]> => {
  const holes = course.holes.filter((hole) => hole.green !== null);
  if (holes.length === 0) {
    throw new InputFault(
      { file: course.file, place: 'holes' },
      'no hole names a survey',
      'give at least one',
    );
  }
  const progress = startProgress(holes.length);
  const prepared: PreparedGreen[] = [];
  try {
    for (const hole of holes) {
      progress.step(`green ${hole.id}, ${hole.name}`);
      prepared.push(await prepareGreen(course, hole, layout));
    }
  } finally {
    progress.done();
  }
  return prepared;
};

const contentOf = (
  course: Course,
  layout: Layout,
  units: UnitSystem,
  greens: readonly PreparedGreen[],
): BookContent => ({
  title: course.title,
  setting: course.setting,
  use: layout.use,
  units,
  stimp: course.stimp,
  past: layout.tables.past,
  greens: greens.map((green) => green.content),
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
  const greens = await prepareCourse(course, layout);
  const fonts = openFonts();
  const pages = composeBook(
    contentOf(course, layout, args.units, greens),
    layout,
    measureWith(fonts),
  );
  const folder = join(args.out, basename(resolve(course.folder)));
  const products = await makeProducts(layout.name, pages, layout, fonts, course.title);
  // Nothing is written before everything is made: a fault above leaves the old book as it was.
  sweep(folder);
  for (const product of products) writeBeside(join(folder, product.file), product.bytes);
  if (args.json) {
    printJson({
      course: course.title,
      layout: layout.name,
      pages: pages.map(({ id, title, label }) => ({ id, title, label })),
      greens: greens.map(({ content, report }) => ({
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
