import { locationOfPoint } from '../../course/frame.js';
import { insideRing } from '../../geometry.js';
import type { BreakTable } from '../../putt/putt.js';
import { paceReading } from '../../putt/rounding.js';
import { pointsToMm } from '../../units.js';
import type { GreenContent, LocationContent } from '../book-content.js';
import { fallArrow } from '../green/fall-arrow.js';
import { fillPath, rectSteps, rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { locationWords } from '../kit/location-words.js';
import { fitWording, setParagraphs } from '../kit/paragraph.js';
import { cellGroup } from '../kit/read-aloud.js';
import { withUnit } from '../kit/unit-words.js';
import { withheldWordings } from '../kit/worth-lines.js';
import type { Mark, MeasureText } from '../marks/marks.js';
import { DARK, PAPER } from '../marks/marks.js';
import { columnCount } from '../putts/table-figures.js';
import { tableRows } from '../putts/table-module.js';
import { rowPitch, type TableStyle, tableColumns } from '../putts/table-style.js';
import { phrase, type Telling, type Worded } from '../words/words.js';

/** Height of a hole's own heading, millimetres. */
const HEAD = 4.5;

/** A green with the table of its hole location of the day. */
export interface TabledGreen {
  readonly green: GreenContent;
  readonly location: LocationContent;
  /** Null: its survey cannot carry one. */
  readonly table: BreakTable | null;
}

/** Millimetres. */
export const blockHeight = ({ table }: TabledGreen, style: TableStyle): number =>
  HEAD + rowPitch(style) * (table === null ? 2 : table.lengths.length);

/** The tables of a green at each green speed, the day's own first. */
export const speedTables = ({ table, location }: TabledGreen): readonly BreakTable[] =>
  table === null ? [] : [table, ...location.atSpeeds];

/** The quadrants stand once for all tables of a page, which are one table to those who have it read to them. */
export const puttsTable = (tell: Worded) =>
  ({
    kind: 'group',
    role: 'table',
    part: 'putts',
    alt: phrase(tell, 'day.tables-alt'),
  }) as const;

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

/** The table of a green's hole location of the day, its heading above it. */
export const tableBlock = (
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
