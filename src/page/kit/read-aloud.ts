import type { CellPlace, GroupMark, Mark } from '../marks/marks.js';

/**
 * Groups that change nothing of what is drawn and tell the screen edition how its pages are read. `words`: as
 * one would read them, where the texts drawn are several lines, short or signs.
 */

export const headingGroup = (words: string, marks: readonly Mark[]): GroupMark => ({
  kind: 'group',
  role: 'heading',
  words,
  marks,
});

export const paragraphGroup = (words: string, marks: readonly Mark[]): GroupMark => ({
  kind: 'group',
  role: 'paragraph',
  ...(marks.length > 1 ? { words } : {}),
  marks,
});

export const captionGroup = (words: string, marks: readonly Mark[]): GroupMark => ({
  kind: 'group',
  role: 'caption',
  words,
  marks,
});

/** A page's number and what else stands on every page alike. */
export const folioGroup = (...marks: readonly Mark[]): GroupMark => ({
  kind: 'group',
  role: 'folio',
  marks,
});

/** A cell of a table. */
export const cellGroup = (
  cell: CellPlace,
  marks: Mark | readonly Mark[],
  words?: string,
): GroupMark => ({
  kind: 'group',
  role: 'cell',
  cell,
  ...(words === undefined ? {} : { words }),
  marks: Array.isArray(marks) ? marks : [marks as Mark],
});
