import { contentWithoutNotes } from '../../src/book/course-book.js';
import { openCourseCache } from '../../src/book/course-cache.js';
import { checkBeforeSolving } from '../../src/book/early-check.js';
import { checkDayBeforeSolving } from '../../src/book/early-day.js';
import { requireNotesFit } from '../../src/book/load-notes.js';
import { greensOfBook, prepareGreens } from '../../src/book/prepare-green.js';
import { framed, speedsOfTables } from '../../src/book/wanted-green.js';
import { stationAt } from '../../src/book/widest-figures.js';
import { withWidestTables } from '../../src/book/widest-pages.js';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import type { Course, Hole } from '../../src/course/course.js';
import { courseFigures } from '../../src/course/course-figures.js';
import { readGround } from '../../src/course/ground.js';
import type { HoleFigures } from '../../src/course/hole-figures.js';
import { loadCourse } from '../../src/course/load-course.js';
import { outlineGreens } from '../../src/course/outline-green.js';
import type { Notes } from '../../src/event/notes-file.js';
import { InputFault } from '../../src/fault.js';
import type { Layout } from '../../src/layout/layout.js';
import type { GreenContent } from '../../src/page/book-content.js';
import { composeBook } from '../../src/page/book-pages.js';
import { composeDay } from '../../src/page/day/day-pages.js';
import type { Page } from '../../src/page/marks/marks.js';
import { requireSpeedsFit } from '../../src/page/putts/speeds-fit.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import type { UnitSystem } from '../../src/units.js';
import { SHARED_OUT } from '../fitted-demo.js';
import {
  fullestImprint,
  fullNotes,
  GREEN,
  LONG_NAME,
  OUTLINE,
  PRACTICE,
  withTees,
} from '../page/fullest-pages.js';

/**
 * A course of few holes with the longest names, many tees and a full imprint: what is said of its book before a survey is
 * read, and what the check finds in the book itself, on the demo's ground with the widest figures.
 */

const fonts = openFonts();
const measure = measureWith(fonts);
const DEMO = 'course-data/vellamoor';
const HOLES = ['1', OUTLINE, GREEN, PRACTICE];

/** Without its survey. */
const outlined = (hole: Hole): Hole =>
  hole.green === null ? hole : { ...hole, green: null, outline: { ...hole.green, northUp: false } };

export interface WidestCourse {
  readonly course: Course;
  readonly holes: readonly HoleFigures[];
}

/** `isSold`: with an imprint that fills its page and a buyer, for whom a fold-up's front has no room. */
export const widestCourse = async (isSold = true, name = LONG_NAME): Promise<WidestCourse> => {
  const demo = loadCourse(DEMO);
  const some = demo.holes.filter(({ id }) => HOLES.includes(id));
  const named = some.map((hole) => ({ ...(hole.id === OUTLINE ? outlined(hole) : hole), name }));
  const course = withTees({
    ...demo,
    title: 'The Old Harbour and Outer Skerries Links',
    setting: 'Eighteen holes and a practice green on the crescent of an island that is on no chart',
    imprint: isSold
      ? { ...fullestImprint(demo), edition: 'Second edition, four greens surveyed again' }
      : demo.imprint,
    holes: named,
  });
  return { course, holes: courseFigures(course, await readGround(course)) };
};

/** The greens, fitted and read for the layout, with the widest figures in place of solved ones. */
const fullGreens = async (
  { course }: WidestCourse,
  layout: Layout,
  units: UnitSystem,
): Promise<{ hole: Hole; content: GreenContent }[]> => {
  const wanted = greensOfBook(course).map((one) => ({ ...one, locations: [] }));
  const cache = openCourseCache(SHARED_OUT, 'vellamoor');
  const prepared = await prepareGreens(course, wanted, layout, cache, { units });
  return prepared.map(({ hole, content }, i) => {
    const locations = hole.green!.locations.map((one) => ({
      ...{ ...one, regions: null, approach: null, breakMap: null, ground: null, table: null },
      ...{ atSpeeds: [], station: null },
    }));
    const speeds = speedsOfTables(layout, content.stimp);
    const full = withWidestTables({ ...content, locations }, speeds, { layout, units });
    const asked = full.locations.map((one) => ({
      ...one,
      breakMap: layout.pages['break-map'] === undefined ? null : one.breakMap,
      station:
        layout.pages.station === undefined
          ? null
          : stationAt(
              one.at,
              { stimp: full.stimp, past: full.past },
              units,
              i % 2 === 0 ? 'serves' : 'none',
            ),
    }));
    return { hole, content: { ...full, locations: asked } };
  });
};

