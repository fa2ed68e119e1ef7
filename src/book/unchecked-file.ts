import type { BookUse } from '../check/use-check.js';

/** A file that is to be read back before it is written. */
export interface UncheckedFile {
  readonly file: string;
  readonly bytes: Uint8Array;
  /** The condition of use that it is held to, and the layout that asks for it; left out where it is held to none. */
  readonly held?: { readonly use: BookUse; readonly layout: string };
}

/** What the check of a PDF found out. */
export interface PassedFile {
  readonly pages: number;
  /** The rules that it was held to. */
  readonly rules: readonly string[];
}
