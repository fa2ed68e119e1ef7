import { loadDays } from '../book/course-days.js';
import type { Course } from '../course/course.js';
import { loadCourse } from '../course/load-course.js';
import { holeOf } from '../course/named-hole.js';
import { InputFault } from '../fault.js';
import { type UnitsOpen, withUnits } from './course-units.js';
import { locateAreas } from './locate-areas.js';
import type { LocateArguments } from './locate-arguments.js';
import { locateRota } from './locate-rota.js';
import { say } from './output.js';

export const runLocate = async (asked: UnitsOpen<LocateArguments>): Promise<void> => {
  const course: Course = loadCourse(asked.course, asked);
  const args = withUnits<LocateArguments>(asked, course);
  const days = loadDays(course, { file: args.locations, note: say });
  if (args.rota !== undefined) {
    if (args.at !== undefined) {
      throw new InputFault(
        { file: 'command line', place: '--at' },
        'a single place is not judged together with a rota',
        'leave out --rota',
      );
    }
    await locateRota(args, course, days);
    return;
  }
  if (args.write !== undefined) {
    throw new InputFault(
      { file: 'command line', place: '--write' },
      'only a rota is written to a file',
      'ask for one by --rota 4',
    );
  }
  if (args.hole === undefined) {
    throw new InputFault(
      { file: 'command line' },
      'no hole is named',
      'name one, or ask for a rota of the whole course by --rota 4',
    );
  }
  await locateAreas(args, course, holeOf(course, args.hole), days);
};
