import type { Layout } from '../../layout/layout.js';
import type { BreakTable, TableCell } from '../../putt/putt.js';
import { paceChangeReading } from '../../putt/rounding.js';
import type { UnitSystem } from '../../units.js';
import { pointsToMm } from '../../units.js';
import type { GreenContent } from '../book-content.js';
import { inBlocks } from '../kit/blocks-per-page.js';
import { rule, stroke, text } from '../kit/draw.js';
import { cellOf, type PageSide } from '../kit/grid.js';
import { composePage, type DayPageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording } from '../kit/paragraph.js';
import { speedWords, useWords } from '../kit/speed-words.js';
import type { Page } from '../marks/marks.js';
import { isDoubtfulAim, lagWords } from '../putts/table-figures.js';
import { paceKeyWords, quadrantHeadings, speedHeads } from '../putts/table-heads.js';
import { rowPitch, tableColumns, tableStyle } from '../putts/table-style.js';
import { decimal, phrase, type Telling } from '../words/words.js';
import { dayFoot } from './day-sheet-page.js';
import {
  blockHeight,
  puttsTable,
  speedTables,
  type TabledGreen,
  tableBlock,
} from './day-table-block.js';

/** Least and greatest room between two tables. */
const GAP = 1.2;
const WIDEST_GAP = 4;

const tabled = (green: GreenContent): TabledGreen => {
  const [location] = green.locations;
  return { green, location, table: location.table };
};

export interface DayTablesContext extends DayPageContext {
  /** Those whose tables stand on this page. */
  readonly greens: readonly TabledGreen[];
  readonly part: number;
}

type Module = PageModule<DayTablesContext>;

/** The greens of each page of tables; none where the layout has no place for them. */
export const greensByDayPage = (
  greens: readonly GreenContent[],
  layout: Layout,
  units: UnitSystem,
  side: PageSide,
): TabledGreen[][] => {
  const placement = (layout.pages['day-tables'] ?? []).find((p) => p.module === 'tables');
  if (placement === undefined) return [];
  const style = tableStyle(layout, { units });
  return inBlocks(
    greens.map(tabled),
    (one) => blockHeight(one, style),
    cellOf(layout, side, placement).height,
    GAP,
  );
};

/** The most columns of aims that a green of the page has. */
const speedsOn = (greens: readonly TabledGreen[]): number =>
  Math.max(1, ...greens.map((green) => speedTables(green).length));

/** Over the aims the green speeds; where the greens of a page differ in theirs, how much faster than each is. */
const headsOf = (greens: readonly TabledGreen[], tell: Telling): readonly string[] => {
  const all = greens.map(speedTables).filter((tables) => tables.length > 0);
  const [first] = all.toSorted((a, b) => b.length - a.length);
  if (first === undefined || first.length < 2) return [];
  const speed = (table: BreakTable): number => table.settings.stimp;
  if (all.every(([own]) => Math.abs(speed(own) - speed(first[0])) < 1e-6)) {
    return speedHeads(first, tell);
  }
  return first.map((table, i) =>
    i === 0
      ? phrase(tell, 'tables.aim-head')
      : decimal(paceChangeReading(speed(table), speed(first[0]), tell.units), tell),
  );
};

/** The day and the speed, and below them the quadrants, once for all tables of the page. */
const headingModule: Module = ({ layout, measure, book, day, greens }, cell) => {
  const style = tableStyle(layout, book, measure);
  const { heading } = layout.type;
  const right = cell.x + cell.width;
  const base = cell.y + pointsToMm(heading) * 0.66;
  const words = phrase(book, 'day.head', { day });
  const room = cell.width - measure(words, 'title-bold', heading) - 3;
  const speed = speedWords(book.stimp, book.past, book);
  const said = fitWording(
    [`${book.title} · ${speed}`, speed],
    room,
    { face: 'text', size: style.tableSize, least: 6 },
    measure,
  );
  return [
    text([cell.x, base], words, 'title-bold', heading),
    ...(said === null
      ? []
      : [text([right, base], said.text, 'text', said.size, { align: 'right' })]),
    rule(cell.x, base + 1.1, right, base + 1.1, stroke(0.3)),
    {
      ...puttsTable(book),
      marks: quadrantHeadings(
        tableColumns(cell, speedsOn(greens)),
        cell.y + cell.height - 2 * rowPitch(style) + 0.3,
        style,
        headsOf(greens, book),
      ),
    },
  ];
};

