import { basename, join, resolve } from 'node:path';
import { languageOf } from '../book/book-language.js';
import type { Cache } from '../book/cache.js';
import { withCheck } from '../book/check-apart.js';
import { openCourseCache } from '../book/course-cache.js';
import { greensOfDay, loadDay, sheetOfDay } from '../book/course-days.js';
import { courseMarks } from '../book/course-marks.js';
import { todayOf } from '../book/course-today.js';
import { makeDayProducts } from '../book/day-products.js';
import type { UnsolvedDay } from '../book/early-day.js';
import type { RefusedPages } from '../book/green-job.js';
import { rememberIn } from '../book/kept-course.js';
import { keptFigures } from '../book/kept-figures.js';
import { keepPages, recallPages } from '../book/kept-pages.js';
import { folderOfCourse } from '../book/kept-run.js';
import { keepShapes, recallShapes } from '../book/kept-shapes.js';
import { facesDigest, openFontsOf } from '../book/layout-faces.js';
import { loadNotes } from '../book/load-notes.js';
import { requireOwnFolder } from '../book/made-sets.js';
import { namedIn } from '../book/named-holes.js';
import { plainJson } from '../book/plain-json.js';
import { type GreenOfBook, prepareGreens, wantedInShort } from '../book/prepare-green.js';
import type { Course } from '../course/course.js';
import type { GroundModel } from '../course/ground.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { loadCourse } from '../course/load-course.js';
import { outlineGreens } from '../course/outline-green.js';
import { withMeasured } from '../event/notes-file.js';
import { isSteep, steepLocations } from '../event/steep-locations.js';
import type { Today } from '../event/today.js';
import { windArgument } from '../event/wind.js';
import type { Point } from '../geometry.js';
import { loadLayout } from '../layout/layout-file.js';
import type { GreenContent } from '../page/book-content.js';
import type { SheetGreen } from '../page/day/day-green.js';
import { composeDay } from '../page/day/day-pages.js';
import { locationWords } from '../page/kit/location-words.js';
import { phrase } from '../page/words/words.js';
import type { Fonts } from '../print/fonts.js';
import { measureWith } from '../print/fonts.js';
import { aimReading, paceReading } from '../putt/rounding.js';
import { gatherStream } from '../survey/readers/byte-source.js';
import { fromGreenFrame } from '../survey/survey.js';
import type { UnitSystem } from '../units.js';
import { textOf } from '../user-text.js';
import { stimpArgument } from './lengths.js';
import { madeFiles } from './made-files.js';
import { printJson, say, showProgress } from './output.js';
import { fileDate } from './run-words.js';
import { toldGround } from './told-ground.js';
import { sayWorths, worthJson } from './worth-words.js';
import { writeSaid } from './write-said.js';

