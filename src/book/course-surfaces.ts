import { basename, resolve } from 'node:path';
import type { Course, Hole } from '../course/course.js';
import { loadLayout } from '../layout/layout-file.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import { type OnProgress, openCourseCache, prepareGreens } from './prepare-green.js';

/**
 * The fitted surfaces of some greens of a course, each in its own frame; by the same cache under `out`
 * as the book's, so that what is known is not fitted again.
 */
export const courseSurfaces = async (
  course: Course,
  holes: readonly Hole[],
  out: string,
  onProgress?: OnProgress,
): Promise<Surface[]> => {
  const wanted = holes.map((hole) => ({
    hole,
    locations: [],
    stimp: hole.green?.stimp ?? course.stimp,
  }));
  const cache = openCourseCache(out, basename(resolve(course.folder)));
  const greens = await prepareGreens(course, wanted, loadLayout('pocket'), cache, onProgress);
  return greens.map(({ fit }) => surfaceOfStored(fit.surface));
};
