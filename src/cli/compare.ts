import { judgeSurvey } from '../appraisal/judge-survey.js';
import { languageOf } from '../book/book-language.js';
import {
  type CommonGreen,
  onCommonGround,
  onCourse,
  type SurveyPair,
} from '../book/common-green.js';
import { openFontsOf } from '../book/layout-faces.js';
import { surveyedTable } from '../book/surveyed-only.js';
import { writeBeside } from '../book/write-beside.js';
import type { Course } from '../course/course.js';
import { loadCourse } from '../course/load-course.js';
import { pointErrorsOf } from '../event/point-errors.js';
import { type SurfaceChange, surfaceChange } from '../event/surface-change.js';
import { type TableChange, tableChange } from '../event/table-change.js';
import { InputFault } from '../fault.js';
import type { Ring } from '../geometry.js';
import { insideRing, signedArea } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import { loadLayout } from '../layout/layout-file.js';
import { DEFAULT_INKS } from '../layout/load-layout.js';
import { composeChangeFigure } from '../page/survey/change-figure.js';
import { changeSentences, isOffset, tablesToPrint } from '../page/survey/moved-words.js';
import { phrase } from '../page/words/words.js';
import { measureWith } from '../print/fonts.js';
import { writeSvg } from '../print/svg.js';
import { breakTable } from '../putt/table.js';
import { type FitReport, fitSurface, groundOfSurvey } from '../surface/fit.js';
import type { Surface } from '../surface/surface.js';
import type { Survey } from '../survey/survey.js';
import type { UnitSystem } from '../units.js';
import { tableSentences } from './compare-words.js';
import { type UnitsOpen, withUnits } from './course-units.js';
import { speedArgument } from './guidance-options.js';
import { pointArgument } from './lengths.js';
import { printJson, printText, say } from './output.js';
import { forAnotherFile, type ReadingArguments, readingOf } from './survey-arguments.js';
import { sayWorth, worthJson } from './worth-words.js';

interface CompareArguments extends ReadingArguments {
  readonly older: string;
  readonly newer: string;
  readonly hole: string | undefined;
  readonly at: readonly string[] | undefined;
  readonly course: string | undefined;
  readonly speed: string | undefined;
  readonly layout: string;
  readonly level: boolean;
  readonly svg: string | undefined;
  readonly json: boolean;
}

/** As many as stand below the figure; the words on the terminal say all. */
const FIGURE_SENTENCES = 5;

