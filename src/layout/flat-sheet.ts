import { InputFault } from '../fault.js';
import { counted } from '../wording.js';
import type { Layout } from './layout.js';
import { HOLES_ON_A_LARGER_SHEET, LARGEST_PAGE } from './rules-limits.js';

/**
 * Whether a sheet that is folded and not cut is larger, laid open, than the Rules allow a book to be, and shows too few greens
 * to be a hole-location sheet that may be.
 */
export const isTooLargeFlat = ({ binding, sheets, page }: Layout, greens: number): boolean =>
  binding.method === 'fold-up' &&
  greens > 0 &&
  greens < HOLES_ON_A_LARGER_SHEET &&
  sheets.some(({ up }) => up * page.width * page.height > LARGEST_PAGE.width * LARGEST_PAGE.height);

/** Throws InputFault for a fold-up sheet that is to be carried in play and shows too few greens to be so large. */
export const requireFlatWithin = (layout: Layout, greens: number): void => {
  if (layout.use === 'practice' || !isTooLargeFlat(layout, greens)) return;
  throw new InputFault(
    { file: `layout ${layout.name}` },
    `a folded sheet of ${counted(greens, 'green')} does not fit Rule 4.3a: larger than 4 1/4 x 7 in it must show ${HOLES_ON_A_LARGER_SHEET} holes or more`,
    'take a layout of cut pages, or make it with --use practice',
  );
};
