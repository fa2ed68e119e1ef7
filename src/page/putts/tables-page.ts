import type { BreakTable } from '../../putt/putt.js';
import type { GreenContent, LocationContent } from '../book-content.js';
import { footModule, headingModule } from '../green/green-page.js';
import { inBlocks } from '../kit/blocks-per-page.js';
import { rule, stroke } from '../kit/draw.js';
import { type Cell, cellOf } from '../kit/grid.js';
import { composePage, type GreenPageContext, type PageModule } from '../kit/page-modules.js';
import { setParagraph, setParagraphs } from '../kit/paragraph.js';
import { withheldLines } from '../kit/worth-lines.js';
import { type Mark, type Page, TINT } from '../marks/marks.js';
import { isSpeedChangeElsewhere } from '../notes/free-room.js';
import { WRITING_PITCH } from '../notes/note-text.js';
import { phrase, type Worded } from '../words/words.js';
import { speedChangeHeight, speedChangeMarks, speedChangeRows } from './speed-change.js';
import { aimKeyWords, isDoubtfulAim, lagWords } from './table-figures.js';
import { columnWords, paceKeyWords } from './table-heads.js';
import { tableHeight, tableMarks } from './table-module.js';
import { tableColumns, tableStyle } from './table-style.js';

/** Least room between two tables, and between the last one and the words below it, millimetres. */
const GAP = 1.8;
const ABOVE_KEY = 0.9;

/** A hole location with its table. */
type Tabled = LocationContent & { readonly table: BreakTable };

const isTabled = (location: LocationContent): location is Tabled => location.table !== null;

/** The hole locations on ground without points, which have no table. */
const onBareGround = ({ worth, locations }: GreenContent): LocationContent[] =>
  worth.worth === 'tables' && worth.bare.length > 0
    ? locations.filter(({ table, ground }) => table === null && ground === null)
    : [];

/** Why a putt on the green has no figure. */
const blankWords = ({ bare, unsure }: GreenContent['worth'], tell: Worded): string =>
  phrase(
    tell,
    unsure.length === 0
      ? 'tables.blank-bare'
      : bare.length === 0
        ? 'tables.blank-face'
        : 'tables.blank-both',
  );

/** What the blanks of a page mean where ground lacks points; none where they only lie off the green. */
const bareWords = (green: GreenContent, tables: readonly BreakTable[], tell: Worded): string[] => {
  const lacking = onBareGround(green).map(({ name }) => name);
  const isCrossed = tables.some(({ cells }) =>
    cells.some(({ outcome }) => outcome === 'unsurveyed'),
  );
  return [
    ...(isCrossed ? [phrase(tell, 'tables.blank', { why: blankWords(green.worth, tell) })] : []),
    ...(lacking.length > 0 ? [phrase(tell, 'tables.none-to', { names: lacking.join(', ') })] : []),
  ];
};

/** What a page of tables holds. */
interface TablesShown {
  /** Those whose tables stand on it; none and no `change`: it says why there are none. */
  readonly locations: readonly Tabled[];
  /** Whether what a step of green speed changes stands below them. */
  readonly change: boolean;
}

/**
 * What stands on each page of a green's tables: as many as its cell holds; the rest go to the next. What a step of
 * green speed changes comes last, where the green's own page leaves no room for it.
 */
export const tablesByPage = (context: GreenPageContext): TablesShown[] => {
  const { green, layout, book, side } = context;
  const placement = (layout.pages.tables ?? []).find((p) => p.module === 'tables');
  if (placement === undefined) return [];
  // A page that says why stands in the place of tables that the survey cannot carry.
  const lacking = onBareGround(green);
  const isWithheld = green.worth.worth !== 'tables' || lacking.length === green.locations.length;
  if (isWithheld && green.locations.length > 0) return [{ locations: [], change: false }];
  const style = tableStyle(layout, book);
  const change = isSpeedChangeElsewhere(context) ? (['change'] as const) : [];
  return inBlocks(
    [...green.locations.filter(isTabled), ...change],
    (block) =>
      block === 'change'
        ? speedChangeHeight(speedChangeRows(green.locations), style)
        : tableHeight(block.table, style),
    cellOf(layout, side, placement).height,
    GAP,
  ).map((blocks) => ({
    locations: blocks.filter((block) => block !== 'change'),
    change: blocks.includes('change'),
  }));
};

