import type { Mark, Page, TextMark } from './marks.js';

/** The texts among marks, in the order in which they are drawn. */
export const textMarksOf = (marks: readonly Mark[]): TextMark[] =>
  marks.flatMap((mark) =>
    mark.kind === 'text'
      ? [mark]
      : mark.kind === 'group' || mark.kind === 'clip'
        ? textMarksOf(mark.marks)
        : [],
  );

/** Marks without all that only draws: texts and links, and the groups that they stand in. */
export const wordsAlone = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark): Mark[] => {
    if (mark.kind === 'text' || mark.kind === 'link') return [mark];
    if (mark.kind === 'clip') {
      // What is clipped to nothing is not drawn.
      return mark.steps.length === 0 ? [] : [{ ...mark, steps: [], marks: wordsAlone(mark.marks) }];
    }
    if (mark.kind !== 'group') return [];
    const { ground: _, ...group } = mark;
    return [{ ...group, marks: wordsAlone(mark.marks) }];
  });

/** The texts of a page, in the order in which they are drawn. */
export const textsOfPage = (page: Page): TextMark[] =>
  textMarksOf(page.memory?.words ?? page.marks);
