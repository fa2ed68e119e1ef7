/** What may have changed of a hole between two editions of a book, in the order in which it is told. */
export const CHANGE_KINDS = [
  'new',
  'survey',
  'outline',
  'locations',
  'tees',
  'line',
  'map',
  'ground',
  'speed',
  'worth',
  'names',
  'notes',
] as const;

export type ChangeKind = (typeof CHANGE_KINDS)[number];

/** What may have changed of the book as a whole. */
export type BookChangeKind = 'title' | 'units' | 'use' | 'layout';

/** Something that changed of a hole; `of` names the tees or the hole locations, where it is about some of them. */
export interface HoleChange {
  readonly kind: ChangeKind;
  readonly hole: string;
  readonly of: readonly string[];
}

/** A leaf that is to be put in: its place in the new book, and what lies there in the old one. */
export interface NewLeaf {
  /** The pages' places in the book, from 0; null for a back without a page. */
  readonly front: number;
  readonly back: number | null;
  /** The number of the old leaf that it takes the place of; null where it is put in between. */
  readonly replaces: number | null;
}

/** What changed for the buyer between an earlier edition and this one. */
export interface BookChanges {
  /** What the earlier edition calls itself; null where it has no name. */
  readonly since: string | null;
  readonly book: readonly BookChangeKind[];
  readonly holes: readonly HoleChange[];
  /** Holes of the earlier edition that this one lacks. */
  readonly gone: readonly string[];
  /** Pages by id: drawn otherwise than any of the earlier edition. */
  readonly changed: readonly string[];
  readonly added: readonly string[];
  /** How many pages of the earlier edition this one lacks, and how many this one has. */
  readonly lost: number;
  readonly pages: number;
  /** Whether the book is one sheet, which is changed as a whole: then no leaf is put in or taken out. */
  readonly whole: boolean;
  readonly leaves: readonly NewLeaf[];
  /** Numbers of old leaves that are to be taken out and have none in their place. */
  readonly out: readonly number[];
  /** Whether leaves that stay bear other page numbers than in this edition. */
  readonly renumbered: boolean;
}

/** Whether anything is another than it was, be it only that pages stand in another order. */
export const hasChanged = (changes: BookChanges): boolean => {
  const { book, holes, gone, changed, added, leaves, out, lost } = changes;
  return (
    [book, holes, gone, changed, added, leaves, out].some(({ length }) => length > 0) || lost > 0
  );
};
