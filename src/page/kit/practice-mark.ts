import type { Layout } from '../../layout/layout.js';
import { isPageWithin, LARGEST_SCALE } from '../../layout/rules-limits.js';
import { pointsToMm } from '../../units.js';
import type { Mark } from '../marks/marks.js';
import { text } from './draw.js';

/** Whether a layout's pages or greens are larger than Rule 4.3a allows in play. */
const breaksLimit = ({ page, green }: Layout): boolean =>
  !isPageWithin(page.width, page.height) || green.scale < LARGEST_SCALE;

/**
 * Says at the head of a page that it is for practice, where the layout breaks a limit. It stands in the
 * top margin, so that no layout can leave it out.
 */
export const practiceMark = (layout: Layout): Mark[] => {
  if (layout.use !== 'practice' || !breaksLimit(layout)) return [];
  const { page, type } = layout;
  const size = Math.max(type.small, 6);
  const base = Math.max(
    3.4 + pointsToMm(size) * 0.75,
    page.margins.top / 2 + pointsToMm(size) * 0.35,
  );
  return [
    text(
      [page.width / 2, base],
      'for practice only: larger than Rule 4.3a allows',
      'text-bold',
      size,
      {
        align: 'centre',
      },
    ),
  ];
};
