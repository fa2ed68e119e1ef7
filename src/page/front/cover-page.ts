import { pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { coverChangeWords } from '../kit/change-words.js';
import { text } from '../kit/draw.js';
import { outlinedGreens } from '../kit/outlined-greens.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording, setParagraphs, wrapLines } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import { speedWords } from '../kit/speed-words.js';
import type { Page } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { greensKeyModule } from './greens-key.js';
import { logoModule } from './logo.js';
import { ornamentModule } from './ornament.js';

const titleModule: PageModule<PageContext> = ({ layout, measure, book }, cell) => {
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
  const setting = setParagraphs(
    under,
    { ...cell, y: cell.y + below, height: cell.height - below },
    { face: 'title', lead: 1.3, gap: 1 },
    { full: layout.type.heading, least: 6 },
    measure,
  );
  return [
    headingGroup(
      book.title,
      lines.map((line, i) => text([cell.x, cell.y + step * (i + 0.8)], line, 'title-bold', used)),
    ),
    ...setting.marks,
  ];
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

const factsModule: PageModule<PageContext> = (context, cell) =>
  setParagraphs(
    [
      ...holdings(context),
      ...(context.book.changes === undefined
        ? []
        : [coverChangeWords(context.book.changes, context.book)]),
      phrase(context.book, `use.${context.layout.use}`),
    ],
    cell,
    { face: 'text', lead: 1.4, gap: 1 },
    { full: context.layout.type.text, least: 6 },
    context.measure,
  ).marks;

const COVER_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  title: titleModule,
  ornament: ornamentModule,
  logo: logoModule,
  facts: factsModule,
  'greens-key': greensKeyModule,
};

export const composeCover = (context: PageContext): Page =>
  composePage('cover', { id: 'cover', title: context.book.title }, COVER_MODULES, context);
