import { rule, stroke, text } from '../kit/draw.js';
import type { Mark, MeasureText, Mm } from '../marks/marks.js';

/** A word with a line to write on behind it, up to `end`; `gap` parts them, millimetres. */
export const ruledWord = (
  words: string,
  [x, base]: Mm,
  end: number,
  {
    face,
    size,
    gap,
  }: { readonly face: 'text' | 'text-italic'; readonly size: number; readonly gap: number },
  measure: MeasureText,
): Mark[] => [
  text([x, base], words, face, size),
  rule(x + measure(words, face, size) + gap, base + 0.4, end, base + 0.4, stroke(0.15)),
];
