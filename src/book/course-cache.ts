import { join } from 'node:path';
import { type Cache, openCache } from './cache.js';
import { sweep } from './write-beside.js';

/** The cache under the folder that products go to, which all courses share. */
export const cacheFolder = (out: string): string => join(out, '.cache');

/** Opens it for a course. */
export const openCourseCache = (out: string, courseName: string): Cache => {
  // A run that was killed while it renamed its products is ended first, whatever becomes of this one.
  sweep(join(out, courseName));
  return openCache(cacheFolder(out));
};
