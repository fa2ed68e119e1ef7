import type { Layout } from '../../layout/layout.js';
import { pointsToMm } from '../../units.js';
import { text } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import { composePage, type PageContext, type PageModule } from '../kit/page-modules.js';
import { setParagraphs } from '../kit/paragraph.js';
import type { Mark, Page } from '../marks/marks.js';
import { phrase, type Telling } from '../words/words.js';
import { heldKinds } from './held-kinds.js';
import { signsIn } from './how-to-read-signs.js';
import { locationDefinitionFigure } from './location-definition-figure.js';

/** Room that a part of the page leaves over, millimetres: from there on what stands below it moves up, to so far off. */
const SPARE = 6;
const BETWEEN = 4;
/** Words keep so far off signs that fill their cell, as far as their own leaves room. */
const OFF_SIGNS = 2;

interface Above {
  readonly module: string;
  readonly set: (context: PageContext, cell: Cell) => Ended;
}

/** Where what stands in the module above a cell ends; null where none stands there. */
const endAbove = (context: PageContext, cell: Cell, above: Above): number | null => {
  const placement = context.layout.pages['how-to-read']?.find((one) => one.module === above.module);
  if (placement === undefined) return null;
  const upper = cellOf(context.layout, context.side, placement);
  const isOver =
    upper.y < cell.y && upper.x < cell.x + cell.width && cell.x < upper.x + upper.width;
  return isOver ? above.set(context, upper).end : null;
};

/** The cell of a part, moved up to the end of what stands in the module above it, where that leaves much room. */
const movedUp = (cell: Cell, end: number | null): Cell =>
  end === null || cell.y - end < SPARE ? cell : { ...cell, y: end + BETWEEN };

interface Ended {
  readonly marks: readonly Mark[];
  /** Where it ends on the page, millimetres. */
  readonly end: number;
}

const headModule: PageModule<PageContext> = ({ layout, book }, cell) => {
  const base = cell.y + pointsToMm(layout.type.title) * 0.8;
  return [text([cell.x, base], phrase(book, 'read.title'), 'title-bold', layout.type.title)];
};

/** What else than its place off the green leaves a putt blank. */
const closedWords = (context: PageContext): string => {
  const { book } = context;
  const faces = book.greens.some(({ worth }) => worth.unsure.length > 0);
  const ways = [
    ...(heldKinds(context).bare ? [phrase(book, 'read.bare-way')] : []),
    ...(faces ? [phrase(book, 'read.face-way')] : []),
  ];
  if (ways.length === 0) return '';
  const way =
    ways.length === 1 ? ways[0] : phrase(book, 'read.two-ways', { one: ways[0], other: ways[1] });
  return phrase(book, 'read.ways', { way });
};

/** How a table is read. */
const tableWords = (tell: Telling, closed: string, pace: Layout['tables']['pace']): string[] => {
  const metric = tell.units === 'metric';
  const unit = phrase(tell, metric ? 'unit.metres' : 'unit.feet');
  return [
    phrase(tell, 'read.quadrants'),
    phrase(tell, 'read.aim', {
      units: phrase(tell, metric ? 'read.aim-metric' : 'read.aim-imperial'),
    }),
    phrase(tell, pace === 'change' ? 'read.pace-change' : 'read.pace', { unit }),
    phrase(tell, 'read.blank', { closed }),
  ];
};

const paragraphs = (context: PageContext): readonly string[] => {
  const { book, layout } = context;
  const { putts, falls, outlines } = heldKinds(context);
  return [
    ...(putts ? tableWords(book, closedWords(context), layout.tables.pace) : []),
    phrase(book, 'read.on-in'),
    ...(outlines ? [phrase(book, 'read.outlines')] : []),
    ...(falls ? [phrase(book, 'use.not-modelled')] : []),
    phrase(book, 'use.aid'),
  ];
};

const setSignsAt = (context: PageContext, cell: Cell): Ended => {
  const { marks, height } = signsIn(context, cell);
  return { marks, end: cell.y + height };
};

const setWordsAt = (context: PageContext, placed: Cell): Ended => {
  const above = endAbove(context, placed, { module: 'signs', set: setSignsAt });
  const set = (cell: Cell) =>
    setParagraphs(
      paragraphs(context),
      cell,
      { face: 'text', lead: 1.22, gap: 1.1 },
      { full: context.layout.type.text, least: 6 },
      context.measure,
    );
  const cell = movedUp(placed, above);
  const { marks, height } = set(cell);
  const close = (above ?? 0) + OFF_SIGNS - cell.y;
  const down = Math.min(close, cell.height - height);
  return down <= 0
    ? { marks, end: cell.y + height }
    : { marks: set({ ...cell, y: cell.y + down }).marks, end: cell.y + down + height };
};

const HOW_TO_READ_MODULES: Readonly<Record<string, PageModule<PageContext>>> = {
  heading: headModule,
  signs: (context, cell) => setSignsAt(context, cell).marks,
  words: (context, cell) => setWordsAt(context, cell).marks,
  'location-definition': (context, placed) => {
    const above = endAbove(context, placed, { module: 'words', set: setWordsAt });
    const cell = movedUp(placed, above);
    return [locationDefinitionFigure(cell, context.layout.type.table, context.book)];
  },
};

export const composeHowToRead = (context: PageContext): Page =>
  composePage(
    'how-to-read',
    { id: 'how-to-read', title: phrase(context.book, 'read.title') },
    HOW_TO_READ_MODULES,
    context,
  );
