import type { Course } from '../course/course.js';
import type { EditionRecord } from './edition-record.js';
import { outlineOf, whereOf } from './place-digests.js';

/** What tells a course from others: its title, where it lies, the edges of its greens. */
export interface CourseMarks extends Pick<EditionRecord, 'title' | 'at'> {
  readonly outlines: readonly string[];
}

export const courseMarks = (course: Course): CourseMarks => ({
  title: course.title,
  at: whereOf(course),
  outlines: course.holes.flatMap((hole) => outlineOf(hole) ?? []),
});

/** The same of a course as the record of its book tells it. */
export const marksOfRecord = ({ title, at, holes }: EditionRecord): CourseMarks => ({
  title,
  at,
  outlines: holes.flatMap(({ outline }) => outline ?? []),
});

/** Degrees of latitude: some five kilometres, as far as the parts of one course lie from each other. */
const FAR = 0.05;

/** Whether marks are of another course: no green is the same, and it bears another name or lies elsewhere. */
export const isOfOther = (known: CourseMarks, { title, at, outlines }: CourseMarks): boolean => {
  if (known.outlines.length === 0 || outlines.length === 0) return false;
  if (known.outlines.some((outline) => outlines.includes(outline))) return false;
  if (known.title !== title) return true;
  if (known.at === null || at === null) return false;
  const across = Math.abs(known.at[0] - at[0]) % 360;
  const east = Math.min(across, 360 - across) * Math.cos((at[1] * Math.PI) / 180);
  return Math.hypot(east, known.at[1] - at[1]) > FAR;
};
