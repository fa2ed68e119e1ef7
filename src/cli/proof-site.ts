import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type BookLanguage, languageOf } from '../book/book-language.js';
import { contentOf } from '../book/course-book.js';
import { openCourseCache } from '../book/course-cache.js';
import { loadDays } from '../book/course-days.js';
import { todayOf } from '../book/course-today.js';
import { openFontsOf } from '../book/layout-faces.js';
import { loadNotes, requireNotesFit } from '../book/load-notes.js';
import { namedIn } from '../book/named-holes.js';
import { greensOfBook, type OnProgress, prepareGreens } from '../book/prepare-green.js';
import { approachTo } from '../course/approach-figures.js';
import type { Course } from '../course/course.js';
import { courseFigures } from '../course/course-figures.js';
import { readGround } from '../course/ground.js';
import { linesOfCourse } from '../course/hole-features.js';
import { loadCourse } from '../course/load-course.js';
import { holeOf, surveyedGreen } from '../course/named-hole.js';
import type { DayLocation } from '../event/day-locations.js';
import { type Notes, withMeasured } from '../event/notes-file.js';
import { InputFault } from '../fault.js';
import type { Point } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import { loadLayout } from '../layout/layout-file.js';
import { bareLocation } from '../page/book-content.js';
import { composeCoursePicture } from '../page/front/course-picture.js';
import type { Page } from '../page/marks/marks.js';
import { requireSpeedsFit } from '../page/putts/speeds-fit.js';
import { type Fonts, measureWith } from '../print/fonts.js';
import type { ProofAssets, ProofSite } from '../proof/answers.js';
import { firstPutt } from '../proof/green-overlay.js';
import { openProof, type Proof } from '../proof/proof-book.js';
import { answerPutt } from '../proof/putt-answer.js';
import { type StoredSurface, surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import type { UnitSystem } from '../units.js';

export interface ProofArguments {
  readonly course: string;
  readonly layout: string;
  readonly locations: string | undefined;
  readonly port: number;
  readonly out: string;
  /** The layout's, or the course's, where it is left out. */
  readonly units: UnitSystem | undefined;
  readonly outside: boolean;
  readonly json: boolean;
}

/** The browser's part as the compiler writes it; the sources run from what was last compiled. */
const scriptFolder = (): string => {
  const beside = fileURLToPath(new URL('../proof/browser/', import.meta.url));
  const built = fileURLToPath(new URL('../../.build/proof/browser/', import.meta.url));
  return existsSync(`${beside}proof.js`) ? beside : built;
};

const browserScripts = (): Map<string, Uint8Array> => {
  const folder = scriptFolder();
  if (!existsSync(`${folder}proof.js`)) {
    throw new InputFault(
      { file: 'proof' },
      'the scripts for the browser are not compiled',
      'run `npm run build`',
    );
  }
  return new Map(
    readdirSync(folder)
      .filter((name) => name.endsWith('.js'))
      .map((name) => [`/browser/${name}`, readFileSync(`${folder}${name}`)]),
  );
};

/** What is known of a proof before anything is computed. */
interface CheckedProof {
  readonly course: Course;
  readonly layout: Layout;
  readonly dayLayout: Layout;
  readonly days: readonly DayLocation[];
  readonly fonts: Fonts;
  readonly language: BookLanguage;
  readonly notes: Notes | undefined;
}

/** Reads all that was written by hand; what is wrong there is told before a green is fitted. */
export const checkProof = (args: ProofArguments, note: (words: string) => void): CheckedProof => {
  const loaded = loadCourse(args.course, args);
  const shown = { asked: args.units, course: loaded.units };
  const layout = loadLayout(args.layout, shown);
  if (layout.pages.green === undefined) {
    throw new InputFault(
      { file: `layout ${layout.name}`, place: 'pages' },
      'the layout has no green pages to prove',
      'use a layout of a book',
    );
  }
  const fonts = openFontsOf(layout);
  const language = languageOf(loaded, layout, fonts, args.units);
  const course = namedIn(loaded, language);
  for (const line of language.told) note(line);
  const notes = loadNotes(course, fonts);
  requireSpeedsFit(layout);
  requireNotesFit(notes, course, layout, measureWith(fonts));
  const days = loadDays(course, { file: args.locations, note });
  return { course, layout, dayLayout: loadLayout('day', shown), days, fonts, language, notes };
};

const pictureOf = ({ course, fonts, language }: CheckedProof): Page =>
  composeCoursePicture(
    {
      title: course.title,
      map: course.map,
      holes: course.settled,
      // What was decided of single holes, the picture tells itself.
      notes: course.findings
        .filter(({ problem }) => !/^hole \S+: /.test(problem))
        .map(({ feature, problem }) => `${feature}: ${problem}`),
      tell: language,
    },
    measureWith(fonts),
  );

/** What costs nothing to answer with. */
export const assetsOf = (checked: CheckedProof): ProofAssets => ({
  layout: checked.layout,
  dayLayout: checked.dayLayout,
  picture: pictureOf(checked),
  scripts: browserScripts(),
});

const WARM_PUTTS = 12;

/** Solves some putts before the first is asked for, so that the code that does it is compiled. */
const warmUp = ({ source }: Proof): void => {
  const green = source.book.greens.at(0);
  if (green === undefined) return;
  const surface = source.surfaceOf(green.holeId);
  const { ball, hole } = firstPutt(green, surface, source.book.units);
  for (let i = 0; i < WARM_PUTTS; i++) {
    const t = i / WARM_PUTTS;
    const from: Point = [ball[0] + t * (hole[0] - ball[0]), ball[1] + t * (hole[1] - ball[1])];
    answerPutt(surface, green, from, hole, source.book.units);
  }
};

/** All that the proof shows, made ready; surfaces are restored when a green is first looked at. */
export const openSite = async (
  args: ProofArguments,
  onProgress: OnProgress,
): Promise<ProofSite> => {
  const checked = checkProof(args, () => {});
  const { course, layout, dayLayout, days, fonts, notes } = checked;
  const { units, words } = checked.language;
  // A map alone has its holes and outlines to prove.
  const isBare =
    course.holes.every(({ green }) => green === null) &&
    course.holes.some(({ site }) => site.line !== null);
  const wanted = isBare ? [] : greensOfBook(course);
  const cache = openCourseCache(args.out, basename(resolve(course.folder)));
  const greens = await prepareGreens(
    course,
    wanted.map((one) => ({ ...one, locations: [] })),
    layout,
    cache,
    { units, onProgress },
  );
  const lines = linesOfCourse(course.map);
  const measure = measureWith(fonts);
  const drawn = withMeasured(course, notes);
  const ground = await readGround(course);
  const holes = courseFigures(drawn, ground);
  const book = contentOf(drawn, layout, units, greens, { holes, notes, words });
  const surfaces = new Map<string, Surface>();
  const storedOf = (holeId: string): StoredSurface => {
    const green = greens.find(({ hole }) => hole.id === holeId);
    if (green === undefined) throw new Error(`no surface for hole ${holeId}`);
    return green.fit.surface;
  };
  const surfaceOf = (holeId: string): Surface => {
    const known = surfaces.get(holeId);
    if (known !== undefined) return known;
    const surface = surfaceOfStored(storedOf(holeId));
    surfaces.set(holeId, surface);
    return surface;
  };
  const proof = openProof({
    book: {
      ...book,
      greens: book.greens.map((green) => ({
        ...green,
        locations: surveyedGreen(course, holeOf(course, green.holeId)).locations.map(bareLocation),
      })),
    },
    layout,
    dayLayout,
    measure,
    days,
    todayOf: (day) =>
      todayOf(
        { course, figures: holes, ground },
        days.filter((one) => one.day === day),
      ),
    ground,
    surfaceOf,
    storedOf,
    approachOf: (holeId) => approachTo(course, holeOf(course, holeId), lines),
  });
  warmUp(proof);
  return { proof, fonts, picture: pictureOf(checked), now: () => performance.now() };
};
