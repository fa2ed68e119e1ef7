import { type ApproachTo, approachTo } from '../course/approach-figures.js';
import type { Course } from '../course/course.js';
import { linesOfCourse } from '../course/hole-features.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { outlineGreens } from '../course/outline-green.js';
import type { Notes } from '../event/notes-file.js';
import type { Layout } from '../layout/layout.js';
import type { BookContent, GreenContent } from '../page/book-content.js';
import type { UnitSystem } from '../units.js';
import { comparePlayed, withPlayed } from './played-putts.js';
import type { GreenOfBook } from './prepare-green.js';

const withApproach = (green: GreenContent, approach: ApproachTo | null): GreenContent => ({
  ...green,
  locations: green.locations.map((location) => ({
    ...location,
    approach: approach?.(location) ?? null,
  })),
});

/** All that a book's pages show, from a course and its prepared greens. */
export const contentOf = (
  course: Course,
  layout: Layout,
  units: UnitSystem,
  greens: readonly GreenOfBook[],
  {
    holes,
    notes,
  }: {
    readonly holes?: readonly HoleFigures[] | undefined;
    readonly notes?: Notes | undefined;
  } = {},
): BookContent => {
  const lines = linesOfCourse(course.map);
  // Of a book of all holes; pages of single greens have no outlines beside them.
  const outlines = holes === undefined ? [] : outlineGreens(course);
  return {
    title: course.title,
    setting: course.setting,
    use: layout.use,
    units,
    stimp: course.stimp,
    past: layout.tables.past,
    greens: greens.map(({ hole, content }) =>
      withApproach(content, approachTo(course, hole, lines)),
    ),
    ...(outlines.length === 0 ? {} : { outlines }),
    ...(holes === undefined ? {} : { holes }),
    ...(notes === undefined
      ? {}
      : {
          notes: withPlayed(notes, comparePlayed(notes, greens, layout.tables.past), units),
        }),
  };
};
