import type { GreenWorth } from '../../appraisal/worth.js';
import { phrase, type Worded } from '../words/words.js';
import { mendWords, noteWords, reasonWords } from './told-words.js';

/** What is printed of a green, in two words. */
export const worthShort = ({ worth }: GreenWorth, tell: Worded): string =>
  phrase(tell, `worth.${worth}-short`);

/** What a green's survey is worth, for the foot of a page: the longest wording first. */
export const worthFoot = (own: GreenWorth, tell: Worded): string[] => {
  const short = worthShort(own, tell);
  return own.overruled === null
    ? [
        phrase(tell, 'worth.survey', { worth: phrase(tell, `worth.${own.worth}`) }),
        phrase(tell, 'worth.survey-short', { worth: short }),
      ]
    : [
        phrase(tell, 'worth.overruled', { worth: short, why: own.overruled }),
        phrase(tell, 'worth.overruled-short', { worth: short }),
      ];
};

/** What stands in place of figures that a green's survey cannot carry, or that of one hole location cannot. */
export const withheldLines = (own: GreenWorth, tell: Worded): string[] => {
  if (own.worth === 'tables') return [phrase(tell, 'worth.no-putts-here')];
  const sentence = (text: string): string =>
    `${text.charAt(0).toUpperCase()}${text.slice(1)}${text.endsWith('.') ? '' : '.'}`;
  return [
    phrase(tell, 'worth.no-putts', { worth: phrase(tell, `worth.${own.worth}`) }),
    ...(own.overruled === null
      ? reasonWords(own, tell).map(sentence)
      : [phrase(tell, 'worth.file-says', { why: own.overruled })]),
    ...noteWords(own, tell).map(sentence),
    ...(own.mend.length === 0
      ? []
      : [phrase(tell, 'worth.mend', { list: mendWords(own, tell).join('; ') })]),
  ];
};

/** The same for a place of little room, in one paragraph: wordings, the fullest first. */
export const withheldWordings = (own: GreenWorth, tell: Worded): string[] => {
  const less = [
    own,
    { ...own, notes: [] },
    { ...own, notes: [], reasons: own.reasons.slice(0, 1) },
    { ...own, notes: [], reasons: [] },
    { ...own, notes: [], reasons: [], mend: [] },
  ];
  return less.map((some) => withheldLines(some, tell).join(' '));
};
