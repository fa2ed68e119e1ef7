import { InputFault } from '../fault.js';
import { isTooLargeFlat } from '../layout/flat-sheet.js';
import type { Layout, PageKind } from '../layout/layout.js';
import type { BookContent, GreenContent } from './book-content.js';
import { planConversions, planEnd } from './book-end.js';
import { cardParts, composeCardPage } from './front/card-page.js';
import { composeCover } from './front/cover-page.js';
import { composeHowToRead } from './front/how-to-read-page.js';
import { composeGreenPage } from './green/green-page.js';
import { atOneScale } from './green/one-scale.js';
import { composeOutlinePage } from './green/outline-page.js';
import { composeDrillPage } from './handouts/drill-page.js';
import { isDrill } from './handouts/drill-places.js';
import { composeQuizAnswersPage, composeQuizPage } from './handouts/quiz-page.js';
import { composeHolePage } from './hole/hole-page.js';
import { type PageSide, sideOfPage } from './kit/grid.js';
import { outlinedGreens } from './kit/outlined-greens.js';
import type { PageContext } from './kit/page-modules.js';
import type { MeasureText, Page } from './marks/marks.js';
import { foundPages } from './notes/found-pages.js';
import { composeNotesPage, type NotedHole } from './notes/notes-page.js';
import { type Planner, planNotes } from './planner.js';
import { composeBreakMapPage } from './putts/break-map-page.js';
import { composeStationPage } from './putts/station-page.js';
import { composeTablesPage, tablesByPage } from './putts/tables-page.js';

/** The holes of a book: those of the map in their order, then greens without a hole (a practice green). */
export const holeIds = (book: BookContent): string[] => {
  const greens = [...book.greens, ...(book.outlines ?? [])];
  return [
    ...new Set([
      ...(book.holes ?? []).map((hole) => hole.id),
      ...greens.map((green) => green.holeId),
    ]),
  ];
};

const needsLeaf = ({ name }: Layout): InputFault =>
  new InputFault(
    { file: `layout ${name}`, place: 'pages.quiz' },
    'the questions would stand on the back of a leaf, the answers on the next',
    'add pages of the kind "notes", or leave out the pages before them',
  );

const nothingToPrint = ({ name, pages }: Layout): InputFault =>
  new InputFault(
    { file: `layout ${name}` },
    'no green of the course has what its pages tell',
    pages.quiz === undefined
      ? 'take surveys that are fit for break tables, hole locations to putt to, or another layout'
      : 'take surveys that are fit for fall arrows at least, or another layout',
  );

/** A page that is known by its place, not yet composed. */
export interface PlannedPage {
  readonly kind: PageKind;
  /** The hole or green that it is about; null for the book's own pages. */
  readonly holeId: string | null;
  readonly side: PageSide;
  readonly label: string;
  /** All that the page may look at: of a page about a hole what the book tells of that hole, and of the book itself. */
  readonly book: BookContent;
  /** Of which it is composed, too: the book's own, or made for it. */
  readonly layout: Layout;
  readonly compose: () => Page;
}

/** What a book tells of one hole, and of itself. */
const bookAbout = (book: BookContent, holeId: string): BookContent => {
  const { outlines, holes, notes } = book;
  return {
    ...book,
    greens: book.greens.filter((one) => one.holeId === holeId),
    ...(outlines && { outlines: outlines.filter((one) => one.holeId === holeId) }),
    ...(holes && { holes: holes.filter(({ id }) => id === holeId) }),
    ...(notes && {
      notes: { ...notes, holes: notes.holes.filter((one) => one.holeId === holeId) },
    }),
  };
};

/** Whether the page that is planned next would be a right-hand one. */
const isOnRight = ({ context }: Planner): boolean => context(null).side === 'right';

/** A green and, where the layout wants it so, its first tables on the opening's other page. */
const planGreen = (green: GreenContent, planner: Planner): void => {
  const { layout, plan, context } = planner;
  const has = (kind: PageKind): boolean => layout.pages[kind] !== undefined;
  const tables = has('tables') ? tablesByPage({ ...context(green.holeId), green }) : [];
  if (layout.facing === 'green and tables' && tables.length > 0 && isOnRight(planner)) {
    planNotes({ id: green.holeId, name: green.name }, planner);
  }
  if (has('green')) plan('green', green.holeId, (c) => composeGreenPage({ ...c, green }));
  tables.forEach((shown, part) => {
    plan('tables', green.holeId, (c) => composeTablesPage({ ...c, green, ...shown, part }));
  });
};

const planBreakMaps = (green: GreenContent, { plan }: Planner): void => {
  for (const location of green.locations) {
    const { breakMap: map } = location;
    if (map === null) continue;
    plan('break-map', green.holeId, (c) => composeBreakMapPage({ ...c, green, location, map }));
  }
};

const planStations = (green: GreenContent, { plan }: Planner): void => {
  for (const location of green.locations) {
    const { station } = location;
    if (station === null) continue;
    plan('station', green.holeId, (c) => composeStationPage({ ...c, green, location, station }));
  }
};

/** Questions on the front of a leaf, the answers on its back. */
const planQuiz = (green: GreenContent, { layout, plan, context }: Planner): void => {
  const { side, label } = context(null);
  if (side === 'left') {
    if (layout.pages.notes === undefined) throw needsLeaf(layout);
    plan('notes', green.holeId, (c) => composeNotesPage(c, `notes-${label}`, null));
  }
  plan('quiz', green.holeId, (c) => composeQuizPage({ ...c, green }));
  plan('quiz-answers', green.holeId, (c) => composeQuizAnswersPage({ ...c, green }));
};

