import type { Today } from '../../event/today.js';
import { InputFault, quoted } from '../../fault.js';
import type { Layout, PageKind } from '../../layout/layout.js';
import { ownValue } from '../../own-value.js';
import type { BookContent, GreenContent } from '../book-content.js';
import type { SheetGreen } from '../day/day-green.js';
import type { Mark, MeasureText, Page } from '../marks/marks.js';
import { pageChangeWords } from './change-words.js';
import { type Cell, cellOf, inReadingOrder, type PageSide } from './grid.js';
import { headMark } from './head-mark.js';

/** What a module may look at: the book, the layout, and the green or tables its page is about. */
export interface PageContext {
  readonly layout: Layout;
  readonly measure: MeasureText;
  readonly book: BookContent;
  readonly side: PageSide;
  readonly label: string;
  /** The hole or green that the page is about; left out for the book's own pages. */
  readonly about?: string;
}

export interface DayPageContext extends PageContext {
  /** Days of the event are counted from 1. */
  readonly day: number;
  readonly today: Today;
  /** All greens of the day, with those that have no survey. */
  readonly sheet: readonly SheetGreen[];
}

export interface GreenPageContext extends PageContext {
  readonly green: GreenContent;
}

/** A module fills its cell of the print grid. */
export type PageModule<C extends PageContext> = (context: C, cell: Cell) => readonly Mark[];

/**
 * Composes one page of a kind from the layout's placements. A module that the layout names and the
 * page kind lacks is a fault of the layout.
 */
export const composePage = <C extends PageContext>(
  kind: PageKind,
  name: { readonly id: string; readonly title: string },
  modules: Readonly<Record<string, PageModule<C>>>,
  context: C,
): Page => {
  const { layout, book, about } = context;
  const placements = inReadingOrder(layout.pages[kind] ?? []);
  const page = { id: name.id, ...(about === undefined ? {} : { hole: about }) };
  const changed = book.changes === undefined ? [] : pageChangeWords(book.changes, page, book);
  return {
    id: name.id,
    title: name.title,
    label: context.label,
    width: context.layout.page.width,
    height: context.layout.page.height,
    marks: [
      ...headMark(context, changed),
      ...placements.flatMap((placement) => {
        const compose = ownValue(modules, placement.module);
        if (compose === undefined) {
          throw new InputFault(
            { file: `layout ${context.layout.name}`, place: `pages.${kind}` },
            `there is no module ${quoted(placement.module)} for this kind of page`,
            `use one of: ${Object.keys(modules).join(', ')}`,
          );
        }
        return compose(context, cellOf(context.layout, context.side, placement));
      }),
    ],
  };
};
