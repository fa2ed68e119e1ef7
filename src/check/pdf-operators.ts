import { quoted } from '../fault.js';
import { POWERS_OF_TEN } from '../power.js';

/** A content stream taken apart (ISO 32000-1, 7.2, 7.3 and 7.8.2). */

export type Operand =
  | number
  | boolean
  | null
  | { readonly name: string }
  /** The bytes of a string, literal or hexadecimal. */
  | { readonly bytes: Uint8Array }
  | readonly Operand[]
  | { readonly dictionary: ReadonlyMap<string, Operand> };

export interface Operation {
  readonly operator: string;
  readonly operands: readonly Operand[];
}

const WHITE = new Set([0, 9, 10, 12, 13, 32]);
const DELIMITERS = new Set([...'()<>[]{}/%'].map((c) => c.charCodeAt(0)));

/** By byte: 1 for white space, 2 for a delimiter, 0 for a regular character. */
const KIND = Uint8Array.from({ length: 256 }, (_, byte) =>
  WHITE.has(byte) ? 1 : DELIMITERS.has(byte) ? 2 : 0,
);

/** By byte: what it is worth as a hexadecimal digit; 0 for what is none. */
const DIGIT = Uint8Array.from({ length: 256 }, (_, byte) => {
  const value = Number.parseInt(String.fromCharCode(byte), 16);
  return Number.isNaN(value) ? 0 : value;
});

const isRegular = (byte: number): boolean => KIND[byte] === 0;

const ESCAPES: Readonly<Record<string, number>> = { n: 10, r: 13, t: 9, b: 8, f: 12 };

/** A stream and how far it has been read. */
interface Cursor {
  readonly data: Uint8Array;
  at: number;
}

const broken = ({ at }: Cursor, what: string): Error =>
  new Error(`content stream, byte ${at}: ${what}`);

/** Passes over white space and comments. */
const skip = (cursor: Cursor): void => {
  const { data } = cursor;
  let { at } = cursor;
  while (at < data.length) {
    if (KIND[data[at]] === 1) at++;
    else if (data[at] === 37) {
      while (at < data.length && data[at] !== 10 && data[at] !== 13) at++;
    } else break;
  }
  cursor.at = at;
};

const readWord = (cursor: Cursor): string => {
  const { data } = cursor;
  let text = '';
  while (cursor.at < data.length && isRegular(data[cursor.at])) {
    text += String.fromCharCode(data[cursor.at++]);
  }
  return text;
};

/** Most of a stream is numbers: read digit by digit; null, and nothing read, where there is none. */
const readNumeral = (cursor: Cursor): number | null => {
  const { data } = cursor;
  let i = cursor.at;
  const negative = data[i] === 45;
  if (negative || data[i] === 43) i++;
  let whole = 0;
  let digits = 0;
  let decimals = 0;
  let point = false;
  for (; i < data.length && isRegular(data[i]); i++) {
    const digit = data[i] - 48;
    if (digit >= 0 && digit <= 9) {
      whole = whole * 10 + digit;
      digits++;
      if (point) decimals++;
    } else if (data[i] === 46 && !point) point = true;
    else return null;
  }
  // Beyond 15 digits a double no longer holds the figures as a whole number.
  if (digits === 0 || digits > 15) return null;
  cursor.at = i;
  const value = whole / POWERS_OF_TEN[decimals];
  return negative && value !== 0 ? -value : value;
};

