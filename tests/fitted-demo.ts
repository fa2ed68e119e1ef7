import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openCourseCache } from '../src/book/course-cache.js';
import { type GreenOfBook, greensOfBook, prepareGreens } from '../src/book/prepare-green.js';
import { loadCourse } from '../src/course/load-course.js';
import { loadLayout } from '../src/layout/layout-file.js';

const DEMO = 'course-data/vellamoor';

/**
 * Where test files share the demo's fitted greens. What lies there is keyed by the program's own code and
 * by the survey, as in any run: no change of either meets an old fit.
 */
export const SHARED_OUT = fileURLToPath(new URL('../out/tests', import.meta.url));

/** Gives courses made of the demo's greens, whose products go to a folder, the shared fits: they depend on survey and place, not on the course. */
export const shareFits = (out: string): void => {
  const shared = join(SHARED_OUT, '.cache');
  mkdirSync(shared, { recursive: true });
  mkdirSync(out, { recursive: true });
  symlinkSync(shared, join(out, '.cache'), 'dir');
};

/** Greens of the demo, fitted and read; no hole location is solved. All of them when none is named. */
export const prepareDemo = async (ids: readonly string[] | null = null): Promise<GreenOfBook[]> => {
  mkdirSync(SHARED_OUT, { recursive: true });
  const course = loadCourse(DEMO);
  const wanted = greensOfBook(course)
    .filter(({ hole }) => ids === null || ids.includes(hole.id))
    .map((one) => ({ ...one, locations: [] }));
  return prepareGreens(
    course,
    wanted,
    loadLayout('pocket'),
    openCourseCache(SHARED_OUT, 'vellamoor'),
  );
};
