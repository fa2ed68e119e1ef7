import { ownLayouts } from '../layout/own-layouts.js';

/**
 * What each command takes. It stands apart from what the commands do, so that a page of help loads none of
 * it: nothing but words may be imported here.
 */
export type Options = (taker: OptionTaker) => OptionTaker;

/** One argument of a command, as the parser and the help take it. */
export interface Argument {
  readonly describe: string;
  readonly type?: 'string' | 'number' | 'boolean';
  readonly choices?: readonly string[];
  readonly default?: string | number | boolean;
  readonly demandOption?: boolean;
  readonly nargs?: number;
  readonly array?: boolean;
}

/** What is told of each argument in turn: the parser, or who writes the help. */
export interface OptionTaker {
  readonly positional: (name: string, argument: Argument) => OptionTaker;
  readonly option: (name: string, argument: Argument) => OptionTaker;
}

/** What every command takes. */
export const GLOBAL_OPTIONS: Readonly<Record<string, Argument>> = {
  json: { type: 'boolean', default: false, describe: 'machine-readable result on stdout' },
  units: { choices: ['imperial', 'metric'], describe: 'units shown (imperial)' },
  outside: {
    type: 'boolean',
    default: false,
    describe: 'the course file may name files outside its folder',
  },
};

const UNITS = ['m', 'ft', 'us-ft'] as const;
const FORMATS = [
  'points',
  'ascii-grid',
  'geotiff',
  'landxml',
  'las',
  'xlsx',
  'dxf',
  'shapefile',
  'geojson',
  'ply',
  'by-hand',
] as const;

/** How a survey is to be read: each option has a key of the same meaning in the course file. */
const readingOptions: Options = (yargs) =>
  yargs
    .option('crs', {
      type: 'string',
      nargs: 1,
      describe: 'coordinate system: EPSG:32630, or "+proj=utm +zone=30 +datum=WGS84"',
    })
    .option('unit', { choices: UNITS, describe: 'unit of the positions' })
    .option('vertical-unit', { choices: UNITS, describe: 'unit of the heights' })
    .option('columns', {
      type: 'string',
      nargs: 1,
      describe: 'columns of a points file in order: "id north east height code"',
    })
    .option('classes', {
      type: 'string',
      nargs: 1,
      describe: 'ground classes of a point cloud [2]',
    })
    .option('surface', {
      type: 'string',
      nargs: 1,
      describe: 'name of one surface of a LandXML file',
    })
    .option('layer', {
      type: 'string',
      nargs: 1,
      describe: 'layer of a drawing that holds the ground',
    })
    .option('sheet', {
      type: 'string',
      nargs: 1,
      describe: 'sheet of a workbook, or file of an archive',
    })
    .option('band', {
      type: 'number',
      nargs: 1,
      describe: 'band of a GeoTIFF with the heights [1]',
    })
    .option('sigma', {
      type: 'string',
      nargs: 1,
      describe: 'standard deviation of a height that the survey states: 0.4in, 10mm',
    })
    .option('format', { choices: FORMATS, describe: 'format, if the first bytes mislead' });

/** Arguments that several commands take, in one wording. */
const COURSE = {
  type: 'string',
  demandOption: true,
  describe: 'course folder or course file',
} as const;

const HOLE = {
  type: 'string',
  demandOption: true,
  describe: 'the hole, as the course file names it',
} as const;

const OUT = { type: 'string', default: 'out', describe: 'folder for what is made' } as const;

const layoutOption = () =>
  ({
    type: 'string',
    default: 'pocket',
    describe: `a layout file, or one of ${ownLayouts().join(', ')}`,
  }) as const;

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

