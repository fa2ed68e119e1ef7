import { basename, resolve } from 'node:path';
import type { GreenWorth } from '../appraisal/worth.js';
import type { Course, Hole } from '../course/course.js';
import { loadLayout } from '../layout/layout-file.js';
import { type StoredSurface, surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import { openCourseCache } from './course-cache.js';
import { type PrepareOptions, prepareGreens } from './prepare-green.js';

/** The surface of a green in its own frame, and what it may be used for. */
export interface GroundOfGreen {
  readonly surface: Surface;
  readonly worth: GreenWorth;
  /** The same as plain data, by which other grounds that the survey allows are drawn. */
  readonly stored: StoredSurface;
}

/**
 * The fitted surfaces of some greens of a course, each in its own frame; by the same cache under `out`
 * as the book's, so that what is known is not fitted again.
 */
export const courseSurfaces = async (
  course: Course,
  holes: readonly Hole[],
  out: string,
  how: PrepareOptions = {},
): Promise<GroundOfGreen[]> => {
  const wanted = holes.map((hole) => ({
    hole,
    locations: [],
    stimp: hole.green?.stimp ?? course.stimp,
  }));
  const cache = openCourseCache(out, basename(resolve(course.folder)));
  const greens = await prepareGreens(course, wanted, loadLayout('pocket'), cache, how);
  return greens.map(({ fit, content }) => ({
    surface: surfaceOfStored(fit.surface),
    worth: content.worth,
    stored: fit.surface,
  }));
};
