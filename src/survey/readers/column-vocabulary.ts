import type { LengthUnit } from '../crs/plane.js';

/**
 * The words of the trade for columns and units, in the languages of the national grids that ship. Sources: usual
 * headers of instruments and programs (common practice, no source); words for north, east and height from general
 * dictionaries.
 */

/** A unit that a name states: `factor` of it in the unit. Centimetres and millimetres are metres by a factor. */
export interface NamedUnit {
  readonly unit: LengthUnit;
  readonly factor: number;
}

const words = (text: string): ReadonlySet<string> => new Set(text.split(/\s+/));

// Without accents: see `foldedWord`.
const NORTH =
  words(`n north northing northings norting nord norden nordwert hochwert hoch norte norr noord noorden
  nordlig nordlige nordliche pohjoinen pohjois pohj pohjapoolne gogledd veri iparr polnoc kuzeyi yukari nth ordenada ordinata ordonnee sever sjever severni eszak kuzey pohi ziemeli siaure utara bac nordur hnit_n север північ північна
  βορρας 北 北座標 北坐标 북 צפון شمال`);
const EAST =
  words(`e east easting eastings est ost osten ostwert rechtswert rechts este leste oost oosten ost ost øst
  ostlig ostlige ostliche исток ita itainen oos dwyrain lindje ekialde wschod saga sag abscisa ascissa abscisse vychod istok vzhod kelet dogu ida austrumi rytai timur dong austur восток изток схід
  ανατολη 東 东 东坐标 東座標 동 מזרח شرق`);
const HEIGHT =
  words(`z h ht hgt height heights elev elevation elevations elv el level levels lvl alt altitude rl altura
  elevacion cota cotas quota quote kote kota hohe hoehe gelandehohe hojd hoyde hoogte korkeus wysokosc rzedna vyska visina
  uchder lartesia alcada magassag yukseklik kot korgus augstums aukstis tinggi elevasi cao hæð haed altezza altitudine
  кота висина nn nhn высота отметка висота κοτα υψομετρο υψοσ 標高 高程 高さ 高度 표고 높이 גובה ارتفاع up
  kork aod
  orthometric ortho orthoheight orthoht ellipsoidal ellipsoid ellipheight ellip ellht`);
const LONGITUDE = words(
  'lon long lng longitude longitud lange laenge longitudine lengdegrad lengtegraad langengrad laengengrad dlugosc долгота 経度 经度 경도',
);
const LATITUDE = words(
  'lat latitude latitud breite latitudine breddegrad breedtegraad breitengrad szerokosc широта 緯度 纬度 위도',
);
export const QUALITY = words(
  'sigma sig sd std stdev stddev stdv dev deviation rms rmse rmsz error err accuracy acc precision prec quality qual qlty uncertainty unc cq genauigkeit mittlerer precisione precision1',
);
export const VERTICAL_QUALITY = words(
  'vrms vrmse rmsz rmsev vsd vprec vprecision vaccuracy vacc vsigma sigmaz sigmah sigmaelev sz sdz sdh cq1d vcq verr szz stdz sdu stdu su sh sigmau',
);
export const OTHER_QUALITY = words(
  'hrms hrmse hsd hprec hprecision haccuracy hacc hsigma sigmax sigmay sigman sigmae sx sy sn se sdx sdy sdn sde cq2d cq3d hcq sdlat sdlon stdn stde pdop hdop vdop gdop tdop dop herr rms3d',
);
export const VERTICAL = words('v vert vertical up u 1d');
export const HORIZONTAL = words('hz hor horiz horizontal plan 2d 3d');
/** A height with one of these beside it is not a height of the ground. */
export const NOT_GROUND = words(
  'rel relative antenna ant rod pole target instrument inst prism hi tripod geoid undulation separation geoidal slope delta diff difference cut fill design scale tilt offset sat sats satellites no nr class intensity',
);
export const NUMBER = words(
  'id pt point pointid pno ptno no nr num number nummer name pointname pkt punkt punktnummer punktnr punto punt pto numero n° point# pt# #',
);
export const CODE = words(
  'code codes desc description descr descriptor remark remarks note notes comment feature featurecode fcode label codigo kode kod bemerkung beschreibung text attribute layer type class',
);
export const TIME = words(
  'time timestamp utc gpstime gps_time datetime zeit uhrzeit hora heure epoch epochtime',
);
export const SESSION = words(
  'session setup set-up setupid occupation flightline flight strip sessionid day',
);
export const LINE = words('line breakline string linename lineid stringname bruchkante bruchlinie');

/** Prefixes that say which coordinates are meant, best first; nothing stands between. */
export const RANKS: Readonly<Record<string, number>> = { grid: 0, ground: 2, local: 3 };
/** Of several heights: above the geoid before above the ellipsoid. */
export const ELLIPSOIDAL = words('ellipsoidal ellipsoid ellip ell ellht ellipheight wgs84 wgs');
export const ORTHOMETRIC = words('ortho orthometric orthoheight orthoht geoidal msl amsl');

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
  ...['dm', 'decimetre', 'decimetres', 'decimeter', 'decimeters'].map(
    (name) => [name, { unit: 'm', factor: 0.1 }] as const,
  ),
  ...['km', 'kilometre', 'kilometres', 'kilometer', 'kilometers'].map(
    (name) => [name, { unit: 'm', factor: 1000 }] as const,
  ),
  ...['yd', 'yds', 'yard', 'yards'].map((name) => [name, { unit: 'ft', factor: 3 }] as const),
  ...['inch', 'inches'].map((name) => [name, { unit: 'ft', factor: 1 / 12 }] as const),
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

/** Units that survive in old plans or belong to angles; none of them is read. */
const UNREAD_UNITS = words(
  'ch chain chains lk link links rod rods vara varas toise li shaku gon gons grad grads gr rad rads radian radians mil mils',
);

/** The unit in brackets at the end of a name that is known and not read; null when there is none. */
export const unreadUnit = (name: string): string | null => {
  const inside = /[([]\s*([\p{L}]{1,12})\.?\s*[)\]]\s*$/u.exec(name.slice(-40))?.[1] ?? null;
  return inside !== null && UNREAD_UNITS.has(inside.toLowerCase()) ? inside : null;
};

/** Lower case, without accents, quotes or the strokes of single letters. */
export const foldedWord = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replaceAll('ø', 'o')
    .replaceAll('ł', 'l')
    .replaceAll('ı', 'i')
    .replaceAll('đ', 'd')
    .replaceAll('ð', 'd')
    .replaceAll('æ', 'ae')
    .replaceAll('ς', 'σ');

const withAccentsFolded = (set: ReadonlySet<string>): ReadonlySet<string> =>
  new Set([...set].map((word) => foldedWord(word)));
export const MEANINGS = {
  north: withAccentsFolded(NORTH),
  east: withAccentsFolded(EAST),
  height: withAccentsFolded(HEIGHT),
  longitude: withAccentsFolded(LONGITUDE),
  latitude: withAccentsFolded(LATITUDE),
} as const;
