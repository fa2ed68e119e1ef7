import leven from 'leven';
import { INPUT_LIMITS } from './input-limits.js';

/** The word with two neighbouring letters changed about, at each place. */
const changedAbout = (word: string): string[] =>
  Array.from(
    { length: Math.max(0, word.length - 1) },
    (_, i) => `${word.slice(0, i)}${word[i + 1]}${word[i]}${word.slice(i + 2)}`,
  );

/** Letters to change, add or leave out; two that are changed about count as one. */
const lettersOff = (word: string, other: string): number =>
  Math.min(leven(word, other), ...changedAbout(word).map((one) => 1 + leven(one, other)));

/** The known word that a misspelt one most likely means; undefined when none is near. */
export const nearestWord = (word: string, known: readonly string[]): string | undefined => {
  if (word === '' || word.length > INPUT_LIMITS.comparedWord) return undefined;
  const ranked = known
    .map((one) => ({ one, off: lettersOff(word.toLowerCase(), one.toLowerCase()) }))
    .sort((a, b) => a.off - b.off);
  return ranked.length > 0 && ranked[0].off <= Math.max(2, word.length / 3)
    ? ranked[0].one
    : undefined;
};
