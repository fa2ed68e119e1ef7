/**
 * Definition strings of coordinate systems. UTM and its kin follow from their codes; the others come
 * from the EPSG Geodetic Parameter Dataset (see `epsg.json`).
 */

/** The definition of a code or of a definition string as given; null when the code is not known. */
export const definitionOf = (crs: string): string | null => {
  const text = crs.trim();
  if (text.startsWith('+') || /^[A-Z_]+\s*\[/i.test(text)) return text;
  const match = /^(?:urn:ogc:def:crs:)?(?:EPSG:{1,2})?(\d{4,6})$/i.exec(text);
  if (match === null) return null;
  const code = Number(match[1]);
  return utmDefinition(code) ?? OTHERS[code] ?? null;
};

/** UTM zones by their codes: WGS 84, WGS 72, NAD83, NAD27, ETRS89, NAD83(CSRS), GDA94, GDA2020, SIRGAS 2000. */
const utmDefinition = (code: number): string | null => {
  const zone = (first: number, from: number, to: number): number | null =>
    code >= first + from && code <= first + to ? code - first : null;
  const utm = (n: number, rest: string): string => `+proj=utm +zone=${n} ${rest} +units=m +no_defs`;
  const grs80 = '+ellps=GRS80 +towgs84=0,0,0,0,0,0,0';
  let n = zone(32600, 1, 60);
  if (n !== null) return utm(n, '+datum=WGS84');
  n = zone(32700, 1, 60);
  if (n !== null) return utm(n, '+south +datum=WGS84');
  n = zone(25800, 28, 38);
  if (n !== null) return utm(n, grs80);
  n = zone(26900, 1, 23);
  if (n !== null) return utm(n, '+datum=NAD83');
  n = zone(6329, 1, 19);
  if (n !== null) return utm(n, '+datum=NAD83');
  n = zone(28300, 46, 59);
  if (n !== null) return utm(n, `+south ${grs80}`);
  n = zone(7800, 46, 59);
  if (n !== null) return utm(n, `+south ${grs80}`);
  return null;
};

const OTHERS: Readonly<Record<number, string>> = {
  4326: '+proj=longlat +datum=WGS84 +no_defs',
  4258: '+proj=longlat +ellps=GRS80 +towgs84=0,0,0,0,0,0,0 +no_defs',
  4269: '+proj=longlat +datum=NAD83 +no_defs',
  3857: '+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m +nadgrids=@null +no_defs',
  27700:
    '+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489 +units=m +no_defs',
};
