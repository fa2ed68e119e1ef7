import { pointsToMm } from '../../units.js';
import type { BookContent } from '../book-content.js';
import { coverChangeWords } from '../kit/change-words.js';
import { stroke, strokePath, text } from '../kit/draw.js';
import { outlinedGreens } from '../kit/outlined-greens.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording, setParagraph, setParagraphs, setToFit, wrapLines } from '../kit/paragraph.js';
import { headingGroup } from '../kit/read-aloud.js';
import { speedWords } from '../kit/speed-words.js';
import type { Mark, Page, PathStep } from '../marks/marks.js';
import { DARK, TINT } from '../marks/marks.js';
import { phrase } from '../words/words.js';
import { greensKeyModule } from './greens-key.js';

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
  const setting = setToFit(
    (size) =>
      setParagraph(
        book.setting,
        { ...cell, y: cell.y + below },
        { face: 'title', size, leading: size * 1.3 },
        measure,
      ),
    cell.height - below,
    { full: layout.type.heading, least: 6 },
  );
  return [
    headingGroup(
      book.title,
      lines.map((line, i) => text([cell.x, cell.y + step * (i + 0.8)], line, 'title-bold', used)),
    ),
    ...setting.marks,
  ];
};

/** Falling streams: the book's own ornament, drawn from three lines that gather into one. */
const ornamentModule: PageModule<PageContext> = (_context, cell) => {
  const at = (u: number, v: number): [number, number] => [
    cell.x + u * cell.width,
    cell.y + v * cell.height,
  ];
  const curve = (
    a: [number, number],
    b: [number, number],
    c: [number, number],
    d: [number, number],
  ): PathStep[] => [
    ['M', ...at(...a)],
    ['C', ...at(...b), ...at(...c), ...at(...d)],
  ];
  const marks: Mark[] = [];
  for (let i = 0; i < 15; i++) {
    const v = (0.9 * i) / 14;
    const paint = i % 5 === 0 ? DARK : TINT;
    marks.push(
      strokePath(
        curve([0, v], [0.3, v * 0.55 + 0.02], [0.42, 0.62 + v * 0.26], [1, 0.28 + v * 0.5]),
        stroke(i % 5 === 0 ? 0.3 : 0.16, paint),
      ),
    );
  }
  for (const [head, bend, width] of [
    [0.1, 0.3, 0.5],
    [0.55, 0.62, 1.1],
    [0.95, 0.8, 0.5],
  ] as const) {
    marks.push(
      strokePath(curve([0.02, head], [0.3, bend], [0.45, 0.7], [0.98, 0.58]), stroke(width)),
    );
  }
  return [{ kind: 'group', role: 'decoration', marks }];
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
  facts: factsModule,
  'greens-key': greensKeyModule,
};

export const composeCover = (context: PageContext): Page =>
  composePage('cover', { id: 'cover', title: context.book.title }, COVER_MODULES, context);
