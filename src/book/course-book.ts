import { type ApproachTo, approachTo } from '../course/approach-figures.js';
import type { Course, Hole } from '../course/course.js';
import { linesOfCourse, type OtherLines } from '../course/hole-features.js';
import type { HoleFigures } from '../course/hole-figures.js';
import { type OutlineGreen, outlineGreenOf, outlineGreens } from '../course/outline-green.js';
import type { Notes } from '../event/notes-file.js';
import { fetchedRecord, withHeld, withValue } from '../fetched-record.js';
import type { Layout } from '../layout/layout.js';
import type { BookContent, GreenContent, OutlinedGreen } from '../page/book-content.js';
import type { LogoPicture } from '../page/marks/picture.js';
import type { WordTable } from '../page/words/words.js';
import type { UnitSystem } from '../units.js';
import { type ComparedPutt, comparePlayed, withPlayed } from './played-putts.js';
import type { GreenOfBook } from './prepare-green.js';

/** A green as far as its pages ask for it. */
type ShownGreen = Pick<GreenOfBook, 'hole' | 'content'>;

const withApproach = (green: GreenContent, approach: ApproachTo | null): GreenContent =>
  withValue(green, 'locations', () =>
    green.locations.map((location) => ({ ...location, approach: approach?.(location) ?? null })),
  );

/** The approach to each of the locations of an outline. */
const approachesTo = (
  course: Course,
  hole: Hole | undefined,
  locations: OutlinedGreen['locations'],
  lines: OtherLines,
): OutlinedGreen['approaches'] => {
  const approach = hole === undefined ? null : approachTo(course, hole, lines);
  return approach === null ? [] : locations.map((one) => approach(one));
};

/** A green without a survey, as its page shows it. */
export const outlinedAlone = (
  course: Course,
  green: OutlineGreen,
  lines: OtherLines = linesOfCourse(course.map),
): OutlinedGreen => {
  const hole = course.holes.find(({ id }) => id === green.holeId);
  const approaches = approachesTo(course, hole, green.locations, lines);
  return withHeld(green, { worth: null, approaches });
};

/** The greens whose surveys are worth no more than the outline, as their pages show them. */
const outlinedBySurvey = (
  course: Course,
  greens: readonly ShownGreen[],
  lines: OtherLines,
): OutlinedGreen[] =>
  greens.flatMap(({ hole, content }): OutlinedGreen[] => {
    const isAlone = content.worth.worth === 'outline';
    const outline = isAlone ? outlineGreenOf(course, hole) : null;
    if (outline === null) return [];
    const approaches = approachesTo(course, hole, content.locations, lines);
    return [withSurveyed(withHeld(outline, { approaches }), content)];
  });

/** With what a green's survey says of it, which is brought where it was to be brought. */
const withSurveyed = (
  outline: OutlineGreen & Pick<OutlinedGreen, 'approaches'>,
  content: GreenContent,
): OutlinedGreen =>
  fetchedRecord(outline, { locations: () => content.locations, worth: () => content.worth });

/** All that a book's pages show beside notes, from a course and its greens. */
export const contentWithoutNotes = (
  course: Course,
  layout: Layout,
  units: UnitSystem,
  greens: readonly ShownGreen[],
  holes?: readonly HoleFigures[],
): BookContent => {
  const lines = linesOfCourse(course.map);
  // Of a book of all holes; pages of single greens have no outlines beside them.
  const alone = holes === undefined ? [] : outlineGreens(course);
  const outlines = [
    ...alone.map((green) => outlinedAlone(course, green, lines)),
    ...outlinedBySurvey(course, greens, lines),
  ];
  return {
    title: course.title,
    setting: course.setting,
    use: layout.use,
    units,
    stimp: course.stimp,
    past: layout.tables.past,
    imprint: course.imprint,
    greens: greens.map(({ hole, content }) =>
      withApproach(content, approachTo(course, hole, lines)),
    ),
    ...(outlines.length === 0 ? {} : { outlines }),
    ...(holes === undefined ? {} : { holes }),
  };
};

/** All that a book's pages show, from a course and its prepared greens. */
export const contentOf = (
  course: Course,
  layout: Layout,
  units: UnitSystem,
  greens: readonly GreenOfBook[],
  {
    holes,
    notes,
    played,
    words,
    logo,
  }: {
    readonly holes?: readonly HoleFigures[] | undefined;
    readonly notes?: Notes | undefined;
    /** The putts of the notes where they have been compared already. */
    readonly played?: readonly ComparedPutt[] | undefined;
    /** English where they are left out. */
    readonly words?: WordTable | undefined;
    readonly logo?: LogoPicture | null;
  } = {},
): BookContent => ({
  ...contentWithoutNotes(course, layout, units, greens, holes),
  words,
  ...(logo == null ? {} : { logo }),
  ...(notes === undefined
    ? {}
    : {
        notes: withPlayed(notes, played ?? comparePlayed(notes, greens, layout.tables.past), {
          units,
          words,
        }),
      }),
});
