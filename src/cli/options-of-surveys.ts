import { CACHE_OPTION, COURSE_ARGUMENT, type Options } from './options.js';

/** Arguments of the commands that read surveys and solve single putts. Nothing but words, like `options`. */

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
      describe: 'coordinate system: EPSG:32630, or "+proj=utm +zone=30 +datum=WGS84"',
    })
    .option('unit', { choices: UNITS, describe: 'unit of the positions' })
    .option('vertical-unit', { choices: UNITS, describe: 'unit of the heights' })
    .option('columns', {
      type: 'string',
      describe: 'columns of a points file in order: "id north east height code"',
    })
    .option('classes', {
      type: 'string',
      describe: 'ground classes of a point cloud [2]',
    })
    .option('surface', {
      type: 'string',
      describe: 'name of one surface of a LandXML file',
    })
    .option('layer', {
      type: 'string',
      describe: 'layer of a drawing that holds the ground',
    })
    .option('sheet', {
      type: 'string',
      describe: 'sheet of a workbook, or file of an archive',
    })
    .option('band', {
      type: 'number',
      describe: 'band of a GeoTIFF with the heights [1]',
    })
    .option('sigma', {
      type: 'string',
      describe: 'standard deviation of a height that the survey states: 0.4in, 10mm',
    })
    .option('format', { choices: FORMATS, describe: 'format, if the first bytes mislead' });

export const compareOptions: Options = (yargs) =>
  readingOptions(yargs)
    .positional('older', {
      type: 'string',
      path: true,
      demandOption: true,
      describe: 'survey file; or "course", the survey that --course names for the hole',
    })
    .positional('newer', {
      type: 'string',
      path: true,
      demandOption: true,
      describe: 'survey file',
    })
    .option('course', {
      type: 'string',
      path: true,
      describe: 'course whose green it is: gives outline, frame, hole locations and speed',
    })
    .option('hole', { type: 'string', describe: 'the hole of that course' })
    .option('at', {
      type: 'string',
      array: true,
      describe: 'a hole whose table to compare: X,Y in the coordinates of the survey',
    })
    .option('speed', {
      type: 'string',
      greenSpeed: true,
      describe: 'green speed of the tables: 10.5 (feet), 3.2m',
    })
    .option('layout', {
      type: 'string',
      path: true,
      default: 'pocket',
      describe: 'layout that gives lengths and pace of the tables',
    })
    .option('level', {
      type: 'boolean',
      default: false,
      describe: 'take a common difference of height (another benchmark) off first',
    })
    .option('svg', { type: 'string', path: true, describe: 'draws what moved to this file' });

export const puttOptions: Options = (yargs) =>
  readingOptions(yargs)
    .option('survey', { type: 'string', path: true, describe: 'survey file' })
    .option('course', {
      type: 'string',
      path: true,
      describe:
        'in place of --survey: a course, with --green; coordinates in the plane of its survey',
    })
    .option('green', { type: 'string', describe: 'hole of the course' })
    .option('out', CACHE_OPTION)
    .option('from', { type: 'string', demandOption: true, describe: 'the ball: X,Y' })
    .option('hole', { type: 'string', demandOption: true, describe: 'the hole: X,Y' })
    .option('stimp', {
      type: 'string',
      demandOption: true,
      greenSpeed: true,
      describe: 'green speed: 10 (feet), 3.05m',
    })
    .option('past', {
      type: 'string',
      default: '12in',
      describe: 'pace past the hole: 12in, 30cm',
    })
    .option('svg', {
      type: 'string',
      path: true,
      describe: 'draws the putt to this file',
    });

export const rollOptions: Options = (yargs) =>
  yargs
    .positional('course', COURSE_ARGUMENT)
    .positional('file', {
      type: 'string',
      demandOption: true,
      path: true,
      describe: 'rolls.yaml: the hole, and balls with from, toward and where they came to rest',
    })
    .option('out', CACHE_OPTION);

export const surveyOptions: Options = (yargs) =>
  readingOptions(yargs)
    .positional('file', {
      type: 'string',
      describe:
        'points (CSV, TXT, XLSX), grid, GeoTIFF, LandXML, LAS, LAZ, DXF, shapefile, GeoJSON, PLY; - for standard input',
    })
    .option('course', {
      type: 'string',
      path: true,
      describe: 'course folder whose map has the outline of the green',
    })
    .option('hole', { type: 'string', describe: 'hole of the course, or of the map' })
    .option('outline', {
      type: 'string',
      path: true,
      describe: 'map file with the outline of the green',
    })
    .option('svg', { type: 'string', path: true, describe: 'write a picture as SVG to this file' })
    .option('png', { type: 'string', path: true, describe: 'write a picture as PNG to this file' });
