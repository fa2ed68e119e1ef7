import { ENGLISH } from '../../src/page/words/english.js';
import type { WordTable } from '../../src/page/words/words.js';

/** A language that no one speaks: every word 40 % longer than in English, with accents, its figures where they were. */

const ACCENTED: Readonly<Record<string, string>> = {
  a: 'á',
  e: 'è',
  i: 'î',
  o: 'õ',
  u: 'ü',
  A: 'Å',
  E: 'É',
  I: 'Í',
  O: 'Ö',
  U: 'Û',
};
const MORE = 'ñøçšžðþåæł';

const longer = (word: string): string => {
  const more = Math.max(word.length > 2 ? 1 : 0, Math.round(word.length * 0.4));
  const end = Array.from({ length: more }, (_, i) => MORE[(i + word.length) % MORE.length]);
  return [...word].map((letter) => ACCENTED[letter] ?? letter).join('') + end.join('');
};

const wordingOf = (english: string): string =>
  english
    .split(/(\{\w+\})/)
    .map((part) => (part.startsWith('{') ? part : part.replace(/[A-Za-z]+/g, longer)))
    .join('');

export const MADE_UP = Object.fromEntries(
  Object.entries(ENGLISH).map(([key, english]) => [key, wordingOf(english)]),
) as WordTable;