export const bookOptions: Options = (yargs) =>
  yargs
    .positional('course', {
      type: 'string',
      array: true,
      describe: 'course folder or course file; several make a book each',
    })
    .option('list', {
      type: 'string',
      describe: 'table (CSV) of books: columns course, layout, use, units, edition, buyer, since',
    })
    .option('layout', layoutOption())
    .option('out', OUT)
    .option('use', {
      choices: ['practice', 'play', 'committee'] as const,
      describe: 'condition of use, instead of the layout’s; what does not fit it is refused',
    })
    .option('edition', {
      type: 'string',
      nargs: 1,
      describe: 'edition, instead of the course’s: "Second edition, 2027"',
    })
    .option('buyer', {
      type: 'string',
      nargs: 1,
      describe: 'for whom or for which event the book is made, instead of the course’s',
    })
    .option('buyers', {
      type: 'string',
      nargs: 1,
      describe: 'table (CSV) with a column buyer: one cover each, where the layout has its own',
    })
    .option('date', {
      type: 'string',
      nargs: 1,
      describe: 'when it is made: 2027-05-03; else SOURCE_DATE_EPOCH, else no date at all',
    })
    .option('since', {
      type: 'string',
      nargs: 1,
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
  yargs.option('out', OUT).option('clear', {
    type: 'boolean',
    default: false,
    describe: 'remove all that is kept; products stay',
  });

export const checkOptions: Options = (yargs) =>
  yargs.positional('file', {
    type: 'string',
    demandOption: true,
    describe: 'a PDF that `runnel book` made',
  });

export const compareOptions: Options = (yargs) =>
  readingOptions(yargs)
    .positional('older', {
      type: 'string',
      demandOption: true,
      describe: 'survey file; or "course", the survey that --course names for the hole',
    })
    .positional('newer', { type: 'string', demandOption: true, describe: 'survey file' })
    .option('course', {
      type: 'string',
      describe: 'course whose green it is: gives outline, frame, hole locations and speed',
    })
    .option('hole', { type: 'string', describe: 'the hole of that course' })
    .option('at', {
      type: 'string',
      array: true,
      describe: 'a hole whose table to compare: X,Y in the coordinates of the survey',
    })
    .option('speed', { type: 'string', describe: 'green speed of the tables: 10.5 (feet), 3.2m' })
    .option('layout', {
      type: 'string',
      default: 'pocket',
      describe: 'layout that gives lengths and pace of the tables',
    })
    .option('level', {
      type: 'boolean',
      default: false,
      describe: 'take a common difference of height (another benchmark) off first',
    })
    .option('svg', { type: 'string', describe: 'draws what moved to this file' });

export const dayOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE)
    .option('day', { type: 'number', demandOption: true, describe: 'the day, from 1' })
    .option('speed', {
      type: 'string',
      nargs: 1,
      describe: "green speed of the day: 11.5 (feet), 3.5m; else the course's own",
    })
    .option('locations', {
      type: 'string',
      nargs: 1,
      describe: 'a CSV file with the columns hole,day,on,in,side; else the one in the course file',
    })
    .option('paste', {
      type: 'boolean',
      default: false,
      describe: 'reads the locations from standard input: "7  12 on  5 left", one a line',
    })
    .option('tees', {
      type: 'string',
      nargs: 1,
      describe:
        "today's tees and, in yards, how far behind (+) or before (-) the card: Moor,7:+6,12:-10",
    })
    .option('date', {
      type: 'string',
      nargs: 1,
      describe: 'printed at the head; else room for it; 2027-05-03 dates the files, too',
    })
    .option('wind', {
      type: 'string',
      nargs: 1,
      describe: 'drawn on each hole: 12mph,240 (where it comes from); else room to draw it',
    })
    .option('layout', {
      type: 'string',
      default: 'day',
      describe: `a layout file with pages of a day, or one of ${ownLayouts().join(', ')}`,
    })
    .option('out', OUT);

export const distancesOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE)
    .positional('hole', HOLE)
    .option('from', {
      type: 'string',
      nargs: 1,
      describe:
        'a landmark or a tee by its name, paces on ("210", "210 left 15"), or longitude,latitude; else all landmarks and tees',
    })
    .option('width', {
      type: 'string',
      nargs: 1,
      describe: 'how wide the fairway is so many yards (or metres) from the start: 200,250',
    });

export const greenOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE)
    .positional('hole', HOLE)
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
    .option('out', OUT);

export const holesOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE)
    .option('day', { type: 'number', describe: 'the day; without it, all days' })
    .option('hole', { type: 'string', describe: 'one hole only' })
    .option('locations', {
      type: 'string',
      describe: 'a CSV file with the columns hole,day,on,in,side; else the one in the course file',
    })
    .option('at', {
      type: 'string',
      describe: 'a surveyed point of --hole, such as 387573.41,3608072.50, told in paces',
    });

export const layoutsOptions: Options = (yargs) =>
  yargs.option('schema', {
    type: 'boolean',
    default: false,
    describe: 'print the JSON Schema that layout files are checked against',
  });

export const locateOptions: Options = (yargs) =>
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
  );

export const newOptions: Options = (yargs) =>
  yargs
    .positional('folder', {
      type: 'string',
      demandOption: true,
      describe: 'folder to make; nothing in it is overwritten',
    })
    .option('map', {
      type: 'string',
      demandOption: true,
      describe: 'GeoJSON, OpenStreetMap XML or Overpass JSON with golf=* tags',
    })
    .option('course', {
      type: 'string',
      nargs: 1,
      describe: 'which course of the map, by its name; asked for on a terminal',
    })
    .option('title', {
      type: 'string',
      nargs: 1,
      describe: "the course's name; else the map's, else the folder's",
    })
    .option('pars', {
      type: 'string',
      nargs: 1,
      describe: 'the par of every hole, "4 4 3 …"; asked for on a terminal where the map has none',
    })
    .option('indexes', {
      type: 'string',
      nargs: 1,
      describe: 'the stroke index of every hole, likewise',
    });

