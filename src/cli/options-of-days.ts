import { ownLayouts } from '../layout/own-layouts.js';
import {
  CACHE_OPTION,
  COURSE_ARGUMENT,
  HOLE_ARGUMENT,
  LOCATIONS_OPTION,
  type Options,
  OUT_OPTION,
} from './options.js';

/** Arguments of the commands about days, hole locations and distances. Nothing but words, like `options`. */

const withGuidanceOptions: Options = (yargs) =>
  yargs
    .option('edge', {
      type: 'number',
      describe: 'least distance from the edge, paces (4; 3 on greens under 5000 sq ft)',
    })
    .option('steepest', {
      type: 'number',
      describe: 'greatest grade within 3 ft of the hole, per cent (3)',
    })
    .option('uneven', {
      type: 'number',
      describe: 'greatest departure of the grade from its mean there, per cent (1.5)',
    })
    .option('past', {
      type: 'string',
      describe:
        'pace at which a ball from above passes the hole: its roll past on the level (12in)',
    })
    .option('within', {
      type: 'string',
      describe: 'how far past the hole that ball may run on the real ground (36in)',
    })
    .option('apart', {
      type: 'number',
      describe: 'least distance from earlier locations, paces (5)',
    });

export const dayOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE_ARGUMENT)
    .option('day', { type: 'number', demandOption: true, describe: 'the day, from 1' })
    .option('speed', {
      type: 'string',
      greenSpeed: true,
      describe: "green speed of the day: 11.5 (feet), 3.5m; else the course's own",
    })
    .option('locations', LOCATIONS_OPTION)
    .option('paste', {
      type: 'boolean',
      default: false,
      describe: 'reads the locations from standard input: "7  12 on  5 left", one a line',
    })
    .option('tees', {
      type: 'string',
      describe:
        "today's tees and, in yards, how far behind (+) or before (-) the card: Moor,7:+6,12:-10",
    })
    .option('date', {
      type: 'string',
      describe: 'printed at the head; else room for it; 2027-05-03 dates the files, too',
    })
    .option('wind', {
      type: 'string',
      describe: 'drawn on each hole: 12mph,240 (where it comes from); else room to draw it',
    })
    .option('layout', {
      type: 'string',
      path: true,
      default: 'day',
      describe: `a layout file with pages of a day, or one of ${ownLayouts().join(', ')}`,
    })
    .option('out', OUT_OPTION);

export const distancesOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE_ARGUMENT)
    .positional('hole', HOLE_ARGUMENT)
    .option('from', {
      type: 'string',
      describe:
        'a landmark or a tee by its name, paces on ("210", "210 left 15"), or longitude,latitude; else all landmarks and tees',
    })
    .option('width', {
      type: 'string',
      describe: 'how wide the fairway is so many yards (or metres) from the start: 200,250',
    });

export const holesOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE_ARGUMENT)
    .option('day', { type: 'number', describe: 'the day; without it, all days' })
    .option('hole', { type: 'string', describe: 'one hole only' })
    .option('locations', LOCATIONS_OPTION)
    .option('at', {
      type: 'string',
      describe: 'a surveyed point of --hole, such as 387573.41,3608072.50, told in paces',
    });

export const locateOptions: Options = (yargs) =>
  withGuidanceOptions(
    yargs
      .positional('course', COURSE_ARGUMENT)
      .positional('hole', { type: 'string', describe: 'the hole; with --rota, all of them' })
      .option('day', {
        type: 'number',
        describe: 'the day (the first of a rota): holes of earlier days are kept away from',
      })
      .option('speed', {
        type: 'string',
        greenSpeed: true,
        describe: 'green speed of the day: 11.5 (feet), 3.5m',
      })
      .option('at', {
        type: 'string',
        describe: 'judge one place: "12,5,left" is 12 paces on and 5 in from the left',
      })
      .option('rota', { type: 'number', describe: 'number of days to choose locations for' })
      .option('write', {
        type: 'string',
        path: true,
        describe: 'write the rota to a new CSV file that `runnel holes` reads',
      })
      .option('out', CACHE_OPTION)
      .option('locations', {
        type: 'string',
        path: true,
        describe:
          'a CSV file of earlier locations (hole,day,on,in,side); else the one in the course file',
      }),
  );

export const speedOptions: Options = (yargs) =>
  yargs
    .option('up', {
      type: 'string',
      demandOption: true,
      describe: 'roll up the slope: 7ft, 2.1m',
    })
    .option('down', {
      type: 'string',
      demandOption: true,
      describe: 'roll down the same slope with the same release',
    });

export const stationOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE_ARGUMENT)
    .positional('hole', HOLE_ARGUMENT)
    .option('on', { type: 'number', describe: 'the hole: so many paces on' })
    .option('left', { type: 'number', describe: 'and so many in from the left' })
    .option('right', { type: 'number', describe: 'or from the right' })
    .option('location', {
      type: 'string',
      describe: 'in place of these: a hole location of the course file, by its letter',
    })
    .option('step', {
      type: 'string',
      default: '1pace',
      describe: 'from the hole to each tee: 1pace, 4ft, 1.2m',
    })
    .option('speed', {
      type: 'string',
      greenSpeed: true,
      describe: "green speed: 11.5 (feet), 3.5m; else the green's own",
    })
    .option('past', {
      type: 'string',
      describe: "pace past the hole: 12in, 30cm; else the layout's",
    })
    .option('round', {
      type: 'number',
      describe: 'also a walk round the hole, from 8 or 12 tees',
    })
    .option('layout', {
      type: 'string',
      path: true,
      default: 'practice-large',
      describe: `a layout file with pages of stations, or one of ${ownLayouts().join(', ')}`,
    })
    .option('out', OUT_OPTION);