const fitted = (survey: Survey, outline: Ring): { surface: Surface; report: FitReport } => {
  try {
    return fitSurface({ ...groundOfSurvey(survey), outline });
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

const commonGreen = (args: CompareArguments, course: Course | null): Promise<CommonGreen> => {
  const pair: SurveyPair = {
    older: args.older,
    newer: args.newer,
    at: (args.at ?? []).map((text) => pointArgument('--at', text)),
    reading: (given, isOwn) =>
      readingOf(args, given === null || isOwn ? given : forAnotherFile(given)),
  };
  if (course === null) return onCommonGround(pair);
  if (args.hole === undefined) {
    throw new InputFault(
      { file: 'command line' },
      'no hole of the course is named',
      'name it by --hole',
    );
  }
  return onCourse(pair, course, args.hole);
};

/** What is drawn of a comparison. */
interface Compared {
  readonly course: Course | null;
  readonly layout: Layout;
  readonly green: CommonGreen;
  readonly change: SurfaceChange;
  readonly tables: readonly TableChange[];
}

/** What moved, drawn in the language of the layout or the course. */
const drawMoved = (
  file: string,
  units: UnitSystem,
  { course, layout, green, change, tables }: Compared,
): void => {
  const fonts = openFontsOf(layout);
  const { words, told } = languageOf(course ?? {}, layout, fonts, units);
  for (const line of told) say(line);
  const tell = { units, words };
  const { outline } = green;
  const named = green.holes.map(({ name, at }) => ({ name: name(tell), at }));
  const print = tablesToPrint(
    named.map(({ name }, i) => ({ name, isChanged: tables[i].changed.length > 0 })),
    tell,
  );
  const area = Math.abs(signedArea(outline));
  const page = composeChangeFigure(
    {
      ...tell,
      title: phrase(tell, 'moved.title', { green: green.title(tell) }),
      outline,
      regions: change.regions,
      locations: named,
      sentences: [
        ...changeSentences(change, area, green.place, tell).slice(0, FIGURE_SENTENCES),
        ...(print === null ? [] : [print]),
      ],
    },
    measureWith(fonts),
  );
  writeBeside(file, writeSvg(page, DEFAULT_INKS, fonts));
};

/** Whether one survey is named twice, or a copy of it. */
const isSameGround = (older: Survey, newer: Survey): boolean =>
  older.x.length === newer.x.length &&
  (['x', 'y', 'z'] as const).every((axis) => older[axis].every((one, i) => one === newer[axis][i]));

export const runCompare = async (asked: UnitsOpen<CompareArguments>): Promise<void> => {
  const course = asked.course === undefined ? null : loadCourse(asked.course, asked);
  const layout = loadLayout(asked.layout, { asked: asked.units, course: course?.units });
  const args = withUnits<CompareArguments>(asked, { units: layout.units ?? course?.units });
  const green = await commonGreen(args, course);
  const { outline } = green;
  for (const { name, at } of green.holes) {
    if (!insideRing(outline, at[0], at[1])) {
      throw new InputFault(
        { file: 'command line', place: '--at' },
        `${name({})} lies off the green`,
        'give the coordinates of the survey',
      );
    }
  }
  if (isSameGround(green.older, green.newer)) {
    say(
      `${args.newer}: the same points as ${args.older}, of which nothing can have moved; name the survey of another day`,
    );
  }
  const stimp = speedArgument(args.speed, green.stimp);
  const [older, newer] = [fitted(green.older, outline), fitted(green.newer, outline)];
  const [olderWorth, newerWorth] = [
    { survey: green.older, ...older },
    { survey: green.newer, ...newer },
  ].map((one) => judgeSurvey({ ...one, outline, reading: null }, args.units));
  sayWorth(args.older, olderWorth);
  sayWorth(args.newer, newerWorth);
  const change = surfaceChange(
    older.surface,
    newer.surface,
    Math.max(older.report.pointsUsed, newer.report.pointsUsed),
    { level: args.level },
    {
      older: { ...green.older, errors: pointErrorsOf(older.report, green.older.kind) },
      newer: { ...green.newer, errors: pointErrorsOf(newer.report, green.newer.kind) },
    },
  );
  if (!change.isKnown) {
    throw new InputFault(
      { file: args.newer },
      `no ground of the green is surveyed closely enough both there and in ${args.older}`,
      'compare surveys with points all over the green',
    );
  }
  const settings = { stimp, past: layout.tables.past };
  const tables = green.holes.map(({ name, at }) =>
    tableChange(
      name({}),
      surveyedTable(
        breakTable(older.surface, at, layout.tables.lengths, settings),
        olderWorth.bare,
      ),
      surveyedTable(
        breakTable(newer.surface, at, layout.tables.lengths, settings),
        newerWorth.bare,
      ),
    ),
  );
  const area = Math.abs(signedArea(outline));
  const sentences = changeSentences(change, area, green.place, { units: args.units });
  if (args.svg !== undefined)
    drawMoved(args.svg, args.units, { course, layout, green, change, tables });
  if (args.json) {
    printJson({
      area_m2: round(area, 2),
      shift_m: round(change.shift, 5),
      shift_sd_m: change.shiftSd === null ? null : round(change.shiftSd, 5),
      another_benchmark: isOffset(change),
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
        words: green.place(region.middle, {}),
        outline_m: region.polygon.map((ring) => ring.map(([x, y]) => [round(x, 2), round(y, 2)])),
      })),
      stimp_m: stimp,
      tables: tables.map(tableJson),
      older_survey: worthJson(olderWorth),
      newer_survey: worthJson(newerWorth),
    });
  } else {
    printText([green.title({}), ...sentences, ...tableSentences(tables, args.units)].join('\n'));
  }
  if (args.svg !== undefined) say(`${args.svg}  what moved, drawn`);
};
