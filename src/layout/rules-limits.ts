import { MM_PER_INCH } from '../units.js';

/**
 * The limits of green-reading material. Source: Clarification of Rule 4.3a on green-reading materials
 * (The R&A and USGA, since 2019): an image of a green no larger than 3/8 in to 5 yd, 1:480; a book no
 * larger than 4 1/4 x 7 in; a hole-location sheet of nine or more holes may be larger.
 */
export const LARGEST_SCALE = 480;
/** Millimetres. */
export const LARGEST_PAGE = { width: 4.25 * MM_PER_INCH, height: 7 * MM_PER_INCH } as const;
export const HOLES_ON_A_LARGER_SHEET = 9;
/** Millimetres: rounding of the figures in a layout or a PDF. */
const SLACK = 0.004;

/** Whether a page, upright or across, is within the limit of a book. Millimetres. */
export const isPageWithin = (width: number, height: number): boolean =>
  Math.min(width, height) <= LARGEST_PAGE.width + SLACK &&
  Math.max(width, height) <= LARGEST_PAGE.height + SLACK;
