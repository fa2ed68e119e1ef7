import type { Course } from './course.js';
import type { GroundModel } from './ground.js';
import { linesOfCourse } from './hole-features.js';
import { type HoleFigures, holeFigures } from './hole-figures.js';

/** The figures of every hole that has a line of play, in the course's order. */
export const courseFigures = (course: Course, ground: GroundModel | null): HoleFigures[] => {
  const lines = linesOfCourse(course.map);
  return course.holes.flatMap((hole) => {
    const figures = holeFigures(course, hole, lines, ground);
    return figures === null ? [] : [figures];
  });
};
