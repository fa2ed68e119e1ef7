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

const isRegular = (byte: number): boolean => KIND[byte] === 0;

const ESCAPES: Readonly<Record<string, number>> = { n: 10, r: 13, t: 9, b: 8, f: 12 };

/** Operators of a content stream in their order. Throws on a stream that is not one. */
export function* operationsOf(data: Uint8Array): Generator<Operation> {
  let at = 0;
  const broken = (what: string): Error => new Error(`content stream, byte ${at}: ${what}`);

  const skip = (): void => {
    while (at < data.length) {
      if (KIND[data[at]] === 1) at++;
      else if (data[at] === 37) {
        while (at < data.length && data[at] !== 10 && data[at] !== 13) at++;
      } else return;
    }
  };
  const word = (): string => {
    let text = '';
    while (at < data.length && isRegular(data[at])) text += String.fromCharCode(data[at++]);
    return text;
  };
  /** Most of a stream is numbers: read digit by digit; null, and nothing read, where there is none. */
  const numeral = (): number | null => {
    let i = at;
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
    at = i;
    const value = whole / 10 ** decimals;
    return negative && value !== 0 ? -value : value;
  };
  const name = (): string => {
    at++;
    return word().replace(/#([0-9a-fA-F]{2})/g, (_, hex: string) =>
      String.fromCharCode(Number.parseInt(hex, 16)),
    );
  };
  const literal = (): Uint8Array => {
    const bytes: number[] = [];
    let depth = 1;
    at++;
    while (at < data.length) {
      const byte = data[at++];
      if (byte === 92) {
        const next = String.fromCharCode(data[at++]);
        if (/[0-7]/.test(next)) {
          let octal = next;
          while (octal.length < 3 && data[at] >= 48 && data[at] <= 55) {
            octal += String.fromCharCode(data[at++]);
          }
          bytes.push(Number.parseInt(octal, 8) & 255);
        } else if (next === '\r' || next === '\n') {
          if (next === '\r' && data[at] === 10) at++;
        } else bytes.push(ESCAPES[next] ?? next.charCodeAt(0));
        continue;
      }
      if (byte === 40) depth++;
      if (byte === 41 && --depth === 0) return Uint8Array.from(bytes);
      bytes.push(byte);
    }
    throw broken('a string has no end');
  };
  const hexadecimal = (): Uint8Array => {
    at++;
    let digits = '';
    while (at < data.length && data[at] !== 62) {
      if (!WHITE.has(data[at])) digits += String.fromCharCode(data[at]);
      at++;
    }
    at++;
    if (digits.length % 2 === 1) digits += '0';
    return Uint8Array.from(digits.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
  };
  /** An operand, or the word of an operator. */
  const token = (): Operand | { readonly operator: string } => {
    const byte = data[at];
    if (byte === 47) return { name: name() };
    if (byte === 40) return { bytes: literal() };
    if (byte === 60 && data[at + 1] === 60) {
      at += 2;
      const dictionary = new Map<string, Operand>();
      for (;;) {
        skip();
        if (data[at] === 62 && data[at + 1] === 62) {
          at += 2;
          return { dictionary };
        }
        if (data[at] !== 47) throw broken('a dictionary has a key that is no name');
        const key = name();
        skip();
        dictionary.set(key, token() as Operand);
      }
    }
    if (byte === 60) return { bytes: hexadecimal() };
    if (byte === 91) {
      at++;
      const items: Operand[] = [];
      for (;;) {
        skip();
        if (at >= data.length) throw broken('an array has no end');
        if (data[at] === 93) {
          at++;
          return items;
        }
        items.push(token() as Operand);
      }
    }
    const quick = numeral();
    if (quick !== null) return quick;
    if (!isRegular(byte)) throw broken(`unexpected "${String.fromCharCode(byte)}"`);
    const text = word();
    if (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) return Number(text);
    if (text === 'true') return true;
    if (text === 'false') return false;
    if (text === 'null') return null;
    return { operator: text };
  };

  let operands: Operand[] = [];
  for (;;) {
    skip();
    if (at >= data.length) return;
    const next = token();
    if (typeof next === 'object' && next !== null && 'operator' in next) {
      const { operator } = next;
      yield { operator, operands };
      operands = [];
      if (operator === 'ID') {
        // The data of an inline image run to the word EI.
        while (
          at < data.length &&
          !(WHITE.has(data[at]) && data[at + 1] === 69 && data[at + 2] === 73)
        ) {
          at++;
        }
      }
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
