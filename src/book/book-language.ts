import { faultsAt } from '../fault.js';
import { readNamedFile } from '../named-file.js';
import { parseWords } from '../page/words/read-words.js';
import type { WordTable } from '../page/words/words.js';
import type { Fonts } from '../print/fonts.js';
import { firstUnits, type UnitSystem } from '../units.js';
import { textOf } from '../user-text.js';

/** In what language and units a book is told. */
export interface BookLanguage {
  /** Its tag (BCP 47). */
  readonly tag: string;
  /** English where it is undefined. */
  readonly words: WordTable | undefined;
  readonly units: UnitSystem;
  /** What the user should know of it. */
  readonly told: readonly string[];
}

/** What course and layout say of units and words: a words file by its path. */
export interface AskedLanguage {
  readonly units?: UnitSystem | undefined;
  readonly words?: string | undefined;
}

/** As many wordings are named that a words file lacks. */
const NAMED = 5;

const lackingWords = (file: string, lacking: readonly string[], of: number): string[] => {
  if (lacking.length === 0) return [];
  const more = lacking.length > NAMED ? ` and ${lacking.length - NAMED} more` : '';
  return [
    `${file}: ${lacking.length} of ${of} wordings are missing and stay English: ${lacking.slice(0, NAMED).join(', ')}${more}`,
  ];
};

/**
 * The language and units of a book: the layout's words file, or the course's, or English; the units that are
 * asked for, or the layout's, or the course's, or imperial. Whether the faces have the characters of the words
 * is asked here, before anything is computed.
 *
 * @throws InputFault with the file and the wording.
 */
export const languageOf = (
  course: AskedLanguage,
  layout: AskedLanguage,
  fonts: Fonts,
  asked: UnitSystem | undefined,
): BookLanguage => {
  const units = firstUnits(asked, layout.units, course.units);
  const file = layout.words ?? course.words;
  if (file === undefined) return { tag: 'en', words: undefined, units, told: [] };
  const bytes = readNamedFile(file, 'name a words file by the key "words"');
  const { language, words, given, lacking } = parseWords(textOf(bytes, file), file);
  for (const key of given) {
    faultsAt({ file, place: `words.${key}` }, () => {
      for (const face of FACES_OF_WORDS) fonts[face].refuseLacking(words[key]);
    });
  }
  return {
    tag: language,
    words,
    units,
    told: lackingWords(file, lacking, given.length + lacking.length),
  };
};

/** All that words of pages are set in; the hand is for a caddie's own. */
const FACES_OF_WORDS = ['text', 'text-bold', 'text-italic', 'title', 'title-bold'] as const;
