import {
  CACHE_OPTION,
  COURSE_ARGUMENT,
  HOLE_ARGUMENT,
  LOCATIONS_OPTION,
  layoutOption,
  type Options,
  OUT_OPTION,
} from './options.js';

/** Arguments of the commands that make books and look at them. Nothing but words, like `options`. */

export const bookOptions: Options = (yargs) =>
  yargs
    .positional('course', {
      type: 'string',
      path: true,
      array: true,
      describe: 'course folder or course file; several make a book each',
    })
    .option('list', {
      type: 'string',
      path: true,
      describe: 'table (CSV) of books: columns course, layout, use, units, edition, buyer, since',
    })
    .option('layout', layoutOption())
    .option('out', OUT_OPTION)
    .option('use', {
      choices: ['practice', 'play', 'committee'] as const,
      describe: 'condition of use, instead of the layout’s; what does not fit it is refused',
    })
    .option('edition', {
      type: 'string',
      describe: 'edition, instead of the course’s: "Second edition, 2027"',
    })
    .option('buyer', {
      type: 'string',
      describe: 'for whom or for which event the book is made, instead of the course’s',
    })
    .option('buyers', {
      type: 'string',
      path: true,
      describe: 'table (CSV) with a column buyer: one cover each, where the layout has its own',
    })
    .option('date', {
      type: 'string',
      describe: 'when it is made: 2027-05-03; else SOURCE_DATE_EPOCH, else no date at all',
    })
    .option('since', {
      type: 'string',
      path: true,
      describe:
        'a PDF or the books.json of the last edition: tells what has changed, and makes the changed leaves alone',
    })
    .option('svg', {
      type: 'boolean',
      default: false,
      describe: 'each page also as SVG',
    })
    .option('png', {
      type: 'number',
      describe: 'each page also as PNG, at so many pixels to an inch (36 to 1200)',
    });

export const cacheOptions: Options = (yargs) =>
  yargs.option('out', OUT_OPTION).option('clear', {
    type: 'boolean',
    default: false,
    describe: 'remove all that is kept; products stay',
  });

export const checkOptions: Options = (yargs) =>
  yargs.positional('file', {
    type: 'string',
    path: true,
    demandOption: true,
    describe: 'a PDF that `runnel book` made',
  });

export const greenOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE_ARGUMENT)
    .positional('hole', HOLE_ARGUMENT)
    .option('layout', layoutOption())
    .option('geojson', {
      type: 'boolean',
      default: false,
      describe: 'writes the reading in longitude and latitude, too',
    })
    .option('pour', {
      type: 'string',
      array: true,
      describe:
        'pours water: "12,5,left" is 12 paces on and 5 in from the left; several after one another',
    })
    .option('out', OUT_OPTION);

export const layoutsOptions: Options = (yargs) =>
  yargs.option('schema', {
    type: 'boolean',
    default: false,
    describe: 'print the JSON Schema that layout files are checked against',
  });

export const newOptions: Options = (yargs) =>
  yargs
    .positional('folder', {
      type: 'string',
      path: true,
      demandOption: true,
      describe: 'folder to make; nothing in it is overwritten',
    })
    .option('map', {
      type: 'string',
      path: true,
      demandOption: true,
      describe: 'GeoJSON, OpenStreetMap XML or Overpass JSON with golf=* tags',
    })
    .option('course', {
      type: 'string',
      describe: 'which course of the map, by its name; asked for on a terminal',
    })
    .option('title', {
      type: 'string',
      describe: "the course's name; else the map's, else the folder's",
    })
    .option('pars', {
      type: 'string',
      describe: 'the par of every hole, "4 4 3 …"; asked for on a terminal where the map has none',
    })
    .option('indexes', {
      type: 'string',
      describe: 'the stroke index of every hole, likewise',
    });

export const proofOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE_ARGUMENT)
    .option('layout', layoutOption())
    .option('locations', LOCATIONS_OPTION)
    .option('port', { type: 'number', default: 7480, describe: '0 takes any that is free' })
    .option('out', CACHE_OPTION);
