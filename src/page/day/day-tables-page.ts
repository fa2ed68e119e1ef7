import { locationOfPoint } from '../../course/frame.js';
import { insideRing } from '../../geometry.js';
import type { Layout } from '../../layout/layout.js';
import type { BreakTable, TableCell } from '../../putt/putt.js';
import { paceChangeReading, paceReading } from '../../putt/rounding.js';
import type { UnitSystem } from '../../units.js';
import { pointsToMm } from '../../units.js';
import type { GreenContent, LocationContent } from '../book-content.js';
import { fallArrow } from '../green/fall-arrow.js';
import { inBlocks } from '../kit/blocks-per-page.js';
import { fillPath, rectSteps, rule, stroke, text } from '../kit/draw.js';
import { type Cell, cellOf, type PageSide } from '../kit/grid.js';
import { locationWords } from '../kit/location-words.js';
import { composePage, type DayPageContext, type PageModule } from '../kit/page-modules.js';
import { fitWording, setParagraphs } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import { speedWords, useWords } from '../kit/speed-words.js';
import { withUnit } from '../kit/unit-words.js';
import { withheldWordings } from '../kit/worth-lines.js';
import type { Mark, MeasureText, Page } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { columnCount, isDoubtfulAim, lagWords } from '../putts/table-figures.js';
import { paceKeyWords, quadrantHeadings, speedHeads } from '../putts/table-heads.js';
import { tableRows } from '../putts/table-module.js';
import { rowPitch, type TableStyle, tableColumns, tableStyle } from '../putts/table-style.js';
import { decimal, phrase, type Telling, type Worded } from '../words/words.js';
import { dayFoot } from './day-sheet-page.js';

/** Height of a hole's own heading, millimetres. */
const HEAD = 4.5;
/** Least and greatest room between two tables. */
const GAP = 1.2;
const WIDEST_GAP = 4;

/** A green with the table of its hole location of the day. */
export interface TabledGreen {
  readonly green: GreenContent;
  readonly location: LocationContent;
  /** Null: its survey cannot carry one. */
  readonly table: BreakTable | null;
}

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

const blockHeight = ({ table }: TabledGreen, style: TableStyle): number =>
  HEAD + rowPitch(style) * (table === null ? 2 : table.lengths.length);

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

/** The tables of a green at each green speed, the day's own first. */
const tablesOf = ({ table, location }: TabledGreen): readonly BreakTable[] =>
  table === null ? [] : [table, ...location.atSpeeds];

/** The most columns of aims that a green of the page has. */
const speedsOn = (greens: readonly TabledGreen[]): number =>
  Math.max(1, ...greens.map((green) => tablesOf(green).length));

