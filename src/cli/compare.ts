import { join } from 'node:path';
import type { CommandModule } from 'yargs';
import { locationOfPoint } from '../course/frame.js';
import { readGreenGround, surveyInFrame } from '../course/green-ground.js';
import { inPlane } from '../course/green-site.js';
import { loadCourse } from '../course/load-course.js';
import { commonGround } from '../event/common-ground.js';
import { surfaceChange } from '../event/surface-change.js';
import { type TableChange, tableChange } from '../event/table-change.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { boxOf, growBox, insideRing, signedArea } from '../geometry.js';
import { composeChangeFigure } from '../page/change-figure.js';
import { locationWords } from '../page/location-words.js';
import { measureWith, openFonts } from '../print/fonts.js';
import { DEFAULT_INKS } from '../print/load-layout.js';
import { writeSvg } from '../print/svg.js';
import { breakTable } from '../putt/table.js';
import { type FitReport, fitSurface } from '../surface/fit.js';
import type { Surface } from '../surface/surface.js';
import type { LengthUnit } from '../survey/plane.js';
import { readSurveyFile } from '../survey/read-survey.js';
import { type GreenFrame, type Survey, toGreenFrame } from '../survey/survey.js';
import { feetToMetres, type UnitSystem } from '../units.js';
import {
  changeSentences,
  type PlaceWords,
  tableSentences,
  tablesToPrint,
} from './compare-words.js';
import { holeOf } from './course-days.js';
import { speedArgument } from './guidance-options.js';
import { loadLayout } from './layout-file.js';
import { pointArgument } from './lengths.js';
import { printJson, printText, say } from './output.js';
import { writeBeside } from './write-beside.js';

interface CompareArguments {
  readonly older: string;
  readonly newer: string;
  readonly course: string | undefined;
  readonly hole: string | undefined;
  readonly at: readonly string[] | undefined;
  readonly speed: string | undefined;
  readonly layout: string;
  readonly level: boolean;
  readonly svg: string | undefined;
  readonly crs: string | undefined;
  readonly unit: LengthUnit | undefined;
  readonly units: UnitSystem;
  readonly json: boolean;
}

/** What both surveys are compared on. */
interface CommonGreen {
  readonly title: string;
  readonly outline: Ring;
  readonly older: Survey;
  readonly newer: Survey;
  readonly holes: readonly { readonly name: string; readonly at: Point }[];
  readonly stimp: number;
  readonly place: PlaceWords;
}

const DEFAULT_STIMP = feetToMetres(10);
const WINDOW = 6;
/** As many as stand below the figure; the words on the terminal say all. */
const FIGURE_SENTENCES = 5;

/** The two surveys in the frame of a green of a course. */
const onCourse = async (args: CompareArguments, folder: string): Promise<CommonGreen> => {
  const course = loadCourse(folder);
  if (args.hole === undefined) {
    throw new InputFault(
      { file: 'command line' },
      'no hole of the course is named',
      'name it by --hole',
    );
  }
  const hole = holeOf(course, args.hole);
  const site = hole.green;
  if (site === null) {
    throw new InputFault(
      { file: course.file, place: `hole ${hole.id}` },
      'the hole has no survey, so that its green has no frame',
      'name the survey of its green by the key "survey"',
    );
  }
  const outline = site.outline.map(([x, y]) => toGreenFrame(site.frame, x, y));
  const read = async (file: string): Promise<Survey> => {
    // The word "course" stands for the survey that the course file names.
    if (file === 'course') return (await readGreenGround(course, hole)).survey;
    const { crs, unit, verticalUnit, columns } = site.survey;
    const isOwn = join(course.folder, site.survey.file) === join(file);
    const survey = await readSurveyFile(
      file,
      {
        source: file,
        crs: args.crs ?? crs,
        unit: args.unit ?? unit,
        verticalUnit,
        columns: isOwn ? columns : null,
        plane: site.plane,
      },
      growBox(boxOf(site.outline), WINDOW),
    );
    return surveyInFrame(survey, site.frame);
  };
  const more = (args.at ?? []).map((text, i) => {
    const [x, y] = inPlane(site.survey, site.plane, pointArgument('--at', text));
    return { name: `hole ${i + 1}`, at: toGreenFrame(site.frame, x, y) };
  });
  return {
    title: `Hole ${hole.id}, ${hole.name}`,
    outline,
    older: await read(args.older),
    newer: await read(args.newer),
    holes: [...site.locations.map(({ name, at }) => ({ name, at })), ...more],
    stimp: site.stimp,
    place: (at) => locationWords({ ...locationOfPoint(outline, '', at, {}), at }),
  };
};

