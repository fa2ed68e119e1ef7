import { basename, resolve } from 'node:path';
import type { Course, Hole } from '../course/course.js';
import { surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import type { Cache } from './cache.js';
import { openCourseCache } from './course-cache.js';
import { type FittedGround, knownGrounds } from './known-ground.js';
import type { PrepareOptions } from './prepare-green.js';

/** The surface of a green in its own frame, and what it may be used for. */
export interface GroundOfGreen extends FittedGround {
  readonly surface: Surface;
}

/** Reads and fits; what that takes is loaded here only. */
const madeGrounds = async (
  course: Course,
  holes: readonly Hole[],
  cache: Cache,
  how: PrepareOptions,
): Promise<FittedGround[]> => {
  const [{ prepareGreens }, { loadLayout }] = await Promise.all([
    import('./prepare-green.js'),
    import('../layout/layout-file.js'),
  ]);
  const wanted = holes.map((hole) => ({
    hole,
    locations: [],
    stimp: hole.green?.stimp ?? course.stimp,
  }));
  const greens = await prepareGreens(course, wanted, loadLayout('pocket'), cache, how);
  return greens.map(({ fit, fitKey, content }) => ({
    stored: fit.surface,
    worth: content.worth,
    fitKey,
  }));
};

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
  const cache = openCourseCache(out, basename(resolve(course.folder)));
  const grounds =
    knownGrounds(course, holes, cache, how.units ?? 'imperial') ??
    (await madeGrounds(course, holes, cache, how));
  return grounds.map((ground) => ({ ...ground, surface: surfaceOfStored(ground.stored) }));
};
