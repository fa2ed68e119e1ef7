import type { Mark, Page } from './marks.js';

/** A cover in one piece. The ground lies in the frame of the whole cut sheet, marks of a part in that part's own; millimetres. */
export interface BookCover {
  /** For its bookmark: whose it is; null for one made for no one by name. */
  readonly buyer: string | null;
  /** Of the cut sheet, with what is turned in. */
  readonly width: number;
  readonly height: number;
  readonly spine: number;
  readonly wrap: number;
  readonly ground: readonly Mark[];
  readonly back: Page;
  readonly spineMarks: readonly Mark[];
  readonly front: Page;
}
