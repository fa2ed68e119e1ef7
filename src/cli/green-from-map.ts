import { basename, join, resolve } from 'node:path';
import { contentOf, outlinedAlone } from '../book/course-book.js';
import { courseMarks } from '../book/course-marks.js';
import { greenPageProduct } from '../book/green-product.js';
import { writeSet } from '../book/made-sets.js';
import type { Course } from '../course/course.js';
import { greenSize } from '../course/green-size.js';
import type { OutlineGreen } from '../course/outline-green.js';
import type { Layout } from '../layout/layout.js';
import { composeOutlinePage } from '../page/green/outline-page.js';
import { locationWords } from '../page/kit/location-words.js';
import type { WordTable } from '../page/words/words.js';
import { type Fonts, measureWith } from '../print/fonts.js';
import { metresToPaces, type UnitSystem } from '../units.js';
import { madeFiles } from './made-files.js';
import { printJson, printText, say } from './output.js';
import { fileDate } from './run-words.js';

interface FromMapArguments {
  readonly layout: Layout;
  readonly fonts: Fonts;
  readonly words: WordTable | undefined;
  readonly tag: string;
  readonly out: string;
  readonly units: UnitSystem;
  readonly json: boolean;
}

const paces = (metres: number): number => Math.round(metresToPaces(metres));

type Outlined = Pick<OutlineGreen, 'holeId' | 'name' | 'outline' | 'locations'>;

/** What the outline of a green tells, as JSON. */
export const outlineFigures = ({ holeId, name, outline, locations }: Outlined): object => {
  const { depth, width } = greenSize(outline);
  return {
    hole: holeId,
    name,
    surveyed: false,
    depth_m: Number(depth.toFixed(3)),
    width_m: Number(width.toFixed(3)),
    hole_locations: locations.map(({ name: called, on, in: inward, side, at }) => ({
      name: called,
      on,
      in: inward,
      side,
      at_m: at,
    })),
  };
};

/** The same in words, and why no more is told. */
export const outlineTold = (green: Outlined, why: string): string => {
  const { depth, width } = greenSize(green.outline);
  return [
    `green ${green.holeId}, ${green.name}: ${why}`,
    `${paces(depth)} paces deep, ${paces(width)} wide`,
    ...green.locations.map((one) => `${one.name}: ${locationWords(one)}`),
  ].join('\n');
};

/** The page and the figures of a green without a survey: what its outline tells, and no more. */
export const greenFromMap = async (
  course: Course,
  green: OutlineGreen,
  args: FromMapArguments,
): Promise<void> => {
  const { layout, fonts, words, tag } = args;
  const page = composeOutlinePage({
    layout,
    measure: measureWith(fonts),
    book: contentOf(course, layout, args.units, [], { words }),
    green: outlinedAlone(course, green),
    // Alone in its file it is a right-hand page.
    side: 'right',
    label: green.holeId,
  });
  const at = { courseTitle: course.title, holeId: green.holeId };
  const setting = { ...at, layout, fonts, language: tag, date: fileDate() };
  const products = [await greenPageProduct(page, setting)];
  const folder = join(args.out, basename(resolve(course.folder)));
  writeSet(folder, products, { course: courseMarks(course), name: null });
  if (args.json) {
    printJson({
      course: course.title,
      ...outlineFigures(green),
      files: madeFiles(folder, products),
    });
    return;
  }
  printText(outlineTold(green, 'from the map; its fall is not surveyed'));
  for (const { file, what } of products) say(`${join(folder, file)}  ${what}`);
};
