import { createRequire } from 'node:module';

/** Modules between a symbol and its add-on (ISO/IEC 15420, from memory: 7 to 12): readers stop looking for it from some 10 on. */
export const ADD_ON_APART = 9;

/** Widths of bars and spaces in turn, in modules, and which bars are longer; guards of the main symbol are. */
export interface Elements {
  readonly widths: readonly number[];
  readonly isLong: readonly boolean[];
}

interface Encoder {
  readonly raw: (
    symbology: string,
    digits: string,
    options: string,
  ) => readonly { readonly sbs: readonly number[]; readonly bbs: readonly number[] }[];
}

/** Loaded by who has a number that is not known: it takes as long as half a small command. */
const encoder = (): Encoder => createRequire(import.meta.url)('bwip-js') as Encoder;

/** Bars of an EAN-13 before its add-on begins. */
export const BARS = 30;

const encoded = (digits: string): Elements => {
  const [{ sbs, bbs }] = encoder().raw('ean13', digits, `includetext addongap=${ADD_ON_APART}`);
  return { widths: sbs, isLong: bbs.map((below, i) => i < BARS && below < 0) };
};

/** Bars by their digits; those of a list of books are few. */
const known = new Map<string, Elements>();
const MOST_KNOWN = 64;

/** How many were taken over. */
let taken = 0;

/** Takes over what an earlier run has encoded. */
export const takeBars = (before: ReadonlyMap<string, Elements>): void => {
  for (const [digits, elements] of before) known.set(digits, elements);
  taken = before.size;
};

/** What is known of bars; null where that is what was taken over. */
export const giveBars = (): ReadonlyMap<string, Elements> | null =>
  known.size > taken ? known : null;

/** The bars of an EAN-13 with its add-on, where it has one. */
export const elementsOf = (ean: string, addOn: string | null): Elements => {
  const digits = addOn === null ? ean : `${ean} ${addOn}`;
  const found = known.get(digits);
  if (found !== undefined) return found;
  const elements = encoded(digits);
  if (known.size < MOST_KNOWN) known.set(digits, elements);
  return elements;
};
