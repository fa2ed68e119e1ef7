import type { Box } from '../geometry.js';
import type { ReadBook } from './read-book.js';
import type { ReadPage } from './read-page.js';

/** What one rule found. `page` counts the PDF's pages from 1; null is the whole file. */
export interface Finding {
  readonly rule: string;
  readonly verdict: 'pass' | 'note' | 'fail';
  readonly page: number | null;
  readonly words: string;
}

/** Limits of a press; common practice, no source, unless said otherwise. */
export const LIMITS = {
  /** Total ink of all plates. */
  ink: 3,
  /** Pixels to an inch. */
  resolution: 300,
  /** Millimetres. */
  bleed: 3,
  textInside: 3,
  /** Points. */
  box: 0.01,
} as const;

export const round = (value: number, digits = 2): string => String(Number(value.toFixed(digits)));

export const inside = (inner: Box, outer: Box, by = 0): boolean =>
  inner.minX >= outer.minX + by - LIMITS.box &&
  inner.minY >= outer.minY + by - LIMITS.box &&
  inner.maxX <= outer.maxX - by + LIMITS.box &&
  inner.maxY <= outer.maxY - by + LIMITS.box;

export type PageRule = (page: ReadPage, book: ReadBook) => readonly string[];

/** One finding a page that fails, or one for all that pass. */
export const overPages = (
  book: ReadBook,
  rule: string,
  passed: string,
  test: PageRule,
): Finding[] => {
  const found = book.pages.flatMap((page, i) =>
    test(page, book).map((words): Finding => ({ rule, verdict: 'fail', page: i + 1, words })),
  );
  return found.length > 0 ? found : [{ rule, verdict: 'pass', page: null, words: passed }];
};

export const isPress = (book: ReadBook): boolean => book.standard !== null;

/** Each page of the book with the place it has on a PDF page: its trim and whether its binding is left. */
export const pagesOf = (
  page: ReadPage,
  index: number,
): { readonly on: number | null; readonly trim: Box; readonly recto: boolean }[] =>
  page.drawn.placed.length > 0
    ? page.drawn.placed.map(({ trim, number }, on) => ({ on, trim, recto: number % 2 === 1 }))
    : page.trim === null
      ? []
      : [{ on: null, trim: page.trim, recto: index % 2 === 0 }];
