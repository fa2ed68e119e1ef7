import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { contentOf } from '../book/course-book.js';
import { holeOf, loadDays } from '../book/course-days.js';
import { todayOf } from '../book/course-today.js';
import { loadNotes } from '../book/load-notes.js';
import { greensOfBook, openCourseCache, prepareGreens } from '../book/prepare-green.js';
import { approachTo } from '../course/approach-figures.js';
import { courseFigures } from '../course/course-figures.js';
import { surveyedGreen } from '../course/green-ground.js';
import { linesOfCourse } from '../course/hole-features.js';
import { loadCourse } from '../course/load-course.js';
import { withMeasured } from '../event/notes-file.js';
import { InputFault } from '../fault.js';
import type { Point } from '../geometry.js';
import { loadLayout } from '../layout/layout-file.js';
import { bareLocation } from '../page/book-content.js';
import { composeCoursePicture } from '../page/front/course-picture.js';
import { measureWith, openFonts } from '../print/fonts.js';
import { LOOPBACK, type ProofSite } from '../proof/answers.js';
import { firstPutt } from '../proof/green-overlay.js';
import { openProof, type Proof } from '../proof/proof-book.js';
import { answerPutt } from '../proof/putt-answer.js';
import { startServer } from '../proof/server.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import type { UnitSystem } from '../units.js';
import { printJson, say, showProgress } from './output.js';
import { toldGround } from './told-ground.js';
import { sayWorths, worthJson } from './worth-words.js';

interface ProofArguments {
  readonly course: string;
  readonly layout: string;
  readonly locations: string | undefined;
  readonly port: number;
  readonly out: string;
  readonly units: UnitSystem;
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

/** All that the proof shows, made ready; surfaces are restored when a green is first looked at. */
const openSite = async (args: ProofArguments): Promise<ProofSite> => {
  const course = loadCourse(args.course, args);
  const layout = loadLayout(args.layout);
  if (layout.pages.green === undefined) {
    throw new InputFault(
      { file: `layout ${layout.name}`, place: 'pages' },
      'the layout has no green pages to prove',
      'use a layout of a book',
    );
  }
  const scripts = browserScripts();
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
    { units: args.units, onProgress: showProgress },
  );
  const lines = linesOfCourse(course.map);
  const fonts = openFonts();
  const measure = measureWith(fonts);
  const notes = loadNotes(course, fonts);
  const drawn = withMeasured(course, notes);
  const ground = await toldGround(course);
  const holes = courseFigures(drawn, ground);
  const book = contentOf(drawn, layout, args.units, greens, { holes, notes });
  const surfaces = new Map<string, Surface>();
  const surfaceOf = (holeId: string): Surface => {
    const known = surfaces.get(holeId);
    if (known !== undefined) return known;
    const green = greens.find(({ hole }) => hole.id === holeId);
    if (green === undefined) throw new Error(`no surface for hole ${holeId}`);
    const surface = surfaceOfStored(green.fit.surface);
    surfaces.set(holeId, surface);
    return surface;
  };
  const days = loadDays(course, { file: args.locations, note: say });
  const proof = openProof({
    book: {
      ...book,
      greens: book.greens.map((green) => ({
        ...green,
        locations: surveyedGreen(course, holeOf(course, green.holeId)).locations.map(bareLocation),
      })),
    },
    layout,
    dayLayout: loadLayout('day'),
    measure,
    days,
    todayOf: (day) =>
      todayOf(
        { course, figures: holes, ground },
        days.filter((one) => one.day === day),
      ),
    ground,
    surfaceOf,
    approachOf: (holeId) => approachTo(course, holeOf(course, holeId), lines),
  });
  const picture = composeCoursePicture(
    course.title,
    course.map,
    course.settled,
    course.findings.map(({ feature, problem }) => `${feature}: ${problem}`),
    measure,
  );
  return { proof, fonts, picture, scripts, now: () => performance.now() };
};

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

export const runProof = async (args: ProofArguments): Promise<void> => {
  if (!Number.isInteger(args.port) || args.port < 0 || args.port > 65535) {
    throw new InputFault(
      { file: 'command line', place: '--port' },
      `${args.port} is no port`,
      'ports are numbered from 0 to 65535; 0 takes any that is free',
    );
  }
  const site = await openSite(args);
  warmUp(site.proof);
  const { server, port } = await startServer(site, args.port, (error) => {
    say(`runnel: internal fault: ${error instanceof Error ? error.message : String(error)}`);
  }).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'EADDRINUSE' && error.code !== 'EACCES') throw error;
    throw new InputFault(
      { file: 'command line', place: '--port' },
      `port ${args.port} cannot be taken`,
      'name another, or 0 for any that is free',
    );
  });
  const url = `http://${LOOPBACK}:${port}/`;
  const { greens } = site.proof.source.book;
  sayWorths(greens);
  if (args.json) {
    printJson({
      url,
      greens: greens.map(({ holeId, worth }) => ({ hole: holeId, ...worthJson(worth) })),
    });
  } else say(`${url}  until it is stopped (Ctrl+C)`);
  await new Promise<void>((stopped) => {
    const stop = (): void => {
      server.close(() => stopped());
      server.closeAllConnections();
    };
    process.once('SIGINT', stop);
    process.once('SIGTERM', stop);
  });
};
