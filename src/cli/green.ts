import { basename, join, resolve } from 'node:path';
import type { CommandModule } from 'yargs';
import { approachFigures } from '../course/approach-figures.js';
import type { Course, Hole } from '../course/course.js';
import { linesOfCourse } from '../course/hole-features.js';
import { loadCourse } from '../course/load-course.js';
import { InputFault } from '../fault.js';
import type { BookContent, GreenContent } from '../page/book-content.js';
import { composeGreenPage } from '../page/green-page.js';
import type { Page } from '../page/marks.js';
import { measureWith, openFonts } from '../print/fonts.js';
import type { Layout } from '../print/layout.js';
import { writePdf } from '../print/pdf.js';
import type { UnitSystem } from '../units.js';
import { COURSE, HOLE, layoutOption, madeFiles, OUT } from './common-options.js';
import { holeOf } from './course-days.js';
import { type GreenFigures, greenFigures, greenWords } from './green-figures.js';
import { greenGeoJson } from './green-geojson.js';
import { loadLayout } from './layout-file.js';
import { printJson, printText, say } from './output.js';
import { openCourseCache, prepareGreens } from './prepare-green.js';
import { writeAll } from './write-beside.js';

interface GreenArguments {
  readonly course: string;
  readonly hole: string;
  readonly layout: string;
  readonly out: string;
  readonly geojson: boolean;
  readonly units: UnitSystem;
  readonly json: boolean;
}

const siteOf = (course: Course, hole: Hole): NonNullable<Hole['green']> => {
  if (hole.green !== null) return hole.green;
  throw new InputFault(
    { file: course.file, place: `hole ${hole.id}` },
    'the hole names no survey',
    'give its green one by the key "survey"',
  );
};

const pageOf = (
  course: Course,
  layout: Layout,
  green: GreenContent,
  units: UnitSystem,
  measure: ReturnType<typeof measureWith>,
): Page => {
  const book: BookContent = {
    title: course.title,
    setting: course.setting,
    use: layout.use,
    units,
    stimp: course.stimp,
    past: layout.tables.past,
    greens: [green],
  };
  return composeGreenPage({ layout, measure, book, green, side: 'left', label: green.holeId });
};

const run = async (args: GreenArguments): Promise<void> => {
  const course = loadCourse(args.course);
  const hole = holeOf(course, args.hole);
  const site = siteOf(course, hole);
  const layout = loadLayout(args.layout);
  const courseName = basename(resolve(course.folder));
  const cache = openCourseCache(args.out, courseName);
  const wanted = { hole, locations: site.locations, stimp: site.stimp, regions: true };
  const [{ content, fit }] = await prepareGreens(course, [wanted], layout, cache);
  const approach = approachFigures(course, hole, linesOfCourse(course.map));
  const green = { ...content, approach };
  const figures: GreenFigures = {
    green,
    report: fit.report,
    putts: site.locations.map(({ name }, i) => ({ name, regions: (content.regions ?? [])[i] })),
  };
  const fonts = openFonts();
  const page = pageOf(course, layout, green, args.units, measureWith(fonts));
  const stem = `${layout.name}-green-${encodeURIComponent(hole.id)}`;
  const products = [
    {
      file: `${stem}.pdf`,
      what: 'the page of the green',
      bytes: await writePdf([page], layout, {
        fonts,
        title: `${course.title}: ${page.title}`,
        language: 'en',
        edition: 'screen',
      }),
    },
  ];
  if (args.geojson) {
    const collection = greenGeoJson(site, green, figures.putts);
    products.push({
      file: `green-${encodeURIComponent(hole.id)}.geojson`,
      what: 'the reading as RFC 7946 GeoJSON',
      bytes: Buffer.from(`${JSON.stringify(collection)}\n`, 'utf8'),
    });
  }
  const folder = join(args.out, courseName);
  // Nothing is written before everything is made.
  writeAll(folder, products);
  if (args.json) {
    printJson({
      course: course.title,
      ...greenFigures(figures),
      files: madeFiles(folder, products),
    });
    return;
  }
  printText(greenWords(figures, args.units));
  for (const { file, what } of products) say(`${join(folder, file)}  ${what}`);
};

export const greenCommand: CommandModule<object, GreenArguments> = {
  command: 'green <course> <hole>',
  describe: 'one green: how its ground falls and drains, as figures, as a page, as GeoJSON',
  builder: (yargs) =>
    yargs
      .positional('course', COURSE)
      .positional('hole', HOLE)
      .option('layout', layoutOption())
      .option('geojson', {
        type: 'boolean',
        default: false,
        describe: 'writes the reading in longitude and latitude, too',
      })
      .option('out', OUT) as never,
  handler: run,
};