const tablesModule: Module = ({ layout, measure, book, greens }, cell) => {
  const style = tableStyle(layout, book);
  const room = cell.height - greens.reduce((sum, green) => sum + blockHeight(green, style), 0);
  const gap = greens.length < 2 ? 0 : Math.min(WIDEST_GAP, room / (greens.length - 1));
  let y = cell.y;
  return greens.map((green) => {
    const height = blockHeight(green, style);
    const place = { x: cell.x, y, width: cell.width, height };
    const mark = tableBlock(green, place, speedsOn(greens), style, measure);
    y += height + gap;
    return mark;
  });
};

/** The signs that the tables of a page use, in words. */
const signWords = (greens: readonly TabledGreen[], tell: Telling): readonly string[] => {
  const tables = greens.flatMap(speedTables);
  const has = (test: (cell: TableCell) => boolean): boolean =>
    tables.some(({ cells }) => cells.some(test));
  return [
    ...(has(({ outcome }) => outcome === 'unsurveyed') ? [phrase(tell, 'day.blank')] : []),
    ...(has(isDoubtfulAim) ? [phrase(tell, 'day.doubtful')] : []),
    ...lagWords(tables, tell),
  ];
};

/** What the figures and signs in the tables mean: on two lines where the layout has them, else on one. */
const footModule: Module = (context, cell) => {
  const { book, layout, greens, measure } = context;
  const unit = phrase(book, book.units === 'metric' ? 'unit.metres' : 'unit.feet');
  const signs = signWords(greens, book);
  const style = tableStyle(layout, book);
  const aimed = speedsOn(greens) > 1 ? 'day.aim-speeds' : 'day.aim';
  const aim = phrase(book, book.units === 'metric' ? `${aimed}-metric` : aimed);
  const seen = phrase(book, 'day.seen', { aim });
  const pace = paceKeyWords(style);
  const step = pointsToMm(style.smallSize) * 1.35;
  if (cell.height < 2 * step) {
    const end = signs.map((words) => ` · ${words}`).join('');
    return dayFoot(context, cell, [`${pace} · ${seen}${end}`, `${unit} · ${aim}${end}`]);
  }
  const type = { face: 'text-italic' as const, size: style.smallSize, least: 6 };
  const use = useWords(layout.use, context.book);
  // Signs for which the lower line has no room stand on the upper one.
  const split = signs.findIndex(
    (_, i) =>
      fitWording([[...signs.slice(i), use].join(' · ')], cell.width - 6, type, measure) !== null,
  );
  const above = signs.slice(0, split < 0 ? signs.length : split);
  const key = fitWording(
    [
      [pace, seen, ...above].join(' · '),
      [pace, aim, ...above].join(' · '),
      [pace, ...above].join(' · '),
      pace,
    ],
    cell.width,
    type,
    measure,
  );
  const below = signs.slice(above.length);
  return [
    ...(key === null
      ? []
      : [text([cell.x, cell.y + cell.height - step], key.text, 'text-italic', key.size)]),
    ...dayFoot(context, cell, below.length === 0 ? [] : [below.join(' · ')]),
  ];
};

const DAY_TABLES_MODULES: Readonly<Record<string, Module>> = {
  heading: headingModule,
  tables: tablesModule,
  foot: footModule,
};

export const composeDayTables = (context: DayTablesContext): Page =>
  composePage(
    'day-tables',
    {
      id: `day-tables${context.part === 0 ? '' : `-${context.part + 1}`}`,
      title: phrase(context.book, 'day.tables-title', { day: context.day }),
    },
    DAY_TABLES_MODULES,
    context,
  );
