import { InputFault, quotedInPart } from '../fault.js';
import type { Course, GreenSite, Hole } from './course.js';

/** A hole as a user wrote it, in a fault: quoted where it is no plain number. */
export const holeAsWritten = (id: string): string =>
  /^[a-z]?\d+$/i.test(id) ? id : quotedInPart(id);

/** A hole by its number as typed; a fault when the course lacks it. */
export const holeOf = (course: Course, id: string): Hole => {
  const wanted = id.trim().replace(/^0+(?=\d)/, '');
  const hole = course.holes.find((one) => one.id === wanted);
  if (hole !== undefined) return hole;
  throw new InputFault(
    { file: course.file },
    `the course has no hole ${holeAsWritten(wanted)}`,
    `its holes are ${course.holes.map((one) => one.id).join(', ')}`,
  );
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
