import { fetchedRecord } from '../fetched-record.js';
import type { PiecedBytes } from '../file-bytes.js';
import type { BookChanges } from '../page/changes.js';
import type { BookCover } from '../page/marks/book-cover.js';
import type { WordTable } from '../page/words/words.js';
import type { StoreBlock } from '../print/byte-store.js';
import type { Fonts } from '../print/fonts.js';
import type { ProductCheck } from './product-check.js';
import { openByteShelf, openFileShelf } from './shelf.js';
import { notePlace, type StoredBytes } from './stored-bytes.js';

/** How many pages a side of a sheet has, in words. */
export const onASide = (up: number): string => `${up} page${up === 1 ? '' : 's'} on a side`;

/** A file that a run makes; `file` is relative to the course's folder in the output. */
export interface Product {
  readonly file: string;
  readonly what: string;
  readonly bytes: Uint8Array;
  /** Of a PDF, what its own check found out. */
  readonly checked?: CheckedFile;
}

/** What a document and what a run's products take in memory before they go to a file of the run, bytes. */
const DOCUMENT = 2 * 1024 ** 2;
const PRODUCTS = 8 * 1024 ** 2;

/** Keeps what is written of a document. */
export const storeOf = (room: string | null | undefined): StoreBlock =>
  openByteShelf(room ?? null, DOCUMENT);

/** Keeps what products hold; what is not in memory is read each time that it is asked for. */
export const keeperOf = (room: string | null | undefined): ((made: PiecedBytes) => StoredBytes) =>
  openFileShelf(room ?? null, PRODUCTS);

/** A product whose bytes are kept. */
export const productOf = (told: Omit<Product, 'bytes'>, kept: StoredBytes): Product =>
  notePlace(fetchedRecord(told, { bytes: kept.bring }), kept);

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
  /** Reads the products back; on the thread that asks where it is left out. */
  readonly check?: ProductCheck;
  /** What the pages rest on, as JSON, for later editions. */
  readonly record?: string;
  /** When the book is made; see `DocumentWords`. */
  readonly date?: string;
  /** Covers for a spine so wide, millimetres, where the layout has one of its own; each is composed when it is written. */
  readonly covers?: (spine: number) => readonly (() => BookCover)[];
  /** Against an earlier edition. */
  readonly changes?: BookChanges;
  /** Where a run may keep what is too large for memory; null or left out: nowhere. */
  readonly room?: string | null;
}
