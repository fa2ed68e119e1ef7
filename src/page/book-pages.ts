import type { Layout, PageKind } from '../print/layout.js';
import type { BookContent, GreenContent } from './book-content.js';
import { composeCover } from './cover-page.js';
import { composeGreenPage } from './green-page.js';
import type { PageSide } from './grid.js';
import { composeHowToRead } from './how-to-read-page.js';
import type { MeasureText, Page } from './marks.js';
import { composeNotesPage } from './notes-page.js';
import type { PageContext } from './page-modules.js';
import { composeTablesPage, tablesPerPage } from './tables-page.js';

/** Page 1 is a right-hand page, as in every bound book. */
const sideOf = (index: number): PageSide => (index % 2 === 0 ? 'right' : 'left');

/**
 * The pages of a book in reading order: cover, how to read, then for each green its image on a
 * left-hand page with its tables opposite. Kinds that the layout has no placements for are left out.
 */
export const composeBook = (book: BookContent, layout: Layout, measure: MeasureText): Page[] => {
  const pages: Page[] = [];
  const has = (kind: PageKind): boolean => layout.pages[kind] !== undefined;
  const context = (): PageContext => ({
    layout,
    measure,
    book,
    side: sideOf(pages.length),
    label: `${pages.length + 1}`,
  });
  const startLeft = (): void => {
    if (sideOf(pages.length) === 'right' && has('notes')) {
      pages.push(composeNotesPage(context(), `notes-${pages.length + 1}`));
    }
  };
  const addTables = (green: GreenContent): void => {
    let from = 0;
    tablesPerPage(green, layout, book.units, sideOf(pages.length)).forEach((count, part) => {
      pages.push(composeTablesPage({ ...context(), green, from, count, part }));
      from += count;
    });
  };
  if (has('cover')) pages.push(composeCover(context()));
  if (has('how-to-read')) pages.push(composeHowToRead(context()));
  for (const green of book.greens) {
    startLeft();
    if (has('green')) pages.push(composeGreenPage({ ...context(), green }));
    if (has('tables')) addTables(green);
  }
  return pages;
};
