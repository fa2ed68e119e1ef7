import type { Layout, PageKind } from '../layout/layout.js';
import type { PageContext } from './kit/page-modules.js';
import type { Page } from './marks/marks.js';
import { composeNotesPage, type NotedHole } from './notes/notes-page.js';

/** What plans the pages of a book, in their order. */
export interface Planner {
  readonly layout: Layout;
  readonly plan: (
    kind: PageKind,
    holeId: string | null,
    compose: (context: PageContext) => Page,
  ) => void;
  /** Of the page that is planned next, about a hole. */
  readonly context: (holeId: string | null) => PageContext;
  /** Pages planned so far. */
  readonly count: () => number;
}

/** A page of notes, blank where the layout has none. */
export const planNotes = (hole: NotedHole | null, { plan, context }: Planner): void => {
  const id = `notes-${context(null).label}`;
  plan('notes', hole?.id ?? null, (c) => composeNotesPage(c, id, hole));
};
