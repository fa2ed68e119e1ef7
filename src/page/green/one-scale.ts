import type { Layout } from '../../layout/layout.js';
import type { BookContent } from '../book-content.js';
import { outlinedGreens } from '../kit/outlined-greens.js';
import { frameOnPage } from './green-image.js';

/** The share of the greens that the common scale takes; larger ones are drawn as large as they fit. */
const SHARE = 0.8;

/**
 * A layout that wants its greens at one scale, with the largest at which four in five of the book's greens fit
 * their place, if that is smaller than its own; any other layout as it is. The same again where it is asked again.
 */
export const atOneScale = (book: BookContent, layout: Layout): Layout => {
  if (!layout.green.oneScale) return layout;
  const scales = [...book.greens, ...outlinedGreens(book)]
    .flatMap((green) => frameOnPage(green, layout, 'right')?.scale ?? [])
    .sort((a, b) => a - b);
  if (scales.length === 0) return layout;
  const scale = scales[Math.ceil(SHARE * scales.length) - 1];
  return { ...layout, green: { ...layout.green, scale } };
};