export interface TablesPageContext extends GreenPageContext, TablesShown {
  readonly part: number;
}

/** The rest of a page that tells of no putts is written on. */
const writingLines = ({ x, y, width, height }: Cell): Mark[] =>
  Array.from({ length: Math.max(0, Math.floor(height / WRITING_PITCH) + 1) }, (_, i) => {
    const base = y + i * WRITING_PITCH;
    return rule(x, base, x + width, base, stroke(0.12, TINT));
  });

/** Why there are no putts, and lines. */
const withheldMarks = ({ layout, green, book, measure }: TablesPageContext, cell: Cell): Mark[] => {
  const words = { ...cell, y: cell.y + 3, height: cell.height - 3 };
  const set = setParagraphs(
    withheldLines(green.worth, book),
    words,
    { face: 'text', lead: 1.3, gap: 1.6 },
    { full: layout.type.text, least: 6 },
    measure,
  );
  const used = set.height + WRITING_PITCH;
  return [
    ...set.marks,
    ...writingLines({ ...words, y: words.y + used, height: words.height - used }),
  ];
};

const tablesModule: PageModule<TablesPageContext> = (context, cell) => {
  const { layout, book, locations, change, green, measure } = context;
  if (locations.length === 0 && !change) return withheldMarks(context, cell);
  const style = tableStyle(layout, book, measure);
  const changeHeight = change ? speedChangeHeight(speedChangeRows(green.locations), style) : 0;
  const heights = locations.map(({ table }) => tableHeight(table, style));
  const room = cell.height - changeHeight - heights.reduce((sum, height) => sum + height, 0);
  const gaps = locations.length - (change ? 0 : 1);
  const gap = gaps < 1 ? 0 : Math.min(4, room / gaps);
  let y = cell.y;
  const marks = locations.flatMap((location, i) => {
    const at = { x: cell.x, y, width: cell.width, height: heights[i] };
    y += heights[i] + gap;
    return tableMarks(location, location.table, at, style, location.atSpeeds);
  });
  if (!change) return marks;
  marks.push(...speedChangeMarks(green.locations, { ...cell, y }, style));
  // A page that holds nothing else is written on.
  const below = y + changeHeight + WRITING_PITCH;
  const rest = { ...cell, y: below, height: cell.y + cell.height - below };
  return locations.length > 0 ? marks : [...marks, ...writingLines(rest)];
};

/** What the signs in the tables mean, in one line. */
const tableKeyModule: PageModule<TablesPageContext> = (
  { layout, locations, green, book, measure },
  cell,
) => {
  if (locations.length === 0) return [];
  const style = tableStyle(layout, book, measure);
  const [first] = locations;
  const shown = [first.table, ...first.atSpeeds];
  const tables = locations.flatMap(({ table, atSpeeds }) => [table, ...atSpeeds]);
  const doubt = tables.some(({ cells }) => cells.some(isDoubtfulAim));
  const words = [
    ...bareWords(green, tables, book),
    paceKeyWords(style),
    aimKeyWords(style),
    ...(doubt ? [phrase(book, 'aim.doubtful')] : []),
    ...lagWords(tables, book),
    ...columnWords(tableColumns(cell, shown.length).groups[0].width, style, shown),
  ].join(' · ');
  const size = layout.type.small;
  const below = { ...cell, y: cell.y + ABOVE_KEY, height: cell.height - ABOVE_KEY };
  return setParagraph(words, below, { face: 'text-italic', size, leading: size * 1.2 }, measure)
    .marks;
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
      title: phrase(context.book, 'tables.title', {
        number: context.green.holeId,
        name: context.green.name,
      }),
    },
    TABLES_MODULES,
    context,
  );
