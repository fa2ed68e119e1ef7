import type { Layout } from '../../layout/layout.js';
import { isPageWithin, LARGEST_SCALE } from '../../layout/rules-limits.js';
import { pointsToMm } from '../../units.js';
import type { Mark, MeasureText } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';
import { text } from './draw.js';
import type { PageSide } from './grid.js';
import { fitWording } from './paragraph.js';

/** Whether a layout's pages or greens are larger than Rule 4.3a allows in play. */
const breaksLimit = ({ page, green }: Layout): boolean =>
  !isPageWithin(page.width, page.height) || green.scale < LARGEST_SCALE;

/** Points. */
const LEAST = 6;

/**
 * What stands in the top margin, so that no layout can leave it out: that a page is for practice, where the
 * layout breaks a limit, and what of it has changed (`changed`, the longest wording first), which yields to that.
 */
export const headMark = (
  {
    layout,
    side,
    measure,
    book,
  }: {
    readonly layout: Layout;
    readonly side: PageSide;
    readonly measure: MeasureText;
    readonly book: Worded;
  },
  changed: readonly string[],
): Mark[] => {
  const isMarked = layout.use === 'practice' && breaksLimit(layout);
  if (!isMarked && changed.length === 0) return [];
  const { page, type } = layout;
  const { inner, outer, top } = page.margins;
  const size = Math.max(type.small, LEAST);
  const base = Math.max(3.4 + pointsToMm(size) * 0.75, top / 2 + pointsToMm(size) * 0.35);
  const room = page.width - 2 * Math.max(inner, outer);
  const practice = phrase(book, 'use.larger');
  const face = isMarked ? 'text-bold' : 'text-italic';
  const words = isMarked ? changed.map((one) => `${practice} · ${one}`) : changed;
  const fitted = fitWording(words, room, { face, size, least: LEAST }, measure);
  if (isMarked) {
    const mark = fitted ?? { text: practice, size };
    return [text([page.width / 2, base], mark.text, face, mark.size, { align: 'centre' })];
  }
  if (fitted === null) return [];
  // At the binding, away from a heading's number and name.
  const isLeft = side === 'left';
  const at = [isLeft ? page.width - inner : inner, base] as const;
  return [text(at, fitted.text, face, fitted.size, { align: isLeft ? 'right' : 'left' })];
};
