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

const isRegular = (byte: number): boolean => !WHITE.has(byte) && !DELIMITERS.has(byte);

const ESCAPES: Readonly<Record<string, number>> = { n: 10, r: 13, t: 9, b: 8, f: 12 };

/** Operators of a content stream in their order. Throws on a stream that is not one. */
export function* operationsOf(data: Uint8Array): Generator<Operation> {
  let at = 0;
  const broken = (what: string): Error => new Error(`content stream, byte ${at}: ${what}`);

  const skip = (): void => {
    while (at < data.length) {
      if (WHITE.has(data[at])) at++;
      else if (data[at] === 37) {
        while (at < data.length && data[at] !== 10 && data[at] !== 13) at++;
      } else return;
    }
  };
  const word = (): string => {
    const start = at;
    while (at < data.length && isRegular(data[at])) at++;
    return String.fromCharCode(...data.subarray(start, at));
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
