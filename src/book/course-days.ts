import { join } from 'node:path';
import type { Course, Hole } from '../course/course.js';
import { type DayEntry, readDayFile } from '../event/day-file.js';
import { type DayLocation, daysOf, locationsByDay } from '../event/day-locations.js';
import { InputFault } from '../fault.js';
import { readNamedFile } from '../named-file.js';

/** The text of a file that the user named. */
export const readUserText = (file: string): string =>
  readNamedFile(file, 'check the name').toString('utf8');

/** The hole locations by day: of the file named on the command line, else of the one in the course file. */
export const loadDays = (course: Course, file: string | undefined): DayLocation[] => {
  const path = file ?? (course.dayFile === null ? null : join(course.folder, course.dayFile));
  const entries: DayEntry[] = path === null ? [] : readDayFile(readUserText(path), path);
  return locationsByDay(course, entries, path ?? course.file);
};

/** The locations of one day; a fault when the day has none. */
export const locationsOfDay = (
  course: Course,
  days: readonly DayLocation[],
  day: number,
): DayLocation[] => {
  const found = days.filter((one) => one.day === day);
  if (found.length > 0) return found;
  const known = daysOf(days);
  throw new InputFault(
    { file: course.file },
    `there is no hole location for day ${day}`,
    known.length === 0
      ? 'name a file with the columns hole,day,on,in,side by --locations, or by the key "days"'
      : `there are locations for day ${known.join(', ')}`,
  );
};

/** A hole by its number as typed; a fault when the course lacks it. */
export const holeOf = (course: Course, id: string): Hole => {
  const wanted = id.trim().replace(/^0+(?=\d)/, '');
  const hole = course.holes.find((one) => one.id === wanted);
  if (hole !== undefined) return hole;
  throw new InputFault(
    { file: course.file },
    `the course has no hole ${id}`,
    `its holes are ${course.holes.map((one) => one.id).join(', ')}`,
  );
};
