import type { Layout } from '../../layout/layout.js';
import type { UnitSystem } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { footModule, headingModule } from '../green/green-page.js';
import { blocksPerPage } from '../kit/blocks-per-page.js';
import { cellOf, type PageSide } from '../kit/grid.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { setParagraph } from '../kit/paragraph.js';
import type { Page } from '../marks/marks.js';
import {
  columnWords,
  isDoubtfulAim,
  type TableStyle,
  tableColumns,
  tableHeight,
  tableMarks,
} from './table-module.js';

/** Least room between two tables, and between the last one and the words below it, millimetres. */
const GAP = 1.8;
const ABOVE_KEY = 0.9;

const tableStyle = (layout: Layout, units: UnitSystem): TableStyle => ({
  units,
  tableSize: layout.type.table,
  smallSize: layout.type.small,
});

/** How many tables stand on each page: as many as the cell holds; the rest go to the next page. */
export const tablesPerPage = (
  green: GreenContent,
  layout: Layout,
  units: UnitSystem,
  side: PageSide,
): number[] => {
  const placement = (layout.pages.tables ?? []).find((p) => p.module === 'tables');
  if (placement === undefined) return [];
  const room = cellOf(layout, side, placement).height;
  const style = tableStyle(layout, units);
  return blocksPerPage(
    green.tables.map((table) => tableHeight(table, style)),
    room,
    GAP,
  );
};

export interface TablesPageContext extends GreenPageContext {
  /** First table of this page, and how many. */
  readonly from: number;
  readonly count: number;
  readonly part: number;
}

const tablesModule: PageModule<TablesPageContext> = (context, cell) => {
  const { green, layout, book, from, count } = context;
  const style = tableStyle(layout, book.units);
  let y = cell.y;
  const tables = green.tables.slice(from, from + count);
  const room = cell.height - tables.reduce((sum, t) => sum + tableHeight(t, style), 0);
  const gap = tables.length < 2 ? 0 : Math.min(4, room / (tables.length - 1));
  return tables.flatMap((table, i) => {
    const height = tableHeight(table, style);
    const marks = tableMarks(
      green.locations[from + i],
      table,
      { x: cell.x, y, width: cell.width, height },
      style,
      green.atSpeeds?.[from + i],
    );
    y += height + gap;
    return marks;
  });
};

/** What the signs in the tables mean, in one line. */
const tableKeyModule: PageModule<TablesPageContext> = (
  { layout, green, from, count, book, measure },
  cell,
) => {
  const doubt = green.tables
    .slice(from, from + count)
    .some((table) => table.cells.some(isDoubtfulAim));
  const style = tableStyle(layout, book.units);
  const shown = [green.tables[from], ...(green.atSpeeds?.[from] ?? [])];
  const words = [
    `length and pace in ${book.units === 'metric' ? 'metres' : 'feet'}`,
    'aim beside the hole, seen from the ball',
    ...(doubt ? ['~ aim not known to half a hole'] : []),
    ...columnWords(tableColumns(cell).groups[0].width, style, shown),
  ].join(' · ');
  const size = layout.type.small;
  const below = { ...cell, y: cell.y + ABOVE_KEY, height: cell.height - ABOVE_KEY };
  return setParagraph(words, below, 'text-italic', size, size * 1.2, measure).marks;
};

const TABLES_MODULES: Readonly<Record<string, PageModule<TablesPageContext>>> = {
  heading: headingModule,
  tables: tablesModule,
  'table-key': tableKeyModule,
  foot: footModule,
};

export const composeTablesPage = (context: TablesPageContext): Page =>
  composePage(
    'tables',
    {
      id: `tables-${context.green.holeId}${context.part === 0 ? '' : `-${context.part + 1}`}`,
      title: `${context.green.holeId} ${context.green.name}: putts`,
    },
    TABLES_MODULES,
    context,
  );
