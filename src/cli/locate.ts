import type { CommandModule } from 'yargs';
import { holeOf, loadDays } from '../book/course-days.js';
import type { Course } from '../course/course.js';
import { loadCourse } from '../course/load-course.js';
import { InputFault } from '../fault.js';
import { COURSE } from './common-options.js';
import { withGuidanceOptions } from './guidance-options.js';
import { locateAreas } from './locate-areas.js';
import type { LocateArguments } from './locate-arguments.js';
import { locateRota } from './locate-rota.js';

const run = async (args: LocateArguments): Promise<void> => {
  const course: Course = loadCourse(args.course);
  const days = loadDays(course, args.locations);
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

export const locateCommand: CommandModule<object, LocateArguments> = {
  command: 'locate <course> [hole]',
  describe: 'where a hole could be cut: areas of a green by published guidance, or a rota of days',
  builder: (yargs) =>
    withGuidanceOptions(
      yargs
        .positional('course', COURSE)
        .positional('hole', { type: 'string', describe: 'the hole; with --rota, all of them' })
        .option('day', {
          type: 'number',
          describe: 'the day (the first of a rota): holes of earlier days are kept away from',
        })
        .option('speed', { type: 'string', describe: 'green speed of the day: 11.5 (feet), 3.5m' })
        .option('at', {
          type: 'string',
          describe: 'judge one place: "12,5,left" is 12 paces on and 5 in from the left',
        })
        .option('rota', { type: 'number', describe: 'number of days to choose locations for' })
        .option('write', {
          type: 'string',
          describe: 'write the rota to a new CSV file that `runnel holes` reads',
        })
        .option('out', {
          type: 'string',
          default: 'out',
          describe: 'folder whose cache of fitted greens is used',
        })
        .option('locations', {
          type: 'string',
          describe:
            'a CSV file of earlier locations (hole,day,on,in,side); else the one in the course file',
        }),
    ) as never,
  handler: run,
};
