import { SURVEY_LIMITS } from '../../input-limits.js';
import { POWERS_OF_TEN } from '../../power.js';
import { counted } from '../../wording.js';

/**
 * Numbers as people and programs write them. A field longer than 64 characters is no number, so that no
 * pattern here meets a long text.
 */
const POINT = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eEdD][+-]?\d{1,3})?$/;
const COMMA = /^[+-]?(?:\d+,?\d*|,\d+)(?:[eEdD][+-]?\d{1,3})?$/;
/** Groups of three: marked twice, or once before a decimal mark, so that 1,234 stays undecided. */
const GROUPED_POINT =
  /^[+-]?\d{1,3}(?:[,'\u2019 \u00a0\u2009\u202f]\d{3})+\.\d+$|^[+-]?\d{1,3}(?:[,'\u2019 \u00a0\u2009\u202f]\d{3}){2,}$|^[+-]?\d{1,3}(?:['\u2019\u00a0\u2009\u202f]\d{3})+$/;
const GROUPED_COMMA =
  /^[+-]?\d{1,3}(?:[.'\u2019 \u00a0\u2009\u202f]\d{3})+,\d+$|^[+-]?\d{1,3}(?:[.'\u2019 \u00a0\u2009\u202f]\d{3}){2,}$|^[+-]?\d{1,3}(?:['\u2019\u00a0\u2009\u202f]\d{3})+$/;
/** A unit behind the number does not change it here; see `unitOfField`. */
const BEHIND = /\s*(?:m|ft|usft|us-ft|ftUS|'|\u2032|metres?|meters?|feet)$/i;

const MINUS = /^[\u2212\u2010-\u2014\ufe63\uff0d]/;

/**
 * A plain number of at most 15 digits; NaN for all else. Its digits and the power of ten are whole doubles, so that
 * their quotient is the nearest double (W. Clinger, "How to read floating point numbers accurately", PLDI 1990).
 */
const plainNumber = (field: string, mark: number): number => {
  const first = field.charCodeAt(0);
  let size = 0;
  let digits = 0;
  let after = -1;
  for (let k = first === 45 || first === 43 ? 1 : 0; k < field.length; k++) {
    const c = field.charCodeAt(k);
    if (c >= 48 && c <= 57) {
      size = size * 10 + c - 48;
      digits += 1;
      if (after >= 0) after += 1;
    } else if (c === mark && after < 0) after = 0;
    else return Number.NaN;
  }
  if (digits === 0 || digits > 15) return Number.NaN;
  const value = after > 0 ? size / POWERS_OF_TEN[after] : size;
  return first === 45 ? -value : value;
};

/** The number of a field; NaN when it is none. */
export const numberOfText = (field: string, decimal: 'point' | 'comma'): number => {
  if (field.length === 0 || field.length > SURVEY_LIMITS.field) return Number.NaN;
  const usual = plainNumber(field, decimal === 'point' ? 46 : 44);
  return Number.isNaN(usual) ? oddNumber(field, decimal) : usual;
};

/** Digits of other scripts, and the wide ones of East Asia. */
const OTHER_DIGITS = /[\u0660-\u0669\u066b\u06f0-\u06f9\uff0b-\uff19]/;

const asciiDigits = (field: string): string =>
  field
    .normalize('NFKC')
    .replace('\u066b', '.')
    .replace(/[\u0660-\u0669\u06f0-\u06f9]/g, (digit) => String(digit.charCodeAt(0) & 15));

const oddNumber = (written: string, decimal: 'point' | 'comma'): number => {
  const field = OTHER_DIGITS.test(written) ? asciiDigits(written) : written;
  const [simple, grouped] = decimal === 'point' ? [POINT, GROUPED_POINT] : [COMMA, GROUPED_COMMA];
  const value = (text: string): number => {
    if (simple.test(text)) {
      return Number((decimal === 'point' ? text : text.replace(',', '.')).replace(/[dD]/, 'e'));
    }
    if (!grouped.test(text)) return Number.NaN;
    const digits = text.replace(/['\u2019\s]/g, '');
    return Number(
      decimal === 'point'
        ? digits.replaceAll(',', '')
        : digits.replaceAll('.', '').replace(',', '.'),
    );
  };
  const first = field.charCodeAt(0);
  const plain = value(first > 0x7f ? field.replace(MINUS, '-') : field);
  if (!Number.isNaN(plain)) return plain;
  const bare = field.replace(MINUS, '-').replace(BEHIND, '').trim();
  return bare === field ? Number.NaN : value(bare);
};

const ANGLE =
  /^([NSEW])?\s*([+-])?\s*(\d{1,3})\s*(?:[°ºd˚:\s-]|deg)\s*(\d{1,2}(?:[.,]\d+)?)\s*(?:(?:min|['’′m:\s-])\s*(\d{1,2}(?:[.,]\d+)?)?\s*(?:"|''|”|″|sec|s)?)?\s*([NSEW])?$/i;
const DECIMAL_ANGLE = /^([NSEW])?\s*([+-]?\d{1,3}(?:[.,]\d+)?)\s*[°º˚]?\s*([NSEW])?$/i;

/** Degrees of a field in degrees, minutes and seconds, or decimal degrees with a letter; NaN when it is none. */
export const degreesOf = (field: string): number => {
  if (field.length < 2 || field.length > SURVEY_LIMITS.field) return Number.NaN;
  const text = field.replace(MINUS, '-').replaceAll('""', '"').trim();
  const number = (part: string | undefined): number => Number((part ?? '0').replace(',', '.'));
  // Without a letter or a sign of degrees a plain number is not told from a length.
  const plain = DECIMAL_ANGLE.exec(text);
  if (plain !== null) {
    if (!/[NSEW°º˚]/i.test(text)) return Number.NaN;
    return signed(number(plain[2]), plain[1] ?? plain[3]);
  }
  const match = ANGLE.exec(text);
  if (match === null) return Number.NaN;
  const [, before, sign, degrees, minutes, seconds, after] = match;
  const [m, s] = [number(minutes), number(seconds)];
  if (m >= 60 || s >= 60) return Number.NaN;
  const size = Number(degrees) + m / 60 + s / 3600;
  return signed(sign === '-' ? -size : size, before ?? after);
};

const signed = (value: number, letter: string | undefined): number =>
  letter !== undefined && /[SW]/i.test(letter) ? -value : value;

/** The letter of an angle's direction: N or S (latitude), E or W (longitude); null without one. */
export const directionOf = (field: string): 'latitude' | 'longitude' | null => {
  const text = field.trim();
  if (text.length > SURVEY_LIMITS.field || !/\d/.test(text)) return null;
  const letter = /^[NSEW]|[NSEW]$/i.exec(text)?.[0].toUpperCase();
  if (letter === undefined || !/^[NSEW]?[\s\d.,°º˚'’′"”″+:dms-]+[NSEW]?$/i.test(text)) return null;
  return letter === 'N' || letter === 'S' ? 'latitude' : 'longitude';
};

/** Degrees of a number that packs degrees, minutes and seconds: 52.18305 is 52 18 30.5. */
export const unpackedDegrees = (value: number): number => {
  const size = Math.abs(value);
  const whole = Math.floor(size + 1e-9);
  const minutes = Math.floor((size - whole) * 100 + 1e-7);
  const seconds = ((size - whole) * 100 - minutes) * 100;
  return Math.sign(value) * (whole + minutes / 60 + seconds / 3600);
};

/**
 * Heights that stand for "no data" in grids and files though nothing says so: the values that programs
 * write by default (GDAL's documentation, ESRI's -9999 and -3.4e38, the -32768 of 16-bit grids, the
 * -999999 of the Lidar Base Specification).
 */
export const isNoDataValue = (value: number): boolean =>
  value === -9999 ||
  value === -32768 ||
  value === -32767 ||
  value === -99999 ||
  value === -999999 ||
  (Math.abs(value) > 1.7e38 && Math.abs(value) < 3.5e38);

export const undeclaredNote = (cells: number): string[] =>
  cells === 0
    ? []
    : [
        `passed over: ${counted(cells, 'cell')} of a value that stands for no data, though the file does not declare it`,
      ];
