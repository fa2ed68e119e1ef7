import type { GreenWorth } from '../appraisal/worth.js';
import { surveyedGreen } from '../course/green-ground.js';
import { loadCourse } from '../course/load-course.js';
import { InputFault } from '../fault.js';
import type { Point } from '../geometry.js';
import { insideRing } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { fromGreenFrame, toGreenFrame } from '../survey/survey.js';
import { holeOf } from './course-days.js';
import { courseSurfaces } from './course-surfaces.js';
import type { PrepareOptions } from './prepare-green.js';

/** A green of a course, and the way between the plane of its survey and its own frame; metres. */
export interface CourseGreen {
  readonly surface: Surface;
  readonly worth: GreenWorth;
  readonly toFrame: (at: Point) => Point;
  readonly fromFrame: (at: Point) => Point;
}

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
  const course = loadCourse(courseName, how);
  const hole = holeOf(course, holeId);
  const green = surveyedGreen(course, hole);
  const { frame } = green;
  const [{ surface, worth }] = await courseSurfaces(course, [hole], out, how);
  const toFrame = ([x, y]: Point): Point => toGreenFrame(frame, x, y);
  for (const { option, at } of named) {
    const [x, y] = toFrame(at);
    if (insideRing(surface.outline, x, y)) continue;
    const [fx, fy] = frame.origin;
    throw new InputFault(
      { file: 'command line', place: option },
      `${at.join(',')} lies off the green of hole ${hole.id}`,
      `its front edge lies at ${fx.toFixed(2)},${fy.toFixed(2)}; runnel holes --json tells its hole locations as plane_m`,
    );
  }
  return { surface, worth, toFrame, fromFrame: ([x, y]) => fromGreenFrame(frame, x, y) };
};
