import type { CourseMap } from '../../src/course/course-map.js';
import { siteOfHole } from '../../src/course/hole-site.js';
import type { TrueHole } from './untidy-course.js';
import { toDegrees } from './untidy-writers.js';

/** Whether a hole of a settled map has its own green, all its tees and no others, and starts within so many metres. */
export const isRightHole = (
  map: CourseMap,
  id: string,
  hole: Pick<TrueHole, 'start' | 'green' | 'tees'>,
  within: number,
): boolean => {
  const site = siteOfHole(map, id, null);
  if (site.line === null) return false;
  const [lon, lat] = toDegrees(hole.start);
  const off = Math.hypot((site.line[0][0] - lon) * 77_000, (site.line[0][1] - lat) * 111_320);
  return (
    (site.green?.tags.uid ?? null) === hole.green &&
    [...new Set(site.tees.map((tee) => tee.tags.uid))].sort().join() ===
      [...hole.tees].sort().join() &&
    off < within
  );
};
