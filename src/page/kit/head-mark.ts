import type { Layout } from '../../layout/layout.js';
import type { Mark, MeasureText } from '../marks/marks.js';
import { phrase, type Worded } from '../words/words.js';
import { text } from './draw.js';
import type { PageSide } from './grid.js';
import { headLine, isForPracticeOnly, LEAST_HEAD } from './head-line.js';
import { fitWording } from './paragraph.js';

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
  const isMarked = isForPracticeOnly(layout);
  if (!isMarked && changed.length === 0) return [];
  const { page } = layout;
  const { inner, outer, top } = page.margins;
  const { base, end, size } = headLine(layout);
  const room = page.width - 2 * Math.max(inner, outer);
  const practice = phrase(book, 'use.larger');
  const face = isMarked ? 'text-bold' : 'text-italic';
  const words = isMarked ? changed.map((one) => `${practice} · ${one}`) : changed;
  const fitted = fitWording(words, room, { face, size, least: LEAST_HEAD }, measure);
  if (isMarked) {
    const mark = fitted ?? { text: practice, size };
    const at = [page.width / 2, base] as const;
    const marks = [text(at, mark.text, face, mark.size, { align: 'centre' })];
    return [{ kind: 'group', role: 'paragraph', shows: 'for-practice', marks }];
  }
  // A margin that is too low for it leaves the line to the cover and the list of changes.
  if (fitted === null || end > top) return [];
  // At the binding, away from a heading's number and name.
  const isLeft = side === 'left';
  const at = [isLeft ? page.width - inner : inner, base] as const;
  return [text(at, fitted.text, face, fitted.size, { align: isLeft ? 'right' : 'left' })];
};
