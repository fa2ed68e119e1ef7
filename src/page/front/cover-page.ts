import { pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { coverChangeWords } from '../kit/change-words.js';
import { text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import { outlinedGreens } from '../kit/outlined-greens.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording, setParagraphs, wrapLines } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import { speedWords } from '../kit/speed-words.js';
import type { Face, Mark, MeasureText, Page } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { greensKeyModule } from './greens-key.js';
import { logoModule } from './logo.js';
import { ornamentModule } from './ornament.js';

interface Ended {
  readonly marks: readonly Mark[];
  /** Where it ends on the page, millimetres. */
  readonly end: number;
}

/** Leading, and millimetres between paragraphs: closer where that is what makes them fit. */
const CLOSE = { lead: 1.15, gap: 0.5 };
/** Between what fills its cell, or more, and what stands below, millimetres. */
const BELOW = 2;

const setOpenOrClose = (
  paragraphs: readonly string[],
  cell: Cell,
  open: { readonly face: Face; readonly lead: number; readonly gap: number; readonly full: number },
  measure: MeasureText,
): Ended => {
  const { face, lead, gap, full } = open;
  const set = (by: { readonly lead: number; readonly gap: number }) =>
    setParagraphs(paragraphs, cell, { face, ...by }, { full, least: 6 }, measure);
  const wide = set({ lead, gap });
  const { marks, height } = wide.height <= cell.height ? wide : set(CLOSE);
  return { marks, end: cell.y + height };
};

const setTitle = ({ layout, measure, book }: PageContext, cell: Cell): Ended => {
  const size = layout.type.title * 2;
  const fitted = fitWording(
    [book.title],
    cell.width,
    { face: 'title-bold', size, least: 14 },
    measure,
  );
  const lines =
    fitted === null ? wrapLines(book.title, cell.width, 'title-bold', 14, measure) : [fitted.text];
  const used = fitted === null ? 14 : fitted.size;
  const step = pointsToMm(used) * 1.1;
  const below = step * lines.length + 3;
  const { edition = null, buyer = null } = book.imprint ?? {};
  const under = [book.setting, edition, buyer].flatMap((words) => words || []);
  const setting = setOpenOrClose(
    under,
    { ...cell, y: cell.y + below, height: cell.height - below },
    { face: 'title', lead: 1.3, gap: 1, full: layout.type.heading },
    measure,
  );
  const heading = headingGroup(
    book.title,
    lines.map((line, i) => text([cell.x, cell.y + step * (i + 0.8)], line, 'title-bold', used)),
  );
  return { marks: [heading, ...setting.marks], end: setting.end };
};

/** A cell clear below what stands in another module's, which may fill it or have grown out of it. */
const clearOf = (
  context: PageContext,
  cell: Cell,
  above: string,
  set: (context: PageContext, cell: Cell) => Ended,
): Cell => {
  const placement = context.layout.pages.cover?.find(({ module }) => module === above);
  if (placement === undefined) return cell;
  const upper = cellOf(context.layout, context.side, placement);
  const isOver =
    upper.y < cell.y && upper.x < cell.x + cell.width && cell.x < upper.x + upper.width;
  const { end } = set(context, upper);
  if (!isOver || end + BELOW <= cell.y) return cell;
  return { ...cell, y: end + BELOW, height: Math.max(1, cell.y + cell.height - end - BELOW) };
};

const greensIn = ({ length }: readonly unknown[], book: BookContent): string =>
  length === 1 ? phrase(book, 'cover.green') : phrase(book, 'cover.greens', { count: length });

type Holding = 'cover.committee' | 'cover.tables' | 'cover.arrows' | 'cover.outlines';

/** What the book holds, a line for each kind of green that is in it. */
const holdings = ({ layout, book }: PageContext): string[] => {
  const outlines = outlinedGreens(book);
  const of = (...worths: readonly string[]): BookContent['greens'] =>
    book.greens.filter(({ worth }) => worths.includes(worth.worth));
  const line = (greens: readonly unknown[], key: Holding): string[] =>
    greens.length === 0 ? [] : [phrase(book, key, { greens: greensIn(greens, book) })];
  const drawn =
    layout.use === 'committee'
      ? line(of('tables', 'arrows'), 'cover.committee')
      : [...line(of('tables'), 'cover.tables'), ...line(of('arrows'), 'cover.arrows')];
  const isSolved = layout.use !== 'committee' && of('tables').length > 0;
  return [
    ...drawn,
    ...line(outlines, 'cover.outlines'),
    ...(isSolved ? [speedWords(book.stimp, book.past, book)] : []),
  ];
};

const setFacts = (context: PageContext, placed: Cell): Ended => {
  const { book, layout, measure } = context;
  const words = [
    ...holdings(context),
    ...(book.changes === undefined ? [] : [coverChangeWords(book.changes, book)]),
    phrase(book, `use.${layout.use}`),
  ];
  const open = { face: 'text', lead: 1.4, gap: 1, full: layout.type.text } as const;
  return setOpenOrClose(words, clearOf(context, placed, 'title', setTitle), open, measure);
};

const COVER_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  title: (context, cell) => setTitle(context, cell).marks,
  ornament: ornamentModule,
  logo: logoModule,
  facts: (context, cell) => setFacts(context, cell).marks,
  'greens-key': (context, cell) =>
    greensKeyModule(context, clearOf(context, cell, 'facts', setFacts)),
};

export const composeCover = (context: PageContext): Page =>
  composePage('cover', { id: 'cover', title: context.book.title }, COVER_MODULES, context);
