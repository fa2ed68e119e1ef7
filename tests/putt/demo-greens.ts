import { readGreenGround } from '../../src/course/green-ground.js';
import { loadCourse } from '../../src/course/load-course.js';
import type { Point } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import type { Surface } from '../../src/surface/surface.js';

export interface DemoGreen {
  readonly id: string;
  readonly surface: Surface;
  readonly locations: readonly Point[];
  readonly stimp: number;
}

/** Greens of the demo course, read and fitted as the book reads them; all of them when none is named. */
export const demoGreens = async (ids: readonly string[] | null = null): Promise<DemoGreen[]> => {
  const course = loadCourse('course-data/vellamoor');
  const greens: DemoGreen[] = [];
  for (const hole of course.holes) {
    if (hole.green === null || (ids !== null && !ids.includes(hole.id))) continue;
    const { survey, outline, locations } = await readGreenGround(course, hole);
    const { x, y, z, breaklines, statedSigma } = survey;
    greens.push({
      id: hole.id,
      surface: fitSurface({ x, y, z, outline, breaklines, statedSigma }).surface,
      locations: locations.map(({ at }) => at),
      stimp: hole.green.stimp,
    });
  }
  return greens;
};