const planDrills = (green: GreenContent, { plan }: Planner): void => {
  for (const location of green.locations) {
    const { table } = location;
    if (!isDrill(table)) continue;
    plan('drill', green.holeId, (c) => composeDrillPage({ ...c, green, location, table }));
  }
};

/** Pages of notes, as many as what was found on a hole still needs. */
const planFound = (hole: NotedHole, { plan, context }: Planner): void => {
  for (const found of foundPages(context(hole.id), hole.id)) {
    const id = `notes-${context(null).label}`;
    plan('notes', hole.id, (c) => composeNotesPage(c, id, hole, found));
  }
};

/**
 * The pages of a book in reading order: cover, how to read, card; then for each hole its map, its green and
 * its tables, with break maps and, on a practice
 * green, practice stations where the layout places them; last the conversions
 * and what the surveys are worth, imprint and back cover of a book that is sold. Each hole begins on a
 * left-hand page, so that map and green lie open together or, without maps, green and tables; where the layout
 * wants green and tables to face, it is the green that does. Kinds that the layout has no
 * placements for are left out. Of a green's tables only their lengths are looked at before a page is
 * composed.
 */
export const planBook = (book: BookContent, given: Layout, measure: MeasureText): PlannedPage[] => {
  const outlines = outlinedGreens(book);
  const greens = new Set([...book.greens, ...outlines].map(({ holeId }) => holeId)).size;
  const scaled = atOneScale(book, given);
  const layout = isTooLargeFlat(given, greens) ? { ...scaled, tooLargeFlat: true } : scaled;
  const pages: PlannedPage[] = [];
  const has = (kind: PageKind): boolean => layout.pages[kind] !== undefined;
  const parts = new Map<string, BookContent>();
  const bookOf = (holeId: string | null): BookContent => {
    if (holeId === null) return book;
    const part = parts.get(holeId) ?? bookAbout(book, holeId);
    parts.set(holeId, part);
    return part;
  };
  const context = (holeId: string | null): PageContext => ({
    layout,
    measure,
    book: bookOf(holeId),
    side: sideOfPage(pages.length),
    label: `${pages.length + 1}`,
    ...(holeId === null ? {} : { about: holeId }),
  });
  const plan = (
    kind: PageKind,
    holeId: string | null,
    compose: (context: PageContext) => Page,
  ): void => {
    const of = context(holeId);
    pages.push({
      ...{ kind, holeId, side: of.side, label: of.label, book: of.book, layout },
      compose: () => ({ ...compose(of), ...(holeId === null ? {} : { hole: holeId }) }),
    });
  };
  if (has('cover')) plan('cover', null, composeCover);
  if (has('how-to-read')) plan('how-to-read', null, composeHowToRead);
  const holes = book.holes ?? [];
  if (has('card') && holes.length > 0) {
    cardParts(context(null), holes).forEach(({ tees, rows }, part) => {
      plan('card', null, (c) => composeCardPage({ ...c, holes, tees, rows, part }));
    });
  }
  const planner: Planner = { layout, plan, context, count: () => pages.length };
  const hasConversions = (): boolean => pages.some(({ kind }) => kind === 'conversions');
  /**
   * A page of notes, where the next hole would begin on the right: of the hole that ends before it. Before the first
   * one the key to the maps takes that place, if the layout has it: no leaf is lost, and it lies beside the first hole.
   */
  const startLeft = (before: NotedHole | null): void => {
    if (isOnRight(planner) && before === null) planConversions(book, planner);
    const isFilled = has('notes') || layout.facing !== undefined;
    if (isOnRight(planner) && isFilled) planNotes(before, planner);
  };
  let before: NotedHole | null = null;
  for (const id of holeIds(book)) {
    const hole = holes.find((one) => one.id === id);
    const green = book.greens.find((one) => one.holeId === id);
    if (before !== null) planFound(before, planner);
    // Where the green must face its tables, it is the green that begins on the left.
    if ((has('hole') || has('green')) && layout.facing !== 'green and tables') startLeft(before);
    const outline = outlines.find((one) => one.holeId === id);
    before = { id, name: (hole ?? green ?? outline)?.name ?? '' };
    if (hole !== undefined && has('hole')) plan('hole', id, (c) => composeHolePage({ ...c, hole }));
    if (outline !== undefined) {
      if (has('green')) plan('green', id, (c) => composeOutlinePage({ ...c, green: outline }));
      continue;
    }
    if (green === undefined) continue;
    planGreen(green, planner);
    if (has('break-map')) planBreakMaps(green, planner);
    // A station is set up where one practises: on a green that belongs to no hole.
    if (hole === undefined && has('station')) planStations(green, planner);
    if (has('quiz') && has('quiz-answers')) planQuiz(green, planner);
    if (has('drill')) planDrills(green, planner);
  }
  if (before !== null) planFound(before, planner);
  planEnd(book, planner, hasConversions());
  if (pages.length === 0) throw nothingToPrint(layout);
  return pages;
};

export const composeBook = (book: BookContent, layout: Layout, measure: MeasureText): Page[] =>
  planBook(book, layout, measure).map((page) => page.compose());
