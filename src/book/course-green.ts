import { basename, resolve } from 'node:path';
import type { GreenWorth } from '../appraisal/worth.js';
import { InputFault } from '../fault.js';
import { insideRing, type Point } from '../geometry.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import { fromGreenFrame, type GreenFrame, toGreenFrame } from '../survey/survey.js';
import { firstUnits } from '../units.js';
import type { AskedLanguage } from './book-language.js';
import { type Cache, keep, recall } from './cache.js';
import { openCourseCache } from './course-cache.js';
import type { StoredFit } from './green-job.js';
import { digestOfRun, folderOfCourse } from './kept-run.js';
import type { FittedGround } from './known-ground.js';
import type { PrepareOptions } from './prepare-green.js';

/** A green of a course, and the way between the plane of its survey and its own frame; metres. */
export interface CourseGreen {
  readonly surface: Surface;
  readonly worth: GreenWorth;
  readonly toFrame: (at: Point) => Point;
  readonly fromFrame: (at: Point) => Point;
  /** How the course wants things told. */
  readonly telling: AskedLanguage;
}

/** The ground of a green, and where it lies in its course. */
interface GreenGround extends FittedGround {
  readonly holeId: string;
  readonly frame: GreenFrame;
  readonly telling: AskedLanguage;
}

/** The same without what the cache holds of its fit already. */
type ToldGreen = Omit<GreenGround, 'stored'>;

/** The green as it was told last, where not one file of the course has changed since. */
const recallGreen = (cache: Cache, key: string): GreenGround | null => {
  const told = recall<ToldGreen>(cache, 'told', key);
  const fit = told === null ? null : recall<StoredFit>(cache, 'fit', told.fitKey);
  return told === null || fit === null ? null : { ...told, stored: fit.surface };
};

/** The green out of its course; what reads courses is loaded here only. */
const readGreenOf = async (
  courseName: string,
  holeId: string,
  out: string,
  how: PrepareOptions & { readonly outside?: boolean },
): Promise<GreenGround> => {
  const [{ loadCourse }, { holeOf, surveyedGreen }, { courseSurfaces }] = await Promise.all([
    import('../course/load-course.js'),
    import('../course/named-hole.js'),
    import('./course-surfaces.js'),
  ]);
  const course = loadCourse(courseName, how);
  const { units, words } = course;
  const hole = holeOf(course, holeId);
  const site = surveyedGreen(course, hole);
  const [{ stored, worth, fitKey }] = await courseSurfaces(course, [hole], out, {
    ...how,
    units: firstUnits(how.units, units),
  });
  return { holeId: hole.id, frame: site.frame, telling: { units, words }, stored, worth, fitKey };
};

/**
 * The same surface as the book's tables are solved on.
 *
 * @throws InputFault when a point, named by its option, lies off the green.
 */
export const courseGreen = async (
  courseName: string,
  holeId: string,
  out: string,
  named: readonly { readonly option: string; readonly at: Point }[],
  how: PrepareOptions & { readonly outside?: boolean } = {},
): Promise<CourseGreen> => {
  const asked = { course: courseName, layout: null, out, rest: ['green', holeId, how.units] };
  const key = how.outside === true ? null : digestOfRun(asked);
  const cache = (): Cache => openCourseCache(out, basename(resolve(folderOfCourse(courseName))));
  const known = key === null ? null : recallGreen(cache(), key);
  const green = known ?? (await readGreenOf(courseName, holeId, out, how));
  if (known === null && key !== null && digestOfRun(asked) === key) {
    const { stored: _, ...told } = green;
    keep(cache(), 'told', key, told satisfies ToldGreen);
  }
  const { frame, worth, telling } = green;
  const surface = surfaceOfStored(green.stored);
  const toFrame = ([x, y]: Point): Point => toGreenFrame(frame, x, y);
  for (const { option, at } of named) {
    const [x, y] = toFrame(at);
    if (insideRing(surface.outline, x, y)) continue;
    const [fx, fy] = frame.origin;
    throw new InputFault(
      { file: 'command line', place: option },
      `${at.join(',')} lies off the green of hole ${green.holeId}`,
      `its front edge lies at ${fx.toFixed(2)},${fy.toFixed(2)}; runnel holes --json tells its hole locations as plane_m`,
    );
  }
  const fromFrame = ([x, y]: Point): Point => fromGreenFrame(frame, x, y);
  return { surface, worth, toFrame, fromFrame, telling };
};
