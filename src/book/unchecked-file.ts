import type { BookUse } from '../check/use-check.js';
import type { FilePart } from '../file-bytes.js';

/** A file that is to be read back before it is written. */
export interface UncheckedFile {
  readonly file: string;
  /** In memory, or where they lie in a file that is open as long as it is read. */
  readonly bytes: Uint8Array | FilePart;
  /** The condition of use that it is held to, and the layout that asks for it; left out where it is held to none. */
  readonly held?: { readonly use: BookUse; readonly layout: string };
}

/** What the check of a PDF found out. */
export interface PassedFile {
  readonly pages: number;
  /** The rules that it was held to. */
  readonly rules: readonly string[];
}