const notesOf = ({ course }: WidestCourse): Notes => ({
  by: 'the caddie of the outer boat',
  holes: course.holes.flatMap(({ id, green }) =>
    id === GREEN && green !== null ? [fullNotes(id, framed(green).outline)] : [],
  ),
});

const dayOf = ({ course }: WidestCourse, layout: Layout, units: UnitSystem) => {
  const { title, setting, stimp } = course;
  const wind = { speed: '22 mph', from: 235 };
  const today = { distances: new Map(), bearings: new Map(), date: '26 September 2026', wind };
  const { use } = layout;
  return { title, setting, use, units, stimp, past: layout.tables.past, day: 4, today };
};

const isDay = (layout: Layout): boolean => layout.pages['day-sheet'] !== undefined;

const locationsOf = ({ course }: WidestCourse) =>
  course.holes.flatMap(({ id, green, outline }) => {
    const [location] = (green ?? outline)?.locations ?? [];
    return location === undefined ? [] : [{ holeId: id, day: 4, location, tees: null }];
  });

/** Why the book, or the day, is refused before any putt is solved; null where it is not. */
export const refusedEarly = async (
  ground: WidestCourse,
  layout: Layout,
  units: UnitSystem,
): Promise<string | null> => {
  const { course, holes } = ground;
  try {
    requireSpeedsFit(layout);
    if (isDay(layout)) {
      const locations = locationsOf(ground);
      const wanted = greensOfBook(course).map((one) => ({
        ...one,
        locations: one.locations.slice(0, 1),
      }));
      const content = dayOf(ground, layout, units);
      const outlines = outlineGreens(course);
      const asked = { content, layout, wanted, locations, outlines };
      return (await checkDayBeforeSolving(asked, fonts, 'en')).tables?.problem ?? null;
    }
    requireNotesFit(notesOf(ground), course, layout, measure);
    const { green, tables } = await checkBeforeSolving(
      { course, layout, units, holes },
      { fonts, language: 'en' },
    );
    return (green ?? tables)?.problem ?? null;
  } catch (fault) {
    if (fault instanceof InputFault) return fault.message;
    throw fault;
  }
};

const composed = async (
  ground: WidestCourse,
  layout: Layout,
  units: UnitSystem,
): Promise<Page[]> => {
  const { course, holes } = ground;
  const greens = await fullGreens(ground, layout, units);
  if (!isDay(layout)) {
    const content = contentWithoutNotes(course, layout, units, greens, holes);
    return composeBook({ ...content, notes: notesOf(ground) }, layout, measure);
  }
  const ofDay = greens.map(({ content }) => ({
    ...content,
    locations: content.locations.slice(0, 1),
  }));
  return composeDay({ ...dayOf(ground, layout, units), greens: ofDay }, layout, measure);
};

/** What our own check finds wrong in the book, or the day, itself. */
export const foundInBook = async (
  ground: WidestCourse,
  layout: Layout,
  units: UnitSystem,
): Promise<string[]> => {
  const pages = await composed(ground, layout, units);
  const words = { fonts, title: 'Widest', language: 'en', edition: 'screen' } as const;
  return preflight(await readBook(await writePdf(pages, layout, words), layout.name))
    .filter(({ verdict }) => verdict === 'fail')
    .map(({ rule, page, words: found }) => `${pages[(page ?? 1) - 1].id}, ${rule}: ${found}`);
};
