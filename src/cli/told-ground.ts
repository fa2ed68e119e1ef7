import type { Course } from '../course/course.js';
import { type GroundModel, readGround } from '../course/ground.js';
import { say } from './output.js';

/** The ground model of a course, what its reader had to assume told; null when it has none. */
export const toldGround = async (course: Course, tell = say): Promise<GroundModel | null> => {
  const ground = await readGround(course);
  for (const note of ground?.notes ?? []) tell(`${course.ground?.file}: ${note}`);
  return ground;
};
