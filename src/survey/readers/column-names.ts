import type { LengthUnit } from '../crs/plane.js';

/**
 * What the names of columns mean, in the wordings of the trade and in the languages of the national grids
 * that ship. Sources: usual headers of instruments and programs (common practice, no source); words for
 * north, east and height from general dictionaries.
 */

export type Column =
  | 'x'
  | 'y'
  | 'z'
  | 'line'
  | 'sigma'
  | 'time'
  | 'session'
  | 'number'
  | 'code'
  | 'other';

/** A unit that a name states: `factor` of it in the unit. Centimetres and millimetres are metres by a factor. */
export interface NamedUnit {
  readonly unit: LengthUnit;
  readonly factor: number;
}

export interface NamedColumn {
  readonly column: Column;
  /** Degrees, by the name: longitude or latitude. */
  readonly geographic: boolean;
  /** Of two columns with one meaning the lower rank is taken. */
  readonly rank: number;
  readonly unit: NamedUnit | null;
  /** Degrees, minutes and seconds packed into one number (DD.MMSSss), by the name. */
  readonly packed: boolean;
}

/** No name of a column that means something is longer. */
const NAME_LIMIT = 64;

const words = (text: string): ReadonlySet<string> => new Set(text.split(/\s+/));

// Without accents: see `plain`.
const NORTH =
  words(`n north northing northings norting nord norden nordwert hochwert hoch norte norr noord noorden
  pohjoinen polnoc sever sjever severni eszak kuzey pohi ziemeli siaure utara bac nordur hnit_n север північ північна
  βορρας 北 北座標 北坐标 북 צפון شمال`);
const EAST =
  words(`e east easting eastings est ost osten ostwert rechtswert rechts este leste oost oosten ost ost øst
  ita wschod vychod istok vzhod kelet dogu ida austrumi rytai timur dong austur восток изток схід
  ανατολη 東 东 东坐标 東座標 동 מזרח شرق`);
const HEIGHT =
  words(`z h ht hgt height heights elev elevation elevations elv el level levels lvl alt altitude rl altura
  elevacion cota cotas quota quote kote kota hohe hoehe gelandehohe hojd hoyde hoogte korkeus wysokosc rzedna vyska visina
  magassag yukseklik kot korgus augstums aukstis tinggi elevasi cao hæð haed altezza altitudine
  высота отметка висота κοτα υψομετρο υψοσ 標高 高程 高さ 高度 표고 높이 גובה ارتفاع up
  orthometric ortho orthoheight orthoht ellipsoidal ellipsoid ellipheight ellip ellht`);
const LONGITUDE = words(
  'lon long lng longitude longitud lange laenge longitudine lengdegrad lengtegraad dlugosc долгота 経度 经度 경도',
);
const LATITUDE = words(
  'lat latitude latitud breite latitudine breddegrad breedtegraad szerokosc широта 緯度 纬度 위도',
);
const QUALITY = words(
  'sigma sig sd std stdev stddev stdv dev deviation rms rmse rmsz error err accuracy acc precision prec quality qual qlty uncertainty unc cq genauigkeit mittlerer precisione precision1',
);
const VERTICAL_QUALITY = words(
  'vrms vrmse rmsz rmsev vsd vprec vprecision vaccuracy vacc vsigma sigmaz sigmah sigmaelev sz sdz sdh cq1d vcq verr szz stdz',
);
const OTHER_QUALITY = words(
  'hrms hrmse hsd hprec hprecision haccuracy hacc hsigma sigmax sigmay sigman sigmae sx sy sn se sdx sdy sdn sde cq2d cq3d hcq pdop hdop vdop gdop tdop dop herr rms3d',
);
const VERTICAL = words('v vert vertical up 1d');
const HORIZONTAL = words('hz hor horiz horizontal plan 2d 3d');
/** A height with one of these beside it is not a height of the ground. */
const NOT_GROUND = words(
  'antenna ant rod pole target instrument inst prism hi tripod geoid undulation separation geoidal slope delta diff difference cut fill design scale tilt offset sat sats satellites no nr class intensity',
);
const NUMBER = words(
  'id pt point pointid pno ptno no nr num number nummer name pointname pkt punkt punktnummer punktnr punto punt pto numero n° point# pt# #',
);
const CODE = words(
  'code codes desc description descr descriptor remark remarks note notes comment feature featurecode fcode label codigo kode kod bemerkung beschreibung text attribute layer type class',
);
const TIME = words(
  'time timestamp utc gpstime gps_time datetime zeit uhrzeit hora heure epoch epochtime',
);
const SESSION = words(
  'session setup set-up setupid occupation flightline flight strip sessionid day',
);
const LINE = words('line breakline string linename lineid stringname bruchkante bruchlinie');

