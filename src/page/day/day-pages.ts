import type { Today } from '../../event/today.js';
import type { Layout } from '../../layout/layout.js';
import type { BookContent } from '../book-content.js';
import type { PageSide } from '../kit/grid.js';
import type { DayPageContext } from '../kit/page-modules.js';
import type { MeasureText, Page } from '../marks/marks.js';
import type { SheetGreen } from './day-green.js';
import { composeDaySheet } from './day-sheet-page.js';
import { composeDayTables, greensByDayPage } from './day-tables-page.js';

/**
 * One day of an event: of each green the hole location of that day and its break table at the day's
 * speed, so that a green has exactly one location and one table here.
 */
export interface DayContent extends BookContent {
  /** Days of the event are counted from 1. */
  readonly day: number;
  readonly today: Today;
  /** All greens of the sheet in their order, with those that have no survey; absent: `greens`. */
  readonly sheet?: readonly SheetGreen[];
}

/** The pages of one day: the sheet of hole locations, then the tables, as many pages as they take. */
export const composeDay = (content: DayContent, layout: Layout, measure: MeasureText): Page[] => {
  const pages: Page[] = [];
  const side = (): PageSide => (pages.length % 2 === 0 ? 'right' : 'left');
  const context = (): DayPageContext => ({
    layout,
    measure,
    book: content,
    day: content.day,
    today: content.today,
    sheet: content.sheet ?? content.greens,
    side: side(),
    label: `${pages.length + 1}`,
  });
  if (layout.pages['day-sheet'] !== undefined) pages.push(composeDaySheet(context()));
  greensByDayPage(content.greens, layout, content.units, side()).forEach((greens, part) => {
    pages.push(composeDayTables({ ...context(), greens, part }));
  });
  return pages;
};
