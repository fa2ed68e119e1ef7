import type { UnitSystem } from '../../units.js';
import { ENGLISH } from './english.js';

/** The name of a wording in the table: "cover.greens". */
export type WordKey = keyof typeof ENGLISH;

/** All words of pages in one language; `{name}` stands for what a page puts there. */
export type WordTable = Readonly<Record<WordKey, string>>;

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

const SLOT = /\{(\w+)\}/g;

/** The same in parts, that what is put in can be set apart from the words about it; empty parts left out. */
export const phraseParts = <K extends WordKey>(
  { words }: Worded,
  key: K,
  ...[values]: Slots<K>
): { readonly text: string; readonly filled: boolean }[] => {
  const given: Readonly<Record<string, string | number>> = values ?? {};
  // Splitting at a group keeps what it holds: every second part is the name of a place.
  return (words ?? ENGLISH)[key]
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
): string => {
  const wording: string = (words ?? ENGLISH)[key];
  if (values === undefined) return wording;
  const given: Readonly<Record<string, string | number>> = values;
  return wording.replace(SLOT, (_, name: string) => `${given[name]}`);
};
