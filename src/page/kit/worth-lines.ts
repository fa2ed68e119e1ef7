import { type GreenWorth, WORTH_WORDS } from '../../appraisal/worth.js';

/** What is printed of a green, in two words. */
export const WORTH_SHORT: Readonly<Record<GreenWorth['worth'], string>> = {
  tables: 'tables',
  arrows: 'arrows only',
  outline: 'outline only',
};

/** What a green's survey is worth, for the foot of a page: the longest wording first. */
export const worthFoot = ({ worth, overruled }: GreenWorth): string[] => {
  const short = WORTH_SHORT[worth];
  return overruled === null
    ? [`survey ${WORTH_WORDS[worth]}`, `survey: ${short}`]
    : [`printed as ${short}, not by its survey: ${overruled}`, `${short}, not by its survey`];
};

/** What stands in place of figures that a green's survey cannot carry, or that of one hole location cannot. */
export const withheldLines = (own: GreenWorth): string[] => {
  if (own.worth === 'tables') {
    return ['No putts to this hole location: it lies on ground that was not surveyed.'];
  }
  const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
  return [
    `No putts of this green: it is ${WORTH_WORDS[own.worth]}.`,
    ...(own.overruled === null
      ? own.reasons.map(sentence)
      : [sentence(`the course file says so: ${own.overruled}`)]),
    ...own.notes.map(sentence),
    ...(own.mend.length === 0 ? [] : [`A survey that would mend it: ${own.mend.join('; ')}.`]),
  ];
};
