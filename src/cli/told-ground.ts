import type { Cache } from '../book/cache.js';
import { keptFigures } from '../book/kept-figures.js';
import type { Course } from '../course/course.js';
import { type GroundModel, readGround } from '../course/ground.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { say } from './output.js';

const tellNotes = (course: Course, notes: readonly string[], tell: typeof say): void => {
  for (const note of notes) tell(`${course.ground?.file}: ${note}`);
};

/** The ground model of a course, what its reader had to assume told; null when it has none. */
export const toldGround = async (course: Course, tell = say): Promise<GroundModel | null> => {
  const ground = await readGround(course);
  tellNotes(course, ground?.notes ?? [], tell);
  return ground;
};

/** The figures of a course's holes, what the reader of its ground model had to assume told. */
export const toldFigures = async (
  cache: Cache,
  course: Course,
  tell: typeof say,
): Promise<HoleFigures[]> => {
  const { figures, notes } = await keptFigures(cache, course, () => readGround(course));
  tellNotes(course, notes, tell);
  return figures;
};
