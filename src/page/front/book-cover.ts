import { SPINE_CLEAR } from '../../layout/cover-spine.js';
import type { CoverPlan, Layout } from '../../layout/layout.js';
import { mmToPoints, pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { fillPath, rectSteps, text } from '../kit/draw.js';
import { fitOrShorten } from '../kit/paragraph.js';
import type { BookCover } from '../marks/book-cover.js';
import type { Mark, MeasureText } from '../marks/marks.js';
import { composeCover } from './cover-page.js';
import { composeBackCover } from './imprint-page.js';

/** Light enough for the small type on it, dark enough for a screen that a plate holds. */
const GROUND = { ink: 'tint', tone: 0.25 } as const;

/** From head and foot, millimetres. */
const SPINE_ENDS = 8;
/** Height of capitals, and of the room that keeps all letters of a line inside where its capitals stand in the middle, as shares of the size. */
const CAPITALS = 0.65;
const LINE = 1.16;
const LEAST = 6;

/** Title and publisher down the spine, as the title lies upright when the book lies on its back (ISO 6357); none on a thin one. */
const spineMarksOf = (
  { title, imprint }: BookContent,
  { type, page }: Layout,
  spine: number,
  measure: MeasureText,
): Mark[] => {
  const room = spine - 2 * SPINE_CLEAR;
  const size = Math.min(type.title, Math.floor((2 * mmToPoints(room)) / LINE) / 2);
  if (size < LEAST) return [];
  const base = spine / 2 - (CAPITALS * pointsToMm(size)) / 2;
  const long = page.height - 2 * SPINE_ENDS;
  const publisher = imprint?.publisher ?? null;
  const small = Math.max(LEAST, size - 2);
  const foot = publisher === null ? 0 : measure(publisher, 'text', small);
  const isBoth = foot > 0 && foot < long / 3;
  const name = fitOrShorten(
    title,
    long - (isBoth ? foot + SPINE_ENDS : 0),
    { face: 'title-bold', size, least: LEAST },
    measure,
  );
  return [
    text([base, SPINE_ENDS], name.text, 'title-bold', name.size, { turn: -90 }),
    ...(isBoth && publisher !== null
      ? [
          text([base, page.height - SPINE_ENDS], publisher, 'text', small, {
            turn: -90,
            align: 'right',
          }),
        ]
      : []),
  ];
};

/** The cover of a book whose spine is so wide. */
export const composeBookCover = (
  book: BookContent,
  layout: Layout,
  { front, back, inks, wrap, bleed }: CoverPlan,
  spine: number,
  measure: MeasureText,
): BookCover => {
  const own = { ...layout, inks, pages: { cover: front, 'back-cover': back } };
  const context = { layout: own, measure, book, label: '' };
  const width = 2 * layout.page.width + spine + 2 * wrap;
  const height = layout.page.height + 2 * wrap;
  return {
    buyer: book.imprint?.buyer ?? null,
    width,
    height,
    spine,
    wrap,
    ground: [fillPath(rectSteps(-bleed, -bleed, width + 2 * bleed, height + 2 * bleed), GROUND)],
    back: composeBackCover({ ...context, side: 'left' }),
    spineMarks: spineMarksOf(book, layout, spine, measure),
    front: composeCover({ ...context, side: 'right' }),
  };
};