/** Prefixes that say which coordinates are meant, best first; nothing stands between. */
const RANKS: Readonly<Record<string, number>> = { grid: 0, ground: 2, local: 3 };
/** Of several heights: above the geoid before above the ellipsoid. */
const ELLIPSOIDAL = words('ellipsoidal ellipsoid ellip ell ellht ellipheight wgs84 wgs');
const ORTHOMETRIC = words('ortho orthometric orthoheight orthoht geoidal msl amsl');

const METRE: NamedUnit = { unit: 'm', factor: 1 };
const UNITS: Readonly<Record<string, NamedUnit>> = Object.fromEntries([
  ...[
    'm',
    'metre',
    'metres',
    'meter',
    'meters',
    'mtr',
    'mtrs',
    'metri',
    'metros',
    'metro',
    'м',
  ].map((name) => [name, METRE] as const),
  ...['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'].map(
    (name) => [name, { unit: 'm', factor: 0.01 }] as const,
  ),
  ...['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'].map(
    (name) => [name, { unit: 'm', factor: 0.001 }] as const,
  ),
  ...[
    'ft',
    'feet',
    'foot',
    "'",
    'intft',
    'intlft',
    'ift',
    'internationalfeet',
    'internationalfoot',
    'ftint',
    'ftintl',
  ].map((name) => [name, { unit: 'ft', factor: 1 }] as const),
  ...[
    'usft',
    'ftus',
    'sft',
    'usfoot',
    'usfeet',
    'ussurveyfoot',
    'ussurveyfeet',
    'surveyfeet',
    'surveyfoot',
    'usfts',
    'ussft',
    'footus',
    'feetus',
  ].map((name) => [name, { unit: 'us-ft', factor: 1 }] as const),
]);

/** The unit that a word or a few words mean: "US Survey Foot", "us_ft", "Meters", "'". */
export const unitOfWord = (text: string): NamedUnit | null => {
  if (text.length > 40) return null;
  const key = text.toLowerCase().replace(/[\s._-]/g, '');
  return Object.hasOwn(UNITS, key) ? UNITS[key] : null;
};

/** Lower case, without accents, quotes or the strokes of single letters. */
const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replaceAll('ø', 'o')
    .replaceAll('ł', 'l')
    .replaceAll('ı', 'i')
    .replaceAll('đ', 'd')
    .replaceAll('ς', 'σ');

const withAccentsFolded = (set: ReadonlySet<string>): ReadonlySet<string> =>
  new Set([...set].map((word) => plain(word)));
const MEANINGS = {
  north: withAccentsFolded(NORTH),
  east: withAccentsFolded(EAST),
  height: withAccentsFolded(HEIGHT),
  longitude: withAccentsFolded(LONGITUDE),
  latitude: withAccentsFolded(LATITUDE),
} as const;

