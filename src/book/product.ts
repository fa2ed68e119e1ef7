import type { KnownPages } from '../check/known-pages.js';
import type { BookChanges } from '../page/changes.js';
import type { BookCover } from '../page/marks/book-cover.js';
import type { WordTable } from '../page/words/words.js';
import type { Fonts } from '../print/fonts.js';

/** A file that a run makes; `file` is relative to the course's folder in the output. */
export interface Product {
  readonly file: string;
  readonly what: string;
  readonly bytes: Uint8Array;
  /** Of a PDF, what its own check found out. */
  readonly checked?: CheckedFile;
}

/** A PDF as its own check read it back. */
export interface CheckedFile {
  readonly pages: number;
  /** Of paper; null where it is not laid out on sheets. */
  readonly sheets: number | null;
  /** The rules that it was held to. */
  readonly rules: readonly string[];
}

export interface ProductOptions {
  readonly fonts: Fonts;
  readonly title: string;
  readonly language: string;
  /** Of the sheets and pages that are not the book's own; English where it is left out. */
  readonly words?: WordTable | undefined;
  /** Each page also as SVG. */
  readonly svg: boolean;
  /** Each page also as PNG at this resolution. */
  readonly png: number | null;
  /** Pages that the check has read already. */
  readonly known?: KnownPages;
  /** What the pages rest on, as JSON, for later editions. */
  readonly record?: string;
  /** When the book is made; see `DocumentWords`. */
  readonly date?: string;
  /** Covers for a spine so wide, millimetres, where the layout has one of its own. */
  readonly covers?: (spine: number) => readonly BookCover[];
  /** Against an earlier edition. */
  readonly changes?: BookChanges;
}