/** The two surveys on the ground that they have in common, in a frame about its middle, north up. */
const onCommonGround = async (args: CompareArguments): Promise<CommonGreen> => {
  const read = (file: string): Promise<Survey> =>
    readSurveyFile(file, { source: file, crs: args.crs ?? null, unit: args.unit ?? null });
  const [older, newer] = [await read(args.older), await read(args.newer)];
  const ring = commonGround(older, newer);
  if (ring.length < 3 || Math.abs(signedArea(ring)) < 1) {
    throw new InputFault(
      { file: args.newer },
      'the two surveys have no ground in common',
      'check their coordinate systems and units',
    );
  }
  const box = boxOf(ring);
  const origin: Point = [
    Math.round((box.minX + box.maxX) / 2),
    Math.round((box.minY + box.maxY) / 2),
  ];
  const frame: GreenFrame = { origin, forward: [0, 1] };
  return {
    title: 'Two surveys',
    outline: ring.map(([x, y]) => toGreenFrame(frame, x, y)),
    older: surveyInFrame(older, frame),
    newer: surveyInFrame(newer, frame),
    holes: (args.at ?? []).map((text, i) => {
      const [x, y] = pointArgument('--at', text);
      return { name: `hole ${i + 1}`, at: toGreenFrame(frame, x, y) };
    }),
    stimp: DEFAULT_STIMP,
    place: ([x, y]) => `${(x + origin[0]).toFixed(1)}, ${(y + origin[1]).toFixed(1)}`,
  };
};

const fitted = (survey: Survey, outline: Ring): { surface: Surface; report: FitReport } => {
  const { x, y, z, breaklines, statedSigma } = survey;
  try {
    return fitSurface({ x, y, z, outline, breaklines, statedSigma });
  } catch (error) {
    if (!(error instanceof InputFault) || error.where.file !== undefined) throw error;
    throw new InputFault({ file: survey.source }, error.problem, error.cure);
  }
};

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

const tableJson = ({ name, changed, cells }: TableChange): object => ({
  location: name,
  cells,
  changed: changed.map(({ older, newer, aimChange, sd, sure, paceChange }) => ({
    quadrant: older.quadrant,
    length_m: older.length,
    older: older.outcome,
    newer: newer.outcome,
    older_aim_m: older.putt?.aimOffset ?? null,
    newer_aim_m: newer.putt?.aimOffset ?? null,
    aim_change_m: aimChange,
    aim_change_sd_m: sd !== null && Number.isFinite(sd) ? sd : null,
    beyond_uncertainty: sure,
    pace_change_m: paceChange,
  })),
});

