import type { UnitSystem } from '../../units.js';
import { filled, SLOT } from '../../wording.js';
import { ENGLISH } from './english.js';

/** The name of a wording in the table: "cover.greens". */
export type WordKey = keyof typeof ENGLISH;

/**
 * All words of pages in one language; `{name}` stands for what a page puts there. Under `key#few` and the like the
 * forms of what is counted (CLDR plural categories), under `#language` the tag by whose rules they are taken.
 */
export type WordTable = Readonly<Record<WordKey, string>> & {
  readonly [form: `${string}#${string}`]: string;
};

export interface Worded {
  /** English where it is left out. */
  readonly words?: WordTable | undefined;
}

/** In what manner a page tells things: a book is one. */
export interface Telling extends Worded {
  readonly units: UnitSystem;
}

type SlotNames<T extends string> = T extends `${string}{${infer Name}}${infer Rest}`
  ? Name | SlotNames<Rest>
  : never;

/** What a wording wants put into it: nothing, or a value for each of its places. */
export type Slots<K extends WordKey> = [SlotNames<(typeof ENGLISH)[K]>] extends [never]
  ? []
  : [values: Readonly<Record<SlotNames<(typeof ENGLISH)[K]>, string | number>>];

/** Places that may hold a count, the likeliest first. */
const COUNTS = ['count', 'paces', 'putts', 'places', 'figure', 'left', 'all'];

/** The place of a wording by whose figure its form is taken; undefined where nothing is counted. */
export const countedPlace = (wording: string): string | undefined =>
  COUNTS.find((name) => wording.includes(`{${name}}`));

const rules = new Map<string, Intl.PluralRules>();

const pluralRules = (language: string): Intl.PluralRules => {
  const known = rules.get(language) ?? new Intl.PluralRules(language);
  rules.set(language, known);
  return known;
};

/** The forms that a language has for what is counted: of English one and other. */
export const formsOf = (language: string): readonly string[] =>
  pluralRules(language).resolvedOptions().pluralCategories;

type Values = Readonly<Record<string, string | number>>;

/** The wording, in the form that its count wants. */
const wordingOf = (words: WordTable | undefined, key: WordKey, values: Values): string => {
  if (words === undefined) return ENGLISH[key];
  if (words[`${key}#other`] === undefined) return words[key];
  const counted = Number(values[countedPlace(ENGLISH[key]) ?? '']);
  const form = Number.isFinite(counted)
    ? pluralRules(words['#language']).select(counted)
    : ('other' as const);
  return words[`${key}#${form}`];
};

/** A figure as the language writes it: "1.5" as 1,5. */
export const decimal = (figure: string, { words }: Worded): string =>
  words === undefined ? figure : figure.replace(/(?<=\d)\.(?=\d)/, words['number.point']);

/** A figure, with its sign and its unit; other texts are the user's own. */
const FIGURE = /^[~±+\u2212]?\d+\.\d+( \p{L}+)?$/u;
/** Places for names that a user gives, which may look like figures. */
const NAMES: ReadonlySet<string> = new Set(['edition', 'name', 'title', 'number', 'location']);

const localised = ({ words }: Worded, values: Values): Values =>
  words === undefined
    ? values
    : Object.fromEntries(
        Object.entries(values).map(([name, value]) => [
          name,
          FIGURE.test(`${value}`) && !NAMES.has(name) ? decimal(`${value}`, { words }) : value,
        ]),
      );

const filledIn = (
  words: WordTable | undefined,
  key: WordKey,
  values: Values | undefined,
): string =>
  values === undefined
    ? (words ?? ENGLISH)[key]
    : filled(wordingOf(words, key, values), localised({ words }, values));

/** The same in parts, that what is put in can be set apart from the words about it; empty parts left out. */
export const phraseParts = <K extends WordKey>(
  { words }: Worded,
  key: K,
  ...[values]: Slots<K>
): { readonly text: string; readonly filled: boolean }[] => {
  const given = localised({ words }, values ?? {});
  // Splitting at a group keeps what it holds: every second part is the name of a place.
  return wordingOf(words, key, given)
    .split(SLOT)
    .map((part, i) =>
      i % 2 === 1 ? { text: `${given[part]}`, filled: true } : { text: part, filled: false },
    )
    .filter(({ text }) => text !== '');
};

/** A wording of the table in the language of the page, with what belongs into it. */
export const phrase = <K extends WordKey>(
  { words }: Worded,
  key: K,
  ...[values]: Slots<K>
): string => filledIn(words, key, values);
