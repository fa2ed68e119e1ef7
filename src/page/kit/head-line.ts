import type { Layout } from '../../layout/layout.js';
import { isPageWithin, LARGEST_SCALE } from '../../layout/rules-limits.js';
import { pointsToMm } from '../../units.js';

/** Points. */
export const LEAST_HEAD = 6;

/** Millimetres from the trim, which no type comes nearer to. */
const CLEAR = 3.4;

/** Whether a layout is for practice because its pages or greens are larger than Rule 4.3a allows in play. */
export const isForPracticeOnly = ({ use, page, green, tooLargeFlat }: Layout): boolean =>
  use === 'practice' &&
  (!isPageWithin(page.width, page.height) || green.scale < LARGEST_SCALE || tooLargeFlat === true);

/** The line above the modules of a page: its size in points, its baseline and where it ends, millimetres from the top. */
export const headLine = ({
  page,
  type,
}: Layout): { readonly size: number; readonly base: number; readonly end: number } => {
  const size = Math.max(type.small, LEAST_HEAD);
  const high = pointsToMm(size);
  const base = Math.max(CLEAR + high * 0.75, page.margins.top / 2 + high * 0.35);
  return { size, base, end: base + high * 0.22 };
};
