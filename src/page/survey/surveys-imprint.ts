import type { BookContent } from '../book-content.js';
import { imprintLines, isSold } from '../front/imprint-page.js';
import { rule, stroke } from '../kit/draw.js';
import type { SetText } from '../kit/paragraph.js';
import { setToFit } from '../kit/paragraph.js';
import { type SurveysContext, surveysFreeRoom } from './surveys-words.js';

/** Above and below the rule that parts the imprint from the words, millimetres. */
const ABOVE_RULE = 4;
const BELOW_RULE = 3;

/** Modules of an imprint's page whose words a book of these pages has elsewhere, too: its title, and what it cannot know. */
const ELSEWHERE = new Set(['heading', 'cautions', 'foot']);

/** Whether the imprint's page says nothing but its lines that is not on other pages of the book, too. */
const isLinesAlone = ({ layout, book }: SurveysContext): boolean => {
  const { imprint, 'how-to-read': howToRead } = layout.pages;
  return (imprint ?? []).every(
    ({ module }) =>
      module === 'imprint-lines' ||
      (module === 'logo' && book.imprint?.logo === null) ||
      (ELSEWHERE.has(module) && (module !== 'cautions' || howToRead !== undefined)),
  );
};

const imprintOf = ({ imprint }: BookContent) => (isSold(imprint) ? imprint : null);

/** The imprint below the words of a page of surveys; null where it has no room there, or tells more than its lines. */
export const imprintBelow = (context: SurveysContext): SetText | null => {
  const imprint = imprintOf(context.book);
  const free = surveysFreeRoom(context);
  if (imprint === null || free === null || !isLinesAlone(context)) return null;
  const line = free.y + ABOVE_RULE;
  const room = free.height - ABOVE_RULE - BELOW_RULE;
  const cell = { ...free, y: line + BELOW_RULE, height: room };
  const { text: full, table } = context.layout.type;
  const set = setToFit((size) => imprintLines(imprint, cell, { size, gap: 0.06 }, context), room, {
    ...{ full, least: Math.min(full, table) },
  });
  if (set.height > room) return null;
  const parting = rule(free.x, line, free.x + free.width, line, stroke(0.15));
  return { marks: [parting, ...set.marks], height: set.height + ABOVE_RULE + BELOW_RULE };
};