export const proofOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE)
    .option('layout', layoutOption())
    .option('locations', {
      type: 'string',
      nargs: 1,
      describe: 'a CSV file with the columns hole,day,on,in,side; else the one in the course file',
    })
    .option('port', { type: 'number', default: 7480, describe: '0 takes any that is free' })
    .option('out', {
      type: 'string',
      default: 'out',
      describe: 'folder whose cache is used',
    });

export const puttOptions: Options = (yargs) =>
  readingOptions(yargs)
    .option('survey', { type: 'string', nargs: 1, describe: 'survey file' })
    .option('course', {
      type: 'string',
      nargs: 1,
      describe:
        'in place of --survey: a course, with --green; coordinates in the plane of its survey',
    })
    .option('green', { type: 'string', nargs: 1, describe: 'hole of the course' })
    .option('out', {
      type: 'string',
      nargs: 1,
      default: 'out',
      describe: 'folder whose cache of fitted greens is used',
    })
    .option('from', { type: 'string', nargs: 1, demandOption: true, describe: 'the ball: X,Y' })
    .option('hole', { type: 'string', nargs: 1, demandOption: true, describe: 'the hole: X,Y' })
    .option('stimp', {
      type: 'string',
      nargs: 1,
      demandOption: true,
      describe: 'green speed: 10 (feet), 3.05m',
    })
    .option('past', {
      type: 'string',
      nargs: 1,
      default: '12in',
      describe: 'pace past the hole: 12in, 30cm',
    })
    .option('svg', { type: 'string', nargs: 1, describe: 'draws the putt to this file' });

export const rollOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE)
    .positional('file', {
      type: 'string',
      demandOption: true,
      describe: 'rolls.yaml: the hole, and balls with from, toward and where they came to rest',
    })
    .option('out', {
      type: 'string',
      nargs: 1,
      default: 'out',
      describe: 'folder whose cache of fitted greens is used',
    });

export const speedOptions: Options = (yargs) =>
  yargs
    .option('up', {
      type: 'string',
      nargs: 1,
      demandOption: true,
      describe: 'roll up the slope: 7ft, 2.1m',
    })
    .option('down', {
      type: 'string',
      nargs: 1,
      demandOption: true,
      describe: 'roll down the same slope with the same release',
    });

export const stationOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE)
    .positional('hole', HOLE)
    .option('on', { type: 'number', nargs: 1, describe: 'the hole: so many paces on' })
    .option('left', { type: 'number', nargs: 1, describe: 'and so many in from the left' })
    .option('right', { type: 'number', nargs: 1, describe: 'or from the right' })
    .option('location', {
      type: 'string',
      nargs: 1,
      describe: 'in place of these: a hole location of the course file, by its letter',
    })
    .option('step', {
      type: 'string',
      nargs: 1,
      default: '1pace',
      describe: 'from the hole to each tee: 1pace, 4ft, 1.2m',
    })
    .option('speed', {
      type: 'string',
      nargs: 1,
      describe: "green speed: 11.5 (feet), 3.5m; else the green's own",
    })
    .option('past', {
      type: 'string',
      nargs: 1,
      describe: "pace past the hole: 12in, 30cm; else the layout's",
    })
    .option('round', {
      type: 'number',
      nargs: 1,
      describe: 'also a walk round the hole, from 8 or 12 tees',
    })
    .option('layout', {
      type: 'string',
      default: 'practice-large',
      describe: `a layout file with pages of stations, or one of ${ownLayouts().join(', ')}`,
    })
    .option('out', OUT);

export const surveyOptions: Options = (yargs) =>
  readingOptions(yargs)
    .positional('file', {
      type: 'string',
      describe:
        'points (CSV, TXT, XLSX), grid, GeoTIFF, LandXML, LAS, LAZ, DXF, shapefile, GeoJSON, PLY; - for standard input',
    })
    .option('course', {
      type: 'string',
      describe: 'course folder whose map has the outline of the green',
    })
    .option('hole', { type: 'string', describe: 'hole of the course, or of the map' })
    .option('outline', { type: 'string', describe: 'map file with the outline of the green' })
    .option('svg', { type: 'string', describe: 'write a picture as SVG to this file' })
    .option('png', { type: 'string', describe: 'write a picture as PNG to this file' });
