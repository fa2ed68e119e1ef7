import type { ImageMark, PathMark } from './marks.js';

/** A picture of the user's in the inks of the book, in a frame of its own from its top left corner; millimetres. */
export interface LogoPicture {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly (PathMark | ImageMark)[];
}
