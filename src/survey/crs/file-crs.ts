import { METRES_PER_FOOT, METRES_PER_US_SURVEY_FOOT } from '../../units.js';
import { definitionOf } from './definitions.js';
import { lengthUnitOfCode } from './epsg-units.js';
import type { Stated } from './placement.js';
import type { LengthUnit } from './plane.js';

/** GeoKey value for "defined by the file itself" (OGC GeoTIFF 1.1, 7.1). */
const USER_DEFINED = 32767;

/** Numbers of the GeoKeys that are heeded (OGC GeoTIFF 1.1). */
export const GEO_KEY = {
  rasterType: 1025,
  geographic: 2048,
  projected: 3072,
  linearUnits: 3076,
  verticalUnits: 4099,
} as const;

/** What GeoKeys say of coordinates and units. */
export const stateOfGeoKeys = (key: (number: number) => unknown): Stated => {
  const code = (number: number): number | null => {
    const value = key(number);
    return typeof value === 'number' && value > 0 && value < USER_DEFINED ? value : null;
  };
  const projected = key(GEO_KEY.projected);
  const crs =
    code(GEO_KEY.projected) ?? (projected === USER_DEFINED ? null : code(GEO_KEY.geographic));
  return {
    crs: crs === null ? null : `EPSG:${crs}`,
    unit: lengthUnitOfCode(code(GEO_KEY.linearUnits)),
    verticalUnit: lengthUnitOfCode(code(GEO_KEY.verticalUnits)),
  };
};

/** The text of the first `name[...]` with its brackets matched; null when there is none. */
const partOf = (wkt: string, name: string): string | null => {
  const start = wkt.indexOf(`${name}[`);
  if (start < 0) return null;
  let depth = 0;
  for (let i = start; i < wkt.length; i++) {
    if (wkt[i] === '[') depth += 1;
    else if (wkt[i] === ']' && --depth === 0) return wkt.slice(start, i + 1);
  }
  return null;
};

const unitOfLength = (metres: number): LengthUnit | null => {
  if (Math.abs(metres - 1) < 1e-9) return 'm';
  if (Math.abs(metres - METRES_PER_FOOT) < 1e-9) return 'ft';
  return Math.abs(metres - METRES_PER_US_SURVEY_FOOT) < 1e-9 ? 'us-ft' : null;
};

/** What a WKT 1 text (OGC 01-009) says: its projected part, by code when that is known, and the height unit. */
export const stateOfWkt = (wkt: string): Stated => {
  const horizontal = partOf(wkt, 'PROJCS') ?? partOf(wkt, 'GEOGCS');
  const vertical = partOf(wkt, 'VERT_CS');
  const unit = vertical === null ? null : /UNIT\["[^"]*",\s*([\d.eE+-]+)/.exec(vertical);
  const code = horizontal === null ? null : /AUTHORITY\["EPSG",\s*"?(\d+)"?\]\]$/.exec(horizontal);
  const byCode = code === null ? null : `EPSG:${code[1]}`;
  return {
    crs: byCode !== null && definitionOf(byCode) !== null ? byCode : horizontal,
    unit: null,
    verticalUnit: unit === null ? null : unitOfLength(Number(unit[1])),
  };
};
