import { quoted } from '../fault.js';
import type { BookNumber } from './course.js';

const digitsOf = (text: string): number[] => [...text].map((c) => (c === 'X' ? 10 : Number(c)));

/** The last digit of an EAN-13 (ISO/IEC 15420, annex on the check digit) from its first twelve. */
const checkDigit = (first: string): string => {
  const sum = digitsOf(first).reduce((all, digit, i) => all + digit * (i % 2 === 0 ? 1 : 3), 0);
  return String((10 - (sum % 10)) % 10);
};

/** The last digit of a number of ten (ISO 2108:1992) from its first nine: weights 10 to 2, modulo 11. */
const checkOfTen = (first: string): string => {
  const sum = digitsOf(first).reduce((all, digit, i) => all + digit * (10 - i), 0);
  const rest = (11 - (sum % 11)) % 11;
  return rest === 10 ? 'X' : String(rest);
};

const CURE = 'write its 13 or 10 digits with their hyphens, such as 978-0-306-40615-7';

/** An ISBN of 13 or 10 digits with its check digit verified, or what is wrong with it and what would be right. */
export const bookNumber = (
  text: string,
): { readonly number: BookNumber } | { readonly problem: string; readonly cure: string } => {
  const written = text
    .trim()
    .replace(/^ISBN(-1[03])?:?\s*/i, '')
    .toUpperCase();
  const bare = written.replaceAll(/[-\u2010-\u2013 ]/g, '');
  const isTen = /^\d{9}[\dX]$/.test(bare);
  if (!isTen && !/^\d{13}$/.test(bare))
    return { problem: `${quoted(text)} is no ISBN`, cure: CURE };
  if (!isTen && !/^97[89]/.test(bare)) {
    return {
      problem: `${quoted(text)} is no ISBN: it begins with neither 978 nor 979`,
      cure: CURE,
    };
  }
  const first = bare.slice(0, -1);
  const right = isTen ? checkOfTen(first) : checkDigit(first);
  if (right !== bare.at(-1)) {
    return {
      problem: `the check digit of the ISBN ${quoted(text)} is wrong`,
      cure: `after ${first} it is ${right}: look at the number again`,
    };
  }
  const ean = isTen ? `978${first}${checkDigit(`978${first}`)}` : bare;
  return { number: { written, ean } };
};
