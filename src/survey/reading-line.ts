import { METRES_PER_FOOT, METRES_PER_US_SURVEY_FOOT } from '../units.js';
import { stateOfWkt } from './crs/file-crs.js';
import type { Stated } from './crs/placement.js';
import { coordinateSystem, type LengthUnit } from './crs/plane.js';
import type { ReadOptions, ReadResult } from './readers/file-reader.js';
import type { SurveyFormat } from './readers/sniff.js';

/** What a reading came to. */
interface ReadingOfFile {
  readonly format: SurveyFormat;
  readonly result: ReadResult;
  readonly options: ReadOptions;
  /** What the file states, and what was used in the end. */
  readonly file: Stated;
  readonly used: Stated;
  /** The first point in the file's own numbers; null when no cell or point was looked at. */
  readonly first: readonly [number, number, number] | null;
}

const UNIT: Readonly<Record<LengthUnit, string>> = {
  m: 'metres',
  ft: 'international feet',
  'us-ft': 'US survey feet',
};

const crsName = (crs: string): string =>
  crs.length <= 40 ? crs : `${/^[A-Z_]+\["([^"]{1,40})/.exec(crs)?.[1] ?? 'own definition'}`;

const unitOfSystem = (crs: string): string => {
  const system = coordinateSystem(crs);
  if (system.geographic) return 'degrees';
  return Math.abs(system.unit - 1) < 1e-9
    ? 'metres'
    : Math.abs(system.unit - METRES_PER_FOOT) < 1e-9
      ? 'international feet'
      : Math.abs(system.unit - METRES_PER_US_SURVEY_FOOT) < 1e-9
        ? 'US survey feet'
        : `units of ${system.unit} m`;
};

const positions = ({ options, used, result }: ReadingOfFile): string => {
  if (options.unit !== undefined && options.unit !== null && used.unit !== null)
    return `${UNIT[used.unit]} (as asked)`;
  if (used.crs !== null && unitOfSystem(used.crs) === 'degrees') return 'degrees';
  if (used.unit !== null)
    return `${UNIT[used.unit]} (${result.unitWhence || 'the file states it'})`;
  if (used.crs !== null) return `${unitOfSystem(used.crs)} (of the coordinate system)`;
  return 'metres (nothing states the unit)';
};

const heights = ({ options, used, result }: ReadingOfFile): string => {
  if (used.verticalUnit === null) {
    const degrees = used.crs !== null && unitOfSystem(used.crs) === 'degrees';
    return degrees
      ? 'metres (nothing states their unit)'
      : 'in the unit of the positions (nothing states their own)';
  }
  const asked = options.verticalUnit !== undefined && options.verticalUnit !== null;
  return `${UNIT[used.verticalUnit]} (${asked ? 'as asked' : result.unitWhence || 'the file states it'})`;
};

/** Who states a coordinate system: the file, or the text beside it. */
const statesIt = (crs: string, { beside }: ReadOptions): string =>
  beside?.prj !== undefined && stateOfWkt(beside.prj).crs === crs
    ? 'the .prj beside it states it'
    : 'the file states it';

/** One line: which column is what, unit, coordinate system, first point, and whence each was known. */
export const readingLine = (reading: ReadingOfFile): string => {
  const { result, options, file, used, first, format } = reading;
  const asked = options.crs !== undefined && options.crs !== null && options.crs === used.crs;
  const system =
    used.crs === null
      ? 'none stated'
      : `${crsName(used.crs)} (${asked ? 'as asked' : file.degrees ? 'longitude and latitude' : statesIt(used.crs, options)})`;
  return [
    result.how ?? FORMAT_WORDS[format],
    `positions in ${positions(reading)}`,
    `heights ${heights(reading)}`,
    `coordinate system ${system}`,
    ...(first === null ? [] : [`first point ${first.map((v) => Number(v.toFixed(6))).join(', ')}`]),
  ].join('; ');
};

const FORMAT_WORDS: Readonly<Record<SurveyFormat, string>> = {
  points: 'points',
  'ascii-grid': 'ASCII grid, heights at the centres of cells',
  geotiff: 'GeoTIFF, heights at the centres of cells',
  landxml: 'LandXML, northing, easting, height',
  las: 'LAS, the points of the ground classes',
  xlsx: 'a workbook',
  dxf: 'DXF',
  shapefile: 'shapefile',
  geojson: 'GeoJSON',
  ply: 'PLY',
};
