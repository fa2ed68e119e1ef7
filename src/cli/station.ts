import { basename, join, resolve } from 'node:path';
import { languageOf } from '../book/book-language.js';
import { contentOf } from '../book/course-book.js';
import { openCourseCache } from '../book/course-cache.js';
import { courseMarks } from '../book/course-marks.js';
import { openFontsOf } from '../book/layout-faces.js';
import { requireOwnFolder, writeSet } from '../book/made-sets.js';
import { namedIn } from '../book/named-holes.js';
import { prepareGreens } from '../book/prepare-green.js';
import { type StationFigures, stationFigures, stationText } from '../book/station-figures.js';
import { refusedStep, stationOnGreen } from '../book/station-on-green.js';
import type { GreenSite } from '../course/course.js';
import { pointOfLocation } from '../course/frame.js';
import { loadCourse } from '../course/load-course.js';
import { holeOf, surveyedGreen } from '../course/named-hole.js';
import { InputFault, namesInPart, quoted } from '../fault.js';
import type { Point } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import { loadLayout } from '../layout/layout-file.js';
import type { ShownUnits } from '../layout/load-layout.js';
import { ROUND_TEES } from '../putt/walk-round.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import { ringInFrame } from '../survey/survey.js';
import type { UnitSystem } from '../units.js';
import { checkPace } from './check-pace.js';
import { lengthArgument, stimpArgument } from './lengths.js';
import { madeFiles } from './made-files.js';
import { printJson, printText, say, showProgress } from './output.js';
import { stationProducts } from './station-pages.js';
import { requireWorth, worthJson } from './worth-words.js';

interface StationArguments {
  readonly course: string;
  readonly hole: string;
  readonly on: number | undefined;
  readonly left: number | undefined;
  readonly right: number | undefined;
  readonly location: string | undefined;
  readonly step: string;
  readonly speed: string | undefined;
  readonly past: string | undefined;
  readonly round: number | undefined;
  readonly layout: string;
  readonly out: string;
  /** The layout's, or the course's, where it is left out. */
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

const refuse = (place: string, what: string, cure: string): InputFault =>
  new InputFault({ file: 'command line', place }, what, cure);

/** The place asked for, in the frame of the green. */
const placeOf = (
  { on, left, right, location }: StationArguments,
  { frame, outline, locations }: GreenSite,
): { readonly name: string; readonly hole: Point } => {
  const sides = [left, right].filter((one) => one !== undefined);
  if (location !== undefined) {
    if (on !== undefined || sides.length > 0) {
      throw refuse('--location', 'the hole is named twice', 'give --location, or --on and a side');
    }
    const known = locations.find(({ name }) => name.toLowerCase() === location.toLowerCase());
    if (known !== undefined) return { name: known.name, hole: known.at };
    const names = namesInPart(locations.map(({ name }) => name));
    throw refuse(
      '--location',
      `the green has no hole location ${quoted(location)}`,
      names === '' ? 'give --on 12 --left 5' : `it has ${names}; or give --on 12 --left 5`,
    );
  }
  const [paces] = sides;
  if (on === undefined || sides.length !== 1) {
    throw refuse(
      '--on',
      'the place of the hole is not named',
      'give paces on and paces in from one side: --on 12 --left 5, or a --location',
    );
  }
  for (const [option, value] of [['--on', on] as const, ['--left or --right', paces] as const]) {
    if (!(value !== undefined && value >= 0)) {
      throw refuse(option, `${value} is no number of paces`, 'write paces: --on 12 --left 5');
    }
  }
  const side = left === undefined ? 'right' : 'left';
  const hole = pointOfLocation(
    ringInFrame(frame, outline),
    { name: 'of the station', on, in: paces, side },
    { file: 'command line', place: '--on' },
  );
  return { name: '', hole };
};

const layoutOf = (name: string, shown: ShownUnits): Layout => {
  const layout = loadLayout(name, shown);
  if (layout.pages.station !== undefined) return layout;
  throw refuse(
    '--layout',
    `layout ${layout.name} has no pages of stations`,
    'choose practice-large, or give the layout placements for "station"',
  );
};

const roundOf = (count: number | undefined): number => {
  if (count === undefined || ROUND_TEES.some((one) => one === count)) return count ?? 0;
  throw refuse('--round', `a walk round from ${count} tees is none`, '8 or 12 tees are');
};

/** `runnel station`: a practice station about any hole of a green. */
export const runStation = async (args: StationArguments): Promise<void> => {
  const loaded = loadCourse(args.course, args);
  const layout = layoutOf(args.layout, { asked: args.units, course: loaded.units });
  const fonts = openFontsOf(layout);
  const language = languageOf(loaded, layout, fonts, args.units);
  const course = namedIn(loaded, language);
  const hole = holeOf(course, args.hole);
  const site = surveyedGreen(course, hole);
  const { units, words } = language;
  const place = placeOf(args, site);
  const settings = {
    stimp: args.speed === undefined ? site.stimp : stimpArgument('--speed', args.speed),
    past:
      args.past === undefined
        ? layout.tables.past
        : lengthArgument('--past', args.past, units === 'metric' ? 'cm' : 'in'),
  };
  checkPace(settings);
  const asked = {
    ...place,
    settings,
    step: lengthArgument('--step', args.step, units === 'metric' ? 'm' : 'ft'),
    round: roundOf(args.round),
  };
  const noStep = refusedStep(asked.step);
  if (noStep !== null) throw refuse('--step', noStep.refused, noStep.cure);
  const courseName = basename(resolve(course.folder));
  const folder = join(args.out, courseName);
  const marks = courseMarks(course);
  requireOwnFolder(folder, marks);
  for (const line of language.told) say(line);
  const cache = openCourseCache(args.out, courseName);
  const wanted = { hole, locations: [], stimp: settings.stimp };
  const [prepared] = await prepareGreens(course, [wanted], layout, cache, {
    units,
    onProgress: showProgress,
  });
  requireWorth(hole.id, prepared.content.worth, 'station');
  const found = stationOnGreen(surfaceOfStored(prepared.fit.surface), prepared.content, asked);
  if ('refused' in found) throw refuse('--on', found.refused, found.cure);
  const told: StationFigures = found;
  const book = contentOf(course, layout, units, [prepared], { words });
  const products = await stationProducts(told, {
    green: { ...prepared.content, past: settings.past },
    book: { ...book, stimp: settings.stimp, past: settings.past },
    layout,
    fonts,
    language: language.tag,
  });
  writeSet(folder, products, { course: marks, name: null });
  if (args.json) {
    printJson({
      course: course.title,
      hole: hole.id,
      ...stationFigures(told),
      worth: worthJson(prepared.content.worth),
      files: madeFiles(folder, products),
    });
    return;
  }
  printText(stationText(told, units));
  for (const { file, what } of products) say(`${join(folder, file)}  ${what}`);
};
