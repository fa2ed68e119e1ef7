import { approachFigures } from '../course/approach-figures.js';
import type { Course } from '../course/course.js';
import { linesOfCourse } from '../course/hole-features.js';
import type { HoleFigures } from '../course/hole-figures.js';
import type { Notes } from '../event/notes-file.js';
import type { Layout } from '../layout/layout.js';
import type { BookContent } from '../page/book-content.js';
import type { UnitSystem } from '../units.js';
import type { GreenOfBook } from './prepare-green.js';

/** All that a book's pages show, from a course and its prepared greens. */
export const contentOf = (
  course: Course,
  layout: Layout,
  units: UnitSystem,
  greens: readonly GreenOfBook[],
  holes?: readonly HoleFigures[],
  notes?: Notes,
): BookContent => {
  const lines = linesOfCourse(course.map);
  return {
    title: course.title,
    setting: course.setting,
    use: layout.use,
    units,
    stimp: course.stimp,
    past: layout.tables.past,
    greens: greens.map(({ hole, content }) => ({
      ...content,
      approach: approachFigures(course, hole, lines),
    })),
    ...(holes === undefined ? {} : { holes }),
    ...(notes === undefined ? {} : { notes }),
  };
};