const run = async (args: CompareArguments): Promise<void> => {
  const green =
    args.course === undefined ? await onCommonGround(args) : await onCourse(args, args.course);
  const { outline } = green;
  for (const { name, at } of green.holes) {
    if (!insideRing(outline, at[0], at[1])) {
      throw new InputFault(
        { file: 'command line', place: '--at' },
        `${name} lies off the green`,
        'give the coordinates of the survey',
      );
    }
  }
  const layout = loadLayout(args.layout);
  const stimp = speedArgument(args.speed, args.units, green.stimp);
  const [older, newer] = [fitted(green.older, outline), fitted(green.newer, outline)];
  const change = surfaceChange(
    older.surface,
    newer.surface,
    Math.max(older.report.effectiveDegrees, newer.report.effectiveDegrees),
    { level: args.level },
  );
  const settings = { stimp, past: layout.tables.past };
  const tables = green.holes.map(({ name, at }) =>
    tableChange(
      name,
      breakTable(older.surface, at, layout.tables.lengths, settings),
      breakTable(newer.surface, at, layout.tables.lengths, settings),
    ),
  );
  const area = Math.abs(signedArea(outline));
  const sentences = changeSentences(change, area, green.place, args.units);
  if (args.svg !== undefined) {
    const fonts = openFonts();
    const page = composeChangeFigure(
      {
        title: `${green.title}: what moved`,
        outline,
        regions: change.regions,
        locations: green.holes,
        words: [...sentences.slice(0, FIGURE_SENTENCES), tablesToPrint(tables)].filter(
          (words) => words !== null,
        ),
        units: args.units,
      },
      measureWith(fonts),
    );
    writeBeside(args.svg, writeSvg(page, DEFAULT_INKS, fonts));
  }
  if (args.json) {
    printJson({
      area_m2: round(area, 2),
      shift_m: round(change.shift, 5),
      levelled: change.levelled,
      median_sd_m: round(change.medianSd, 5),
      threshold_sd: round(change.threshold, 3),
      moved_area_m2: round(change.movedArea, 2),
      unknown_area_m2: round(change.unknownArea, 2),
      rest_difference_over_sd: round(change.restRatio, 3),
      regions: change.regions.map((region) => ({
        area_m2: round(region.area, 2),
        mean_change_m: round(region.meanChange, 5),
        greatest_change_m: round(region.greatestChange, 5),
        sd_m: round(region.meanSd, 5),
        middle_m: region.middle.map((v) => round(v, 3)),
        words: green.place(region.middle),
        outline_m: region.polygon.map((ring) => ring.map(([x, y]) => [round(x, 2), round(y, 2)])),
      })),
      stimp_m: stimp,
      tables: tables.map(tableJson),
    });
  } else {
    printText([green.title, ...sentences, ...tableSentences(tables, args.units)].join('\n'));
  }
  if (args.svg !== undefined) say(`${args.svg}  what moved, drawn`);
};

export const compareCommand: CommandModule<object, CompareArguments> = {
  command: 'compare <older> <newer>',
  describe: 'two surveys of one green: what moved, and which tables change',
  builder: (yargs) =>
    yargs
      .positional('older', {
        type: 'string',
        demandOption: true,
        describe: 'survey file; or "course", the survey that --course names for the hole',
      })
      .positional('newer', { type: 'string', demandOption: true, describe: 'survey file' })
      .option('course', {
        type: 'string',
        describe: 'course whose green it is: gives outline, frame, hole locations and speed',
      })
      .option('hole', { type: 'string', describe: 'the hole of that course' })
      .option('at', {
        type: 'string',
        array: true,
        describe: 'a hole whose table to compare: X,Y in the coordinates of the survey',
      })
      .option('speed', { type: 'string', describe: 'green speed of the tables: 10.5, 3.2m' })
      .option('layout', {
        type: 'string',
        default: 'pocket',
        describe: 'layout that gives lengths and pace of the tables',
      })
      .option('level', {
        type: 'boolean',
        default: false,
        describe: 'take a common difference of height (another benchmark) off first',
      })
      .option('svg', { type: 'string', describe: 'draws what moved to this file' })
      .option('crs', { type: 'string', describe: 'coordinate system of both surveys' })
      .option('unit', {
        choices: ['m', 'ft', 'us-ft'] as const,
        describe: 'unit of their positions',
      }) as never,
  handler: run,
};
