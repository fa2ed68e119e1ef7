import type { Mark, TextMark } from './marks.js';

/** The texts among marks, in the order in which they are drawn. */
export const textMarksOf = (marks: readonly Mark[]): TextMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text'
      ? [mark]
      : mark.kind === 'group' || mark.kind === 'clip'
        ? textMarksOf(mark.marks)
        : [],
  );