/** The name without a unit in brackets or at its end, and that unit. */
const unitApart = (
  name: string,
): { readonly rest: string; readonly unit: NamedUnit | null; readonly packed: boolean } => {
  const text = name.trim();
  const open = text.search(/[([{]/);
  if (open >= 0) {
    const inside = text.slice(open + 1).replace(/[)\]}].*$/, '');
    const packed = /dms|mmss|sexag/i.test(inside);
    const unit = unitOfWord(inside);
    // "X (Nord)" says in brackets what it is.
    return { rest: unit === null ? text : text.slice(0, open), unit, packed };
  }
  if (/['\u2032]$/.test(text) && text.length > 1) {
    return { rest: text.slice(0, -1), unit: UNITS["'"], packed: false };
  }
  const parts = text.split(/[\s_,.:/-]/);
  for (const count of [3, 2, 1]) {
    if (parts.length <= count) continue;
    const unit = unitOfWord(parts.slice(-count).join(''));
    if (unit !== null) return { rest: parts.slice(0, -count).join(' '), unit, packed: false };
  }
  return { rest: text, unit: null, packed: parts.some((part) => /^(dms|dddmmss)$/i.test(part)) };
};

const NONE: NamedColumn = {
  column: 'other',
  geographic: false,
  rank: 9,
  unit: null,
  packed: false,
};

/** What a column is by its name; `other` when the name says nothing that matters here. */
export const namedColumn = (name: string): NamedColumn => {
  if (name.length > NAME_LIMIT) return NONE;
  const { rest, unit, packed } = unitApart(name.replace(/^["'\s]+|["\s]+$/g, ''));
  // "GridNorthing" is two words; "NORTHING" and "EPSG" are one.
  const list = plain(rest.replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2'))
    .split(/[^\p{L}\p{N}#°]+/u)
    .flatMap((word) => splitPrefix(word))
    .filter((word) => word !== '');
  const has = (set: ReadonlySet<string>): boolean => list.some((word) => set.has(word));
  const all = list.join('');
  const of = (column: Column, rank = 1, geographic = false): NamedColumn => ({
    column,
    geographic,
    rank,
    unit,
    packed,
  });
  if (/^(?:d|delta|δ)[nexyzh]$/.test(all)) return of('other');
  if (LINE.has(all)) return of('line');
  if (
    VERTICAL_QUALITY.has(all) ||
    (has(QUALITY) && (has(VERTICAL) || has(MEANINGS.height)) && !has(HORIZONTAL))
  ) {
    return of('sigma');
  }
  if (OTHER_QUALITY.has(all) || has(QUALITY) || has(OTHER_QUALITY)) return of('other');
  if (has(NOT_GROUND))
    return CODE.has(all) ? of('code') : NUMBER.has(all) ? of('number') : of('other');
  if (has(TIME)) return of('time');
  if (SESSION.has(all)) return of('session');
  const rank = Math.min(...list.map((word) => RANKS[word] ?? 1), 3);
  const side = list.reduce((most, word) => Math.max(most, RANKS[word] ?? 0), 0);
  const place = list.some((word) => RANKS[word] !== undefined)
    ? Math.max(side, rank === 0 ? 0 : side)
    : 1;
  if (has(MEANINGS.latitude)) return of('y', 5, true);
  if (has(MEANINGS.longitude)) return of('x', 5, true);
  const north = has(MEANINGS.north) || all === 'hw';
  const east = has(MEANINGS.east) || all === 'rw';
  if (north !== east) return of(north ? 'y' : 'x', place);
  if (north) return of('other');
  if (has(MEANINGS.height)) {
    return of('z', has(ORTHOMETRIC) ? 0 : has(ELLIPSOIDAL) ? 4 : 1 + (side > 1 ? 1 : 0));
  }
  if (list.includes('x')) return of('x', place + 2);
  if (list.includes('y')) return of('y', place + 2);
  if (has(NUMBER)) return of('number');
  if (has(CODE)) return of('code');
  return of('other');
};

const PREFIX = /^(grid|local|ground|ortho|ellip|point|map|utm)(?=.{3})/;

/** "gridnorthing" and "localelev" as two words each; numbers at the end of a word go. */
const splitPrefix = (word: string): string[] => {
  const bare = word.replace(/(?<=\D)[12]$/, '');
  if (isKnown(word)) return [word];
  const match = PREFIX.exec(bare);
  return match === null ? [isKnown(bare) ? bare : word] : [match[1], bare.slice(match[1].length)];
};

const isKnown = (word: string): boolean =>
  Object.values(MEANINGS).some((set) => set.has(word)) ||
  [QUALITY, VERTICAL_QUALITY, OTHER_QUALITY, NUMBER, CODE].some((set) => set.has(word));

/** The columns of a header: of two with one meaning the better one, north and east from one pair. */
export const columnsOfHeader = (names: readonly string[]): NamedColumn[] => {
  const found = names.map(namedColumn);
  // German surveyors write R and H for east and north, with another column for the height.
  const letter = (k: number): string => plain(names[k].replace(/[^\p{L}]/gu, ''));
  const r = names.findIndex((_, k) => letter(k) === 'r' || found[k].column === 'x');
  const h = names.findIndex((_, k) => letter(k) === 'h');
  const hasNorth = found.some(({ column }) => column === 'y');
  if (r >= 0 && h >= 0 && !hasNorth && letter(r) === 'r') {
    const height = found.findIndex(({ column }, k) => column === 'z' && k !== h);
    if (height >= 0) {
      found[r] = { ...found[r], column: 'x', rank: 1 };
      found[h] = { ...found[h], column: 'y', rank: 1 };
    }
  }
  const best = (column: Column): number =>
    found.reduce(
      (at, one, k) => (one.column === column && (at < 0 || one.rank < found[at].rank) ? k : at),
      -1,
    );
  // Latitude and longitude stand back where the file has a projected pair as well.
  const projected = (['x', 'y'] as const).every((column) =>
    found.some((one) => one.column === column && !one.geographic),
  );
  const complete = projected
    ? found.map((one) => (one.geographic ? { ...one, column: 'other' as const } : one))
    : found;
  complete.forEach((one, k) => {
    found[k] = one;
  });
  const taken = new Set(
    ['x', 'y', 'z', 'sigma', 'time', 'session', 'line'].map((c) => best(c as Column)),
  );
  return found.map((one, k) =>
    taken.has(k) || one.column === 'number' || one.column === 'code'
      ? one
      : { ...one, column: 'other' },
  );
};

/** Names in order; one word of the letters p, e, n, z, d (x, y, h) stands for as many columns. */
export const columnsOfNames = (names: readonly string[]): NamedColumn[] => {
  const only = names.length === 1 ? names[0].trim().toLowerCase() : '';
  return /^[penzdxyh]{3,6}$/.test(only)
    ? [...only].map((letter) => (letter === 'p' || letter === 'd' ? NONE : namedColumn(letter)))
    : columnsOfHeader(names);
};
