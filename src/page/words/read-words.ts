import { type CheckedYaml, yamlReader } from '../../checked-yaml.js';
import { quoted } from '../../fault.js';
import { INPUT_LIMITS } from '../../input-limits.js';
import { nearestWord } from '../../nearest-word.js';
import { ENGLISH } from './english.js';
import { countedPlace, formsOf, type WordKey, type WordTable } from './words.js';

/** The words of pages in a language of a user's file. */
export interface WordsFile {
  /** The language's tag (BCP 47), in its canonical form: "sv", "pt-BR". */
  readonly language: string;
  readonly words: WordTable;
  /** Wordings that the file gives. */
  readonly given: readonly WordKey[];
  /** Those that it lacks, which stay English. */
  readonly lacking: readonly WordKey[];
}

/** A wording, or its forms by what is counted. */
type Wording = string | Readonly<Record<string, string>>;

interface WordsEntry {
  readonly language: string;
  readonly words: Readonly<Record<string, Wording>>;
}

/** Of Unicode's CLDR, as Intl names them. */
const FORMS = ['zero', 'one', 'two', 'few', 'many', 'other'] as const;

const readWordsFile = yamlReader<WordsEntry>({
  type: 'object',
  additionalProperties: false,
  required: ['language', 'words'],
  properties: {
    language: { type: 'string', description: 'tag of the language (BCP 47), such as sv or pt-BR' },
    words: {
      type: 'object',
      description: 'wordings by their names in the table of words',
      additionalProperties: {
        type: ['string', 'object'],
        minLength: 1,
        maxLength: INPUT_LIMITS.wording,
        additionalProperties: false,
        properties: Object.fromEntries(
          FORMS.map((form) => [
            form,
            { type: 'string', minLength: 1, maxLength: INPUT_LIMITS.wording },
          ]),
        ),
      },
    },
  },
});

const KEYS = Object.keys(ENGLISH) as readonly WordKey[];

const isKey = (key: string): key is WordKey => Object.hasOwn(ENGLISH, key);

const slotsIn = (wording: string): string[] =>
  [...wording.matchAll(/\{(\w+)\}/g)].map(([slot]) => slot);

/** The tag as BCP 47 (RFC 5646) writes it; null for none. */
const canonicalTag = (tag: string): string | null => {
  try {
    return Intl.getCanonicalLocales(tag)[0] ?? null;
  } catch {
    return null;
  }
};

/** What is wrong with a wording's places, beside the English ones; null for nothing. */
const slotProblem = (key: WordKey, wording: string): { problem: string; cure: string } | null => {
  const wanted = new Set(slotsIn(ENGLISH[key]));
  const found = slotsIn(wording);
  const cure =
    wanted.size === 0
      ? 'leave out braces: nothing is put in here'
      : `write each of ${[...wanted].join(', ')} once, as in: ${ENGLISH[key]}`;
  const foreign = found.find((slot) => !wanted.has(slot));
  if (foreign !== undefined) return { problem: `nothing is put in for ${quoted(foreign)}`, cure };
  const lost = [...wanted].find((slot) => found.filter((one) => one === slot).length !== 1);
  if (lost !== undefined) {
    const problem = found.includes(lost) ? `${lost} stands twice` : `${lost} is left out`;
    return { problem, cure };
  }
  if (/[{}]/.test(wording.replaceAll(/\{\w+\}/g, ''))) {
    return { problem: 'a brace stands alone', cure };
  }
  return null;
};

/** What is wrong with the forms that a wording is given in; null for nothing. */
const formsProblem = (
  key: WordKey,
  forms: Readonly<Record<string, string>>,
  language: string,
): { problem: string; cure: string } | null => {
  if (countedPlace(ENGLISH[key]) === undefined) {
    return { problem: 'nothing is counted here', cure: 'write one wording, without forms' };
  }
  const wanted = formsOf(language);
  const cure = `give ${wanted.join(', ')}, the forms of ${language}`;
  const foreign = Object.keys(forms).find((form) => !wanted.includes(form));
  if (foreign !== undefined) return { problem: `${language} has no form ${quoted(foreign)}`, cure };
  const lost = wanted.find((form) => forms[form] === undefined);
  return lost === undefined ? null : { problem: `the form ${quoted(lost)} is left out`, cure };
};

const checkWording = (
  key: string,
  wording: Wording,
  language: string,
  fault: CheckedYaml<WordsEntry>['fault'],
): void => {
  if (!isKey(key)) {
    const near = nearestWord(key, KEYS);
    throw fault(
      ['words', key],
      `there is no wording ${quoted(key)}`,
      near === undefined ? '`runnel words` lists them' : `did you mean ${quoted(near)}?`,
    );
  }
  if (key === 'number.point' && (typeof wording !== 'string' || !/^[^\d\s]$/u.test(wording))) {
    throw fault(['words', key], 'is no sign between whole and tenths', 'write as in: ","');
  }
  if (typeof wording === 'string') {
    const wrong = slotProblem(key, wording);
    if (wrong !== null) throw fault(['words', key], wrong.problem, wrong.cure);
    return;
  }
  const wrong = formsProblem(key, wording, language);
  if (wrong !== null) throw fault(['words', key], wrong.problem, wrong.cure);
  for (const [form, one] of Object.entries(wording)) {
    const at = slotProblem(key, one);
    if (at !== null) throw fault(['words', key, form], at.problem, at.cure);
  }
};

/** The sign that a language puts between whole and tenths. */
const pointOf = (language: string): string =>
  new Intl.NumberFormat(language).formatToParts(1.5).find(({ type }) => type === 'decimal')
    ?.value ?? '.';

/** What the file gives, its forms under names of their own. */
const inTable = (words: WordsEntry['words']): Record<string, string> =>
  Object.fromEntries(
    Object.entries(words).flatMap(([key, wording]) =>
      typeof wording === 'string'
        ? [[key, wording]]
        : [
            [key, wording.other],
            ...Object.entries(wording).map(([form, one]) => [`${key}#${form}`, one]),
          ],
    ),
  );

/**
 * Reads a words file (YAML): a language and its wordings by the names that English has. What it lacks stays
 * English and is told by `lacking`.
 *
 * @throws InputFault with the line of a key that is not known, a place that is left out or that nothing fills.
 */
export const parseWords = (text: string, file: string): WordsFile => {
  const { value, fault } = readWordsFile(text, file);
  const language = canonicalTag(value.language);
  if (language === null) {
    throw fault(
      ['language'],
      `${quoted(value.language)} is no tag of a language`,
      'write as in: sv, pt-BR',
    );
  }
  for (const [key, wording] of Object.entries(value.words)) {
    checkWording(key, wording, language, fault);
  }
  const given = KEYS.filter((key) => Object.hasOwn(value.words, key));
  return {
    language,
    words: {
      ...ENGLISH,
      'number.point': pointOf(language),
      ...inTable(value.words),
      '#language': language,
    } as WordTable,
    given,
    lacking: KEYS.filter((key) => key !== 'number.point' && !Object.hasOwn(value.words, key)),
  };
};
