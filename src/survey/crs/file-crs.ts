import { METRES_PER_FOOT, METRES_PER_US_SURVEY_FOOT } from '../../units.js';
import { definitionOf } from './definitions.js';
import { lengthUnitOfCode, verticalUnitOfCode } from './epsg-units.js';
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
  vertical: 4096,
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
    verticalUnit:
      lengthUnitOfCode(code(GEO_KEY.verticalUnits)) ?? verticalUnitOfCode(code(GEO_KEY.vertical)),
  };
};

/** The text of the first `name[...]` with its brackets matched; null when there is none. */
const partOf = (wkt: string, ...names: readonly string[]): string | null => {
  for (const name of names) {
    const start = new RegExp(`\\b${name}\\s*\\[`, 'i').exec(wkt)?.index ?? -1;
    if (start < 0) continue;
    let depth = 0;
    let quoted = false;
    for (let i = start; i < wkt.length; i++) {
      if (wkt[i] === '"') quoted = !quoted;
      else if (!quoted && wkt[i] === '[') depth += 1;
      else if (!quoted && wkt[i] === ']' && --depth === 0) return wkt.slice(start, i + 1);
    }
  }
  return null;
};

/** Metres of a unit to seven places: texts round the US survey foot. */
const unitOfLength = (metres: number): LengthUnit | null => {
  const near = (value: number): boolean => Math.abs(metres - value) < 1e-7;
  if (near(1)) return 'm';
  return near(METRES_PER_FOOT) ? 'ft' : near(METRES_PER_US_SURVEY_FOOT) ? 'us-ft' : null;
};

/** The last unit of length of a part: that of its axes, behind those of its conversion. */
const lastUnit = (part: string | null): LengthUnit | null => {
  if (part === null) return null;
  const found = [
    ...part.matchAll(/\b(?:LENGTH)?UNIT\s*\[\s*"[^"]{0,80}"\s*,\s*([\d.eE+-]{1,30})/gi),
  ].at(-1);
  return found === undefined ? null : unitOfLength(Number(found[1]));
};

/**
 * What a text of a coordinate system says (WKT 1, OGC 01-009; the ESRI form; WKT 2, ISO 19162): its horizontal
 * part, by code when that is known, and the units of positions and heights. A local system has units alone.
 */
export const stateOfWkt = (wkt: string): Stated => {
  if (wkt.length > 1 << 16) return { crs: null, unit: null, verticalUnit: null };
  const projected = partOf(wkt, 'PROJCS', 'PROJCRS', 'PROJECTEDCRS');
  const horizontal =
    projected ?? partOf(wkt, 'GEOGCS', 'GEOGCRS', 'GEODCRS', 'GEOGRAPHICCRS', 'GEODETICCRS');
  const vertical = partOf(wkt, 'VERT_CS', 'VERTCS', 'VERTCRS', 'VERTICALCRS');
  const local = partOf(wkt, 'LOCAL_CS', 'ENGCRS', 'ENGINEERINGCRS');
  const verticalUnit = lastUnit(vertical);
  if (horizontal === null) return { crs: null, unit: lastUnit(local), verticalUnit };
  const code = /(?:AUTHORITY|ID)\s*\[\s*"EPSG"\s*,\s*"?(\d{4,6})"?[^\]]{0,40}\]\s*\]$/i.exec(
    horizontal,
  );
  const byCode = code === null ? null : `EPSG:${code[1]}`;
  return {
    crs: byCode !== null && definitionOf(byCode) !== null ? byCode : horizontal,
    unit: projected === null ? null : lastUnit(projected),
    verticalUnit,
  };
};