interface DayArguments {
  readonly course: string;
  readonly day: number;
  readonly speed: string | undefined;
  readonly locations: string | undefined;
  readonly paste: boolean;
  readonly tees: string | undefined;
  readonly date: string | undefined;
  readonly wind: string | undefined;
  readonly layout: string;
  readonly out: string;
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

const distanceJson = (today: Today, holeId: string): object | null => {
  const found = today.distances.get(holeId);
  if (found === undefined) return null;
  const { tees, front, hole, back, rise, past } = found;
  return { tees, front_m: front, hole_m: hole, back_m: back, rise_m: rise, past_hazard: past };
};

const figuresOf = (greens: readonly GreenOfBook[], today: Today, units: UnitSystem): object[] =>
  greens.map(({ hole, content }) => {
    const plane = (at: Point): Point => fromGreenFrame(hole.green!.frame, at[0], at[1]);
    const [location] = content.locations;
    const { table, regions } = location;
    return {
      hole: content.holeId,
      name: content.name,
      on: location.on,
      in: location.in,
      side: location.side,
      words: locationWords(location),
      distances: distanceJson(today, content.holeId),
      worth: worthJson(content.worth),
      at_m: location.at,
      plane_m: plane(location.at),
      stimp_m: content.stimp,
      past_m: content.past,
      grade: location.ground?.grade ?? null,
      steeper_than_guidance: isSteep({ grade: location.ground?.grade ?? null }),
      straight_lanes: (regions?.lanes ?? []).map(({ side, length, width }) => ({
        side,
        length_m: length,
        width_m: width,
      })),
      best_leave_m: regions?.leave?.best ?? null,
      putts: (table?.cells ?? []).map(({ quadrant, length, ball, outcome, putt }) => ({
        quadrant,
        length_m: length,
        ball_m: ball,
        ball_plane_m: plane(ball),
        outcome,
        ...(putt === null
          ? {}
          : {
              aim: aimReading(putt.aimOffset, units),
              pace: paceReading(putt.pace, units),
              aim_offset_m: putt.aimOffset,
              pace_m: putt.pace,
            }),
      })),
    };
  });

/** The greens without a survey: places and distances, and no putt. */
const outlinesJson = (bare: readonly SheetGreen[], today: Today): object[] =>
  bare.map(({ holeId, name, locations: [location] }) => ({
    hole: holeId,
    name,
    surveyed: false,
    on: location.on,
    in: location.in,
    side: location.side,
    words: locationWords(location),
    distances: distanceJson(today, holeId),
    at_m: location.at,
  }));

/** What is typed or pasted until its end. */
const pastedLines = async (): Promise<string> => {
  if (process.stdin.isTTY === true) {
    say('Type or paste the hole locations, such as "7  12 on  5 left"; end with Ctrl-D.');
  }
  const lines = await gatherStream(process.stdin, 'standard input');
  return textOf(await lines.read(0, lines.size), 'standard input');
};

/** A day but for its green speed, whose figures hardly change what its pages need of room. */
const withoutSpeed = ({ content, wanted, ...day }: UnsolvedDay): string => {
  const greens = wanted.map(({ hole: { id, name, par }, locations }) => [id, name, par, locations]);
  return plainJson({ ...day, content: { ...content, stimp: null }, greens });
};

/** Loaded where something is to be solved. */
const checkEarly = async (
  day: UnsolvedDay,
  { cache, fonts, language }: { cache: Cache; fonts: Fonts; language: string },
): Promise<RefusedPages> => {
  const [{ checkDayBeforeSolving }, { checkedEarly }] = await Promise.all([
    import('../book/early-day.js'),
    import('../book/passed-early.js'),
  ]);
  return checkedEarly(cache, withoutSpeed(day), () => checkDayBeforeSolving(day, fonts, language));
};

/** Tells of hole locations where no hole would be cut. */
const saySteep = (greens: readonly GreenContent[]): void => {
  const steep = steepLocations(
    greens.map(({ holeId, stimp, locations: [location] }) => ({
      ...{ holeId, stimp, words: locationWords(location) },
      grade: location.ground?.grade ?? null,
    })),
  );
  if (steep !== null) say(steep);
};

const sayBare = (bare: readonly SheetGreen[]): void => {
  if (bare.length === 0) return;
  const holes = bare.map(({ holeId }) => holeId).join(', ');
  say(`without a survey, by the outline alone, no putts: ${holes}`);
};

/** The figures of the holes, with what the notes measure. */
const figuresToday = async (
  course: Course,
  ground: GroundModel | null,
  { cache, fonts }: { readonly cache: Cache; readonly fonts: Fonts },
): Promise<HoleFigures[]> => {
  const measured = withMeasured(course, loadNotes(course, fonts));
  return (await keptFigures(cache, measured, async () => ground)).figures;
};

export const runDay = async (args: DayArguments): Promise<void> => {
  const courseName = basename(resolve(folderOfCourse(args.course)));
  const cache = openCourseCache(args.out, courseName);
  const loaded = loadCourse(args.course, { ...args, remember: rememberIn(cache) });
  const layout = loadLayout(args.layout, { asked: args.units, course: loaded.units });
  const date = fileDate(args.date);
  const stimp = args.speed === undefined ? null : stimpArgument('--speed', args.speed);
  const wind = args.wind === undefined ? undefined : windArgument('--wind', args.wind);
  const pasted = args.paste ? await pastedLines() : undefined;
  const locations = loadDay(loaded, { file: args.locations, pasted, note: say }, args.day);
  const ground = await toldGround(loaded);
  const folder = join(args.out, courseName);
  const marks = courseMarks(loaded);
  requireOwnFolder(folder, marks);
  const fonts = openFontsOf(layout);
  const { units, words, tag, told } = languageOf(loaded, layout, fonts, args.units);
  const course = namedIn(loaded, { words });
  for (const line of told) say(line);
  recallShapes(cache, fonts, facesDigest(layout));
  const figures = await figuresToday(course, ground, { cache, fonts });
  const today = todayOf({ course, figures, ground }, locations, {
    tees: args.tees,
    date: args.date,
    wind,
  });
  const wanted = wantedInShort(greensOfDay(course, locations, stimp));
  const outlines = outlineGreens(course);
  const bareDay = {
    title: course.title,
    setting: course.setting,
    use: layout.use,
    units,
    words,
    stimp: stimp ?? course.stimp,
    past: layout.tables.past,
    day: args.day,
    today,
  };
  const day = { content: bareDay, layout, wanted, locations, outlines };
  const stem = `${layout.name}-${args.day}`;
  // The thread that reads back starts while greens are solved.
  const kept = { cache, of: [courseName, layout.name, 'day'] };
  const { greens, shown, sheet, pages, products } = await withCheck(
    kept,
    undefined,
    async (check) => {
      const greens = await prepareGreens(course, wanted, layout, cache, {
        units,
        onProgress: showProgress,
        beforeSolving: () => checkEarly(day, { cache, fonts, language: tag }),
      });
      const shown = greens.map((green) => green.content);
      const sheet = sheetOfDay(locations, shown, outlines);
      const content = { ...bareDay, greens: shown, sheet };
      const pages = composeDay(content, layout, measureWith(fonts));
      const memories = recallPages(cache, kept.of);
      const products = await makeDayProducts(stem, pages, layout, {
        fonts,
        title: phrase({ words }, 'day.document', { title: course.title, day: args.day }),
        language: tag,
        date,
        check,
      });
      await keepPages(check, cache, kept.of, memories);
      return { greens, shown, sheet, pages, products };
    },
  );
  keepShapes(cache, fonts, facesDigest(layout));
  writeSaid(folder, products, { course: marks, name: `day ${stem}` }, say);
  const missing = course.holes.filter(
    ({ id, green, outline }) =>
      (green ?? outline ?? null) !== null && !sheet.some((one) => one.holeId === id),
  );
  const bare = sheet.filter(({ holeId }) => !greens.some((one) => one.hole.id === holeId));
  sayBare(bare);
  saySteep(shown);
  for (const hole of missing) say(`no hole location on day ${args.day}: ${hole.id}, ${hole.name}`);
  if (args.json) {
    const files = madeFiles(folder, products);
    printJson({
      ...{ course: course.title, day: args.day, layout: layout.name },
      pages: pages.map(({ id, title, label }) => ({ id, title, label })),
      ...{ holes: figuresOf(greens, today, units), outlines: outlinesJson(bare, today), files },
    });
    return;
  }
  for (const { file, what } of products) say(`${join(folder, file)}  ${what}`);
  sayWorths(greens.map(({ content }) => content));
};
