import type { Told } from '../../appraisal/judge-words.js';
import type { GreenWorth } from '../../appraisal/worth.js';
import { filled } from '../../wording.js';
import { ENGLISH } from '../words/english.js';
import { phrase, type Worded } from '../words/words.js';
import { withUnit } from './unit-words.js';

/** A sentence of a judgement in the language of the page. */
export const sentenceWords = ({ key, with: values }: Told, tell: Worded): string =>
  filled(
    (tell.words ?? ENGLISH)[key],
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        typeof value === 'string' ? withUnit(value, tell) : sentenceWords(value, tell),
      ]),
    ),
  );

const inLanguage = (
  english: readonly string[],
  all: readonly Told[] | undefined,
  tell: Worded,
): readonly string[] =>
  tell.words === undefined || all === undefined
    ? english
    : all.map((one) => sentenceWords(one, tell));

/** Why a survey is worth no more. */
export const reasonWords = ({ reasons, told }: GreenWorth, tell: Worded): readonly string[] =>
  inLanguage(reasons, told?.reasons, tell);

/** What a further survey must bring. */
export const mendWords = ({ mend, told }: GreenWorth, tell: Worded): readonly string[] =>
  inLanguage(mend, told?.mend, tell);

/** What was noted of the reading; its sentences are English, so that pages in another language say where they stand. */
export const noteWords = ({ notes }: GreenWorth, tell: Worded): readonly string[] =>
  tell.words === undefined || notes.length === 0 ? notes : [phrase(tell, 'worth.run-told')];
