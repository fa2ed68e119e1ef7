import { createRequire } from 'node:module';

/**
 * Definition strings of coordinate systems. UTM zones on the datums in use follow from their codes; the
 * national grids and state-plane zones come from the EPSG registry (epsg-definitions.json, made by tests/survey/make-epsg-definitions.ts).
 */

/** "EPSG:32630", "epsg:32630", "32630" and "urn:ogc:def:crs:EPSG::32630" are the number 32630. */
export const codeOf = (crs: string): number | null => {
  const match = /^(?:urn:ogc:def:crs:)?(?:EPSG:{1,2}(?:[\d.]+:)?)?(\d{4,6})$/i.exec(crs.trim());
  return match === null ? null : Number(match[1]);
};

const isDefinition = (text: string): boolean => text.startsWith('+') || /^[A-Z_]+\s*\[/i.test(text);

/** The definition of a code or of a definition string as given; null when the code is not known. */
export const definitionOf = (crs: string): string | null => {
  const text = crs.trim();
  if (isDefinition(text)) return text;
  const code = codeOf(text);
  if (code === null) return null;
  return GEOGRAPHIC[code] ?? utmDefinition(code) ?? registryDefinition(code);
};

/** First code less one, and number of zones, of each run of UTM zones; EPSG registry. */
const UTM_RUNS: readonly (readonly [number, number, number, string])[] = [
  [32600, 1, 60, '+datum=WGS84'],
  [32700, 1, 60, '+south +datum=WGS84'],
  [25800, 28, 38, '+ellps=GRS80 +towgs84=0,0,0'],
  [26900, 1, 23, '+datum=NAD83'],
  [6329, 1, 19, '+datum=NAD83'],
  [28300, 46, 59, '+south +ellps=GRS80 +towgs84=0,0,0'],
  [7800, 46, 59, '+south +ellps=GRS80 +towgs84=0,0,0'],
];

/** UTM zones by their codes on WGS 84, ETRS89, NAD83, NAD83(2011), GDA94 and GDA2020. */
export const utmDefinition = (code: number): string | null => {
  for (const [before, from, to, rest] of UTM_RUNS) {
    const zone = code - before;
    if (zone >= from && zone <= to) return `+proj=utm +zone=${zone} ${rest} +units=m +no_defs`;
  }
  return null;
};

const GRS80_DEGREES = '+proj=longlat +ellps=GRS80 +towgs84=0,0,0 +no_defs';

/** Longitude and latitude on WGS 84 and on datums within two metres of it; Web Mercator. */
const GEOGRAPHIC: Readonly<Record<number, string>> = {
  4326: '+proj=longlat +datum=WGS84 +no_defs',
  4979: '+proj=longlat +datum=WGS84 +no_defs',
  4258: GRS80_DEGREES,
  4269: '+proj=longlat +datum=NAD83 +no_defs',
  6318: '+proj=longlat +datum=NAD83 +no_defs',
  6319: '+proj=longlat +datum=NAD83 +no_defs',
  4152: '+proj=longlat +datum=NAD83 +no_defs',
  4617: '+proj=longlat +datum=NAD83 +no_defs',
  4167: GRS80_DEGREES,
  4283: GRS80_DEGREES,
  7844: GRS80_DEGREES,
  4612: GRS80_DEGREES,
  6668: GRS80_DEGREES,
  4674: GRS80_DEGREES,
  3857: '+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m +nadgrids=@null +no_defs',
};

interface Registry {
  readonly source: string;
  /** Parameters of each definition by its code, without the "+" before each. */
  readonly definitions: Readonly<Record<string, string>>;
}

let registry: Registry | null = null;

/** The registry's definitions are loaded at the first question, then kept. */
const registryDefinition = (code: number): string | null => {
  registry ??= createRequire(import.meta.url)('./epsg-definitions.json') as Registry;
  const key = String(code);
  if (!Object.hasOwn(registry.definitions, key)) return null;
  const parts = registry.definitions[key].split(' ');
  return `+proj=${parts.map((part, k) => (k === 0 ? part : `+${part}`)).join(' ')} +no_defs`;
};
