import { basename, join, resolve } from 'node:path';
import { loadDays, locationsOfDay } from '../book/course-days.js';
import { makeDayProducts } from '../book/day-products.js';
import {
  type GreenOfBook,
  openCourseCache,
  prepareGreens,
  type WantedGreen,
} from '../book/prepare-green.js';
import { writeAll } from '../book/write-beside.js';
import type { Course } from '../course/course.js';
import { loadCourse } from '../course/load-course.js';
import type { DayLocation } from '../event/day-locations.js';
import type { Point } from '../geometry.js';
import { loadLayout } from '../layout/layout-file.js';
import { composeDay } from '../page/day/day-pages.js';
import { locationWords } from '../page/kit/location-words.js';
import { measureWith, openFonts } from '../print/fonts.js';
import { aimReading, paceReading } from '../putt/rounding.js';
import { fromGreenFrame } from '../survey/survey.js';
import type { UnitSystem } from '../units.js';
import { stimpArgument } from './lengths.js';
import { madeFiles } from './made-files.js';
import { printJson, say, showProgress } from './output.js';
import { sayWorths, worthJson } from './worth-words.js';

interface DayArguments {
  readonly course: string;
  readonly day: number;
  readonly speed: string | undefined;
  readonly locations: string | undefined;
  readonly layout: string;
  readonly out: string;
  readonly units: UnitSystem;
  readonly json: boolean;
}

/** The greens of a day, in the order of the course, each with its one location. */
export const greensOfDay = (
  course: Course,
  locations: readonly DayLocation[],
  stimp: number | null,
): WantedGreen[] =>
  course.holes.flatMap((hole): WantedGreen[] => {
    const found = locations.find(({ holeId }) => holeId === hole.id);
    if (found === undefined || hole.green === null) return [];
    return [{ hole, locations: [found.location], stimp: stimp ?? hole.green.stimp, regions: true }];
  });

const figuresOf = (greens: readonly GreenOfBook[], units: UnitSystem): object[] =>
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
      worth: worthJson(content.worth),
      at_m: location.at,
      plane_m: plane(location.at),
      stimp_m: content.stimp,
      past_m: content.past,
      grade: location.ground?.grade ?? null,
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

export const runDay = async (args: DayArguments): Promise<void> => {
  const course = loadCourse(args.course);
  const layout = loadLayout(args.layout);
  const stimp = args.speed === undefined ? null : stimpArgument('--speed', args.speed);
  const locations = locationsOfDay(course, loadDays(course, args.locations), args.day);
  const wanted = greensOfDay(course, locations, stimp);
  const courseName = basename(resolve(course.folder));
  const cache = openCourseCache(args.out, courseName);
  const greens = await prepareGreens(course, wanted, layout, cache, {
    units: args.units,
    onProgress: showProgress,
  });
  const fonts = openFonts();
  const content = {
    title: course.title,
    setting: course.setting,
    use: layout.use,
    units: args.units,
    stimp: stimp ?? course.stimp,
    past: layout.tables.past,
    greens: greens.map((green) => green.content),
    day: args.day,
  };
  const pages = composeDay(content, layout, measureWith(fonts));
  const products = await makeDayProducts(
    `${layout.name}-${args.day}`,
    pages,
    layout,
    fonts,
    `${course.title}, day ${args.day}`,
  );
  const folder = join(args.out, courseName);
  writeAll(folder, products);
  const missing = course.holes.filter(
    (hole) => hole.green !== null && !wanted.some((one) => one.hole === hole),
  );
  for (const hole of missing) say(`no hole location on day ${args.day}: ${hole.id}, ${hole.name}`);
  if (args.json) {
    printJson({
      course: course.title,
      day: args.day,
      layout: layout.name,
      pages: pages.map(({ id, title, label }) => ({ id, title, label })),
      holes: figuresOf(greens, args.units),
      files: madeFiles(folder, products),
    });
    return;
  }
  for (const { file, what } of products) say(`${join(folder, file)}  ${what}`);
  sayWorths(greens.map(({ content }) => content));
};