/** A name, its slash being next. */
const readName = (cursor: Cursor): string => {
  cursor.at++;
  return readWord(cursor).replace(/#([0-9a-fA-F]{2})/g, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
};

/** What a backslash stands for, itself read already; null for the end of a line, which it takes away. */
const readEscape = (cursor: Cursor): number | null => {
  const { data } = cursor;
  const next = String.fromCharCode(data[cursor.at++]);
  if (/[0-7]/.test(next)) {
    let octal = next;
    while (octal.length < 3 && data[cursor.at] >= 48 && data[cursor.at] <= 55) {
      octal += String.fromCharCode(data[cursor.at++]);
    }
    return Number.parseInt(octal, 8) & 255;
  }
  if (next === '\r' || next === '\n') {
    if (next === '\r' && data[cursor.at] === 10) cursor.at++;
    return null;
  }
  return ESCAPES[next] ?? next.charCodeAt(0);
};

/** A string in parentheses, the first of which is next. */
const readLiteral = (cursor: Cursor): Uint8Array => {
  const { data } = cursor;
  const bytes: number[] = [];
  let depth = 1;
  cursor.at++;
  while (cursor.at < data.length) {
    const byte = data[cursor.at++];
    if (byte === 92) {
      const escaped = readEscape(cursor);
      if (escaped !== null) bytes.push(escaped);
      continue;
    }
    if (byte === 40) depth++;
    if (byte === 41 && --depth === 0) return Uint8Array.from(bytes);
    bytes.push(byte);
  }
  throw broken(cursor, 'a string has no end');
};

/** A string of hexadecimal digits, its bracket being next. */
const readHexadecimal = (cursor: Cursor): Uint8Array => {
  const { data } = cursor;
  cursor.at++;
  const digits: number[] = [];
  while (cursor.at < data.length && data[cursor.at] !== 62) {
    const byte = data[cursor.at++];
    if (KIND[byte] !== 1) digits.push(DIGIT[byte]);
  }
  cursor.at++;
  // An odd digit at the end stands for itself and a zero.
  return Uint8Array.from(
    { length: Math.ceil(digits.length / 2) },
    (_, i) => 16 * digits[2 * i] + (digits[2 * i + 1] ?? 0),
  );
};

/** A dictionary, its two brackets being next. */
const readDictionary = (cursor: Cursor): Operand => {
  const { data } = cursor;
  const dictionary = new Map<string, Operand>();
  cursor.at += 2;
  for (;;) {
    skip(cursor);
    if (data[cursor.at] === 62 && data[cursor.at + 1] === 62) {
      cursor.at += 2;
      return { dictionary };
    }
    if (data[cursor.at] !== 47) throw broken(cursor, 'a dictionary has a key that is no name');
    const key = readName(cursor);
    skip(cursor);
    dictionary.set(key, readToken(cursor) as Operand);
  }
};

/** An array, its bracket being next. */
const readArray = (cursor: Cursor): Operand => {
  const { data } = cursor;
  const items: Operand[] = [];
  cursor.at++;
  for (;;) {
    skip(cursor);
    if (cursor.at >= data.length) throw broken(cursor, 'an array has no end');
    if (data[cursor.at] === 93) {
      cursor.at++;
      return items;
    }
    items.push(readToken(cursor) as Operand);
  }
};

/** An operand, or the word of an operator. */
const readToken = (cursor: Cursor): Operand | { readonly operator: string } => {
  const { data, at } = cursor;
  const byte = data[at];
  if (byte === 47) return { name: readName(cursor) };
  if (byte === 40) return { bytes: readLiteral(cursor) };
  if (byte === 60) {
    return data[at + 1] === 60 ? readDictionary(cursor) : { bytes: readHexadecimal(cursor) };
  }
  if (byte === 91) return readArray(cursor);
  const quick = readNumeral(cursor);
  if (quick !== null) return quick;
  if (!isRegular(byte)) throw broken(cursor, `unexpected ${quoted(String.fromCharCode(byte))}`);
  const text = readWord(cursor);
  if (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) return Number(text);
  if (text === 'true') return true;
  if (text === 'false') return false;
  if (text === 'null') return null;
  return { operator: text };
};

/** The data of an inline image run to the word EI. */
const skipImage = (cursor: Cursor): void => {
  const { data } = cursor;
  let { at } = cursor;
  while (at < data.length && !(WHITE.has(data[at]) && data[at + 1] === 69 && data[at + 2] === 73)) {
    at++;
  }
  cursor.at = at;
};

/** Operators of a content stream in their order. Throws on a stream that is not one. */
export function* operationsOf(data: Uint8Array): Generator<Operation> {
  const cursor: Cursor = { data, at: 0 };
  let operands: Operand[] = [];
  for (;;) {
    skip(cursor);
    if (cursor.at >= data.length) return;
    const next = readToken(cursor);
    if (typeof next === 'object' && next !== null && 'operator' in next) {
      const { operator } = next;
      yield { operator, operands };
      operands = [];
      if (operator === 'ID') skipImage(cursor);
    } else operands.push(next as Operand);
  }
}

export const numberOf = (operand: Operand | undefined): number =>
  typeof operand === 'number' ? operand : 0;

export const nameOf = (operand: Operand | undefined): string =>
  typeof operand === 'object' && operand !== null && 'name' in operand ? operand.name : '';

export const bytesOf = (operand: Operand | undefined): Uint8Array =>
  typeof operand === 'object' && operand !== null && 'bytes' in operand
    ? operand.bytes
    : new Uint8Array();

/** The entries of a dictionary; none where the operand is something else. */
export const entriesOf = (operand: Operand | undefined): ReadonlyMap<string, Operand> =>
  typeof operand === 'object' && operand !== null && 'dictionary' in operand
    ? operand.dictionary
    : new Map();
