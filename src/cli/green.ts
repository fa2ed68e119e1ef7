import { basename, join, resolve } from 'node:path';
import { languageOf } from '../book/book-language.js';
import { contentOf } from '../book/course-book.js';
import { openCourseCache } from '../book/course-cache.js';
import { courseMarks } from '../book/course-marks.js';
import { type GreenFigures, greenFigures, greenWords } from '../book/green-figures.js';
import { greenGeoJson } from '../book/green-geojson.js';
import { greenPageProduct } from '../book/green-product.js';
import { openFontsOf } from '../book/layout-faces.js';
import { loadNotes } from '../book/load-notes.js';
import { requireOwnFolder, writeSet } from '../book/made-sets.js';
import { namedIn } from '../book/named-holes.js';
import { waterFigures, waterWords } from '../book/pour-figures.js';
import { prepareGreens } from '../book/prepare-green.js';
import { loadCourse } from '../course/load-course.js';
import { holeOf, surveyedGreen } from '../course/named-hole.js';
import { outlineGreenOf } from '../course/outline-green.js';
import { withMeasured } from '../event/notes-file.js';
import { loadLayout } from '../layout/layout-file.js';
import { composeGreenPage } from '../page/green/green-page.js';
import { composeOutlinePage } from '../page/green/outline-page.js';
import { measureWith } from '../print/fonts.js';
import type { UnitSystem } from '../units.js';
import { greenFromMap, outlineFigures, outlineTold } from './green-from-map.js';
import { pourOnGreen, pourPlaces, waterProduct } from './green-water.js';
import { madeFiles } from './made-files.js';
import { printJson, printText, say, showProgress } from './output.js';
import { fileDate } from './run-words.js';
import { sayWorths, worthJson } from './worth-words.js';

interface GreenArguments {
  readonly course: string;
  readonly hole: string;
  readonly layout: string;
  readonly out: string;
  readonly geojson: boolean;
  readonly pour: readonly string[] | undefined;
  /** The layout's, or the course's, where it is left out. */
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

export const runGreen = async (args: GreenArguments): Promise<void> => {
  const bare = loadCourse(args.course, args);
  const layout = loadLayout(args.layout, { asked: args.units, course: bare.units });
  const fonts = openFontsOf(layout);
  // Hazards that the notes measured lie round its green, too.
  const measured = withMeasured(bare, loadNotes(bare, fonts));
  const { units, words, tag, told } = languageOf(measured, layout, fonts, args.units);
  const course = namedIn(measured, { words });
  const hole = holeOf(course, args.hole);
  const courseName = basename(resolve(course.folder));
  const folder = join(args.out, courseName);
  for (const line of told) say(line);
  const marks = courseMarks(course);
  requireOwnFolder(folder, marks);
  if (hole.green === null && !args.geojson && args.pour === undefined) {
    const outline = outlineGreenOf(course, hole);
    if (outline !== null) {
      await greenFromMap(course, outline, { ...args, units, layout, fonts, words, tag });
      return;
    }
  }
  const site = surveyedGreen(course, hole);
  const places = pourPlaces(args.pour ?? [], site, layout);
  const cache = openCourseCache(args.out, courseName);
  const wanted = { hole, locations: site.locations, stimp: site.stimp, regions: 'bends' as const };
  const [prepared] = await prepareGreens(course, [wanted], layout, cache, {
    units,
    onProgress: showProgress,
  });
  const book = contentOf(course, layout, units, [prepared], { words });
  const [green] = book.greens;
  const figures: GreenFigures = {
    green,
    report: prepared.fit.report,
  };
  // Alone in its file it is a right-hand page.
  const side = 'right' as const;
  const context = { layout, measure: measureWith(fonts), book, side, label: green.holeId };
  const [outline] = book.outlines ?? [];
  const page =
    outline === undefined
      ? composeGreenPage({ ...context, green })
      : composeOutlinePage({ ...context, green: outline });
  const at = { courseTitle: course.title, holeId: hole.id };
  const setting = { ...at, layout, fonts, language: tag, date: fileDate() };
  const products = [await greenPageProduct(page, setting)];
  const water = places.length === 0 ? null : pourOnGreen(prepared, places);
  if (water !== null) products.push(await waterProduct(water, book, setting));
  if (args.geojson) {
    const collection = greenGeoJson(site, green, water?.water);
    products.push({
      file: `green-${encodeURIComponent(hole.id)}.geojson`,
      what: 'the reading as RFC 7946 GeoJSON',
      bytes: Buffer.from(`${JSON.stringify(collection)}\n`, 'utf8'),
    });
  }
  const isOutline = green.worth.worth === 'outline';
  // Nothing is written before everything is made.
  writeSet(folder, products, { course: marks, name: null });
  if (args.json) {
    printJson({
      course: course.title,
      ...(isOutline ? outlineFigures(green) : greenFigures(figures)),
      ...(water === null ? {} : { water: waterFigures(water) }),
      worth: worthJson(green.worth),
      files: madeFiles(folder, products),
    });
    return;
  }
  printText(
    isOutline
      ? outlineTold(green, 'by its outline; its survey is fit for no more')
      : greenWords(figures, units),
  );
  if (water !== null) printText(waterWords(water, units));
  for (const { file, what } of products) say(`${join(folder, file)}  ${what}`);
  sayWorths([green]);
};