/** Over the aims the green speeds; where the greens of a page differ in theirs, how much faster than each is. */
const headsOf = (greens: readonly TabledGreen[], tell: Telling): readonly string[] => {
  const all = greens.map(tablesOf).filter((tables) => tables.length > 0);
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

/** The quadrants stand once for all tables of a page, which are one table to those who have it read to them. */
const puttsTable = (tell: Worded) =>
  ({
    kind: 'group',
    role: 'table',
    part: 'putts',
    alt: phrase(tell, 'day.tables-alt'),
  }) as const;

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

/** "straight lane 12 ft above, 20 ft below": how far the ground reaches from which a putt does not break. */
const laneWords = ({ regions }: LocationContent, tell: Telling): string => {
  const lanes = (regions?.lanes ?? []).map(({ side, length }) =>
    phrase(tell, `day.lane-${side}`, { length: withUnit(paceReading(length, tell.units), tell) }),
  );
  return lanes.length === 0 ? '' : phrase(tell, 'day.lane', { list: lanes.join(', ') });
};

/** "leave 8 on, 6 from left": where to leave an approach. */
const leaveWords = (
  { outline }: GreenContent,
  { regions }: LocationContent,
  tell: Worded,
): string => {
  const best = regions?.leave?.best;
  if (best === undefined || !insideRing(outline, best[0], best[1])) return '';
  return phrase(tell, 'day.leave', {
    place: locationWords(locationOfPoint(outline, '', best, {}), tell),
  });
};

const blockHeading = (
  { green, location }: TabledGreen,
  cell: Cell,
  style: TableStyle,
  measure: MeasureText,
  columns: number,
): Mark[] => {
  const size = style.tableSize + 1;
  const base = cell.y + 3.3;
  const right = cell.x + cell.width;
  const box = Math.max(4.6, green.holeId.length * 2.4);
  const words = locationWords(location, style);
  const { ground } = location;
  const falls =
    ground === null
      ? ''
      : phrase(style, 'tables.falls', { percent: (ground.grade * 100).toFixed(1) });
  const left = cell.x + box + 1.4;
  const middle = left + measure(words, 'text-bold', size) + 2.5;
  const room = right - 7.4 - measure(falls, 'text', style.tableSize) - middle;
  const step = pointsToMm(style.smallSize) * 1.02;
  const said: string[] = [];
  const small = [laneWords(location, style), leaveWords(green, location, style)].flatMap(
    (line, i): Mark[] => {
      const type = { face: 'text-italic' as const, size: style.smallSize, least: 6 };
      const fitted = fitWording([line], room, type, measure);
      if (fitted === null) return [];
      said.push(fitted.text);
      const y = cell.y + step * (i + 0.85);
      return [text([middle, y], fitted.text, 'text-italic', fitted.size)];
    },
  );
  return [
    fillPath(rectSteps(cell.x, cell.y, box, HEAD - 0.3), DARK),
    cellGroup(
      { row: 0, column: 0, columns, heads: 'Column' },
      [
        text([cell.x + box / 2, base - 0.05], green.holeId, 'text-bold', size, {
          align: 'centre',
          paint: PAPER,
        }),
        text([left, base], words, 'text-bold', size),
        ...small,
        text([right - 5.4, base], falls, 'text', style.tableSize, { align: 'right' }),
      ],
      [
        phrase(style, 'day.hole', { number: green.holeId, name: green.name, place: words }),
        ...said,
        falls,
      ]
        .filter((part) => part !== '')
        .join('; '),
    ),
    ...(ground === null
      ? []
      : [fallArrow([right - 2.3, cell.y + 2.2], [ground.toward[0], -ground.toward[1]], 0.045)]),
  ];
};

/** Why a green has no putts, in place of them: as much of it as its rows hold, at the least their first sentence. */
const withheld = (
  { worth }: GreenContent,
  cell: Cell,
  style: TableStyle,
  measure: MeasureText,
): { readonly words: string; readonly marks: readonly Mark[] } => {
  const place = { ...cell, y: cell.y + HEAD + 0.4, height: cell.height - HEAD - 0.4 };
  const type = { face: 'text-italic', lead: 1.1, gap: 0 } as const;
  const sizes = { full: style.smallSize, least: 6 };
  const wordings = withheldWordings(worth, style);
  const sets = wordings.map((words) => ({
    words,
    ...setParagraphs([words], place, type, sizes, measure),
  }));
  return sets.find(({ height }) => height <= place.height) ?? sets[sets.length - 1];
};

const block = (
  one: TabledGreen,
  cell: Cell,
  speeds: number,
  style: TableStyle,
  measure: MeasureText,
): Mark => {
  const columns = tableColumns(cell, speeds);
  const wide = columnCount(columns, style);
  const instead = one.table === null ? withheld(one.green, cell, style, measure) : null;
  return {
    ...puttsTable(style),
    shows: 'putts',
    marks: [
      ...blockHeading(one, cell, style, measure, wide),
      ...(one.table === null ? [] : columns.groups).map(({ x }) =>
        rule(x, cell.y + HEAD + 0.4, x, cell.y + cell.height, stroke(0.12)),
      ),
      ...(one.table === null
        ? [
            cellGroup(
              { row: 1, column: 0, columns: wide },
              instead?.marks ?? [],
              instead?.words ?? '',
            ),
          ]
        : tableRows(
            [one.table, ...one.location.atSpeeds],
            columns,
            { ...cell, y: cell.y + HEAD },
            style,
            1,
          )),
    ],
  };
};

const tablesModule: Module = ({ layout, measure, book, greens }, cell) => {
  const style = tableStyle(layout, book);
  const room = cell.height - greens.reduce((sum, green) => sum + blockHeight(green, style), 0);
  const gap = greens.length < 2 ? 0 : Math.min(WIDEST_GAP, room / (greens.length - 1));
  let y = cell.y;
  return greens.map((green) => {
    const height = blockHeight(green, style);
    const place = { x: cell.x, y, width: cell.width, height };
    const mark = block(green, place, speedsOn(greens), style, measure);
    y += height + gap;
    return mark;
  });
};

/** The signs that the tables of a page use, in words. */
const signWords = (greens: readonly TabledGreen[], tell: Telling): readonly string[] => {
  const tables = greens.flatMap(tablesOf);
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
