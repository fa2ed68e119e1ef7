import { InputFault, quotedInPart } from '../fault.js';
import type { Course, GreenSite, Hole } from './course.js';
import { inRuns } from './hole-refs.js';

/** A hole as a user wrote it, in a fault: quoted where it is no plain number. */
export const holeAsWritten = (id: string): string =>
  /^[a-z]?\d+$/i.test(id) ? id : quotedInPart(id);

/** What is wrong with a hole that the course lacks, and what would be right. */
export const noSuchHole = (
  { holes }: Pick<Course, 'holes'>,
  id: string,
): [problem: string, cure: string] => [
  `the course has no hole ${holeAsWritten(id)}`,
  `its holes are ${inRuns(
    holes.map((one) => one.id),
    ' to ',
  )}`,
];

/** A hole by its number as typed; a fault when the course lacks it. */
export const holeOf = (course: Course, id: string): Hole => {
  const wanted = id.trim().replace(/^0+(?=\d)/, '');
  const hole = course.holes.find((one) => one.id === wanted);
  if (hole !== undefined) return hole;
  throw new InputFault({ file: course.file }, ...noSuchHole(course, wanted));
};

/** The green of a hole, as far as its survey goes; a fault when the course file names none. */
export const surveyedGreen = (course: Course, hole: Hole): GreenSite => {
  if (hole.green !== null) return hole.green;
  throw new InputFault(
    { file: course.file, place: `hole ${hole.id}` },
    'the hole has no survey',
    'name the survey of its green by the key "survey"',
  );
};
