import type { BreakTable, Quadrant } from '../../putt/putt.js';
import { aimReading, lengthReading } from '../../putt/rounding.js';
import { QUADRANTS } from '../../putt/table.js';
import { feetToMetres, pointsToMm, type UnitSystem } from '../../units.js';
import type { LocationContent } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import { captionGroup, cellGroup } from '../kit/read-aloud.js';
import { withUnit } from '../kit/unit-words.js';
import type { Mark } from '../marks/marks.js';
import { decimal, phrase, type Telling } from '../words/words.js';
import { shortFigure } from './table-figures.js';
import type { TableStyle } from './table-style.js';

/** The lengths that it is told for are those of the table nearest to these, metres. */
const TOLD = [10, 20].map(feetToMetres);
/** Aims farther beside the hole than this are not told to the inch, metres. */
const FAR = feetToMetres(10);

/** A hole location with its table and the one at the next green speed. */
export interface TwoSpeeds {
  readonly name: string;
  readonly own: BreakTable;
  readonly other: BreakTable;
}

/** None where a place has no table, or one speed only. */
export const twoSpeedsOf = ({ name, table, atSpeeds }: LocationContent): TwoSpeeds[] => {
  const other = atSpeeds.at(-1);
  return table === null || other === undefined ? [] : [{ name, own: table, other }];
};

/** How much longer the stimp reading of the other speed is, metres; negative for slower. */
export const stepOf = ({ own, other }: Pick<TwoSpeeds, 'own' | 'other'>): number =>
  other.settings.stimp - own.settings.stimp;

/** "1 ft faster". */
export const speedStepWords = (step: number, tell: Telling): string =>
  phrase(tell, step < 0 ? 'speeds.slower' : 'speeds.faster', {
    step: withUnit(lengthReading(Math.abs(step), tell.units), tell),
  });

/** How much farther from the hole the aim is at the other speed, metres; null where one of both has no putt. */
const aimChange = (
  { own, other }: Pick<TwoSpeeds, 'own' | 'other'>,
  quadrant: Quadrant,
  length: number,
): number | null => {
  const offsetIn = ({ cells }: BreakTable): number | null => {
    const cell = cells.find((one) => one.quadrant === quadrant && one.length === length);
    return cell?.outcome === 'solved' ? (cell.putt?.aimOffset ?? null) : null;
  };
  const [a, b] = [offsetIn(own), offsetIn(other)];
  if (a === null || b === null || Math.abs(a) > FAR || Math.abs(b) > FAR) return null;
  return (a < 0 ? -1 : 1) * (b - a);
};

const changeWords = (change: number | null, units: UnitSystem): string => {
  if (change === null) return '';
  const { figure, side } = aimReading(change, units);
  const sign = side === 'left' ? '+' : side === 'right' ? '\u2212' : '';
  return `${sign}${shortFigure(figure)}`;
};

/** Of the lengths of a table those nearest to the ones told. */
const lengthsOf = ({ lengths }: BreakTable): number[] => [
  ...new Set(
    TOLD.map((told) => lengths.toSorted((a, b) => Math.abs(a - told) - Math.abs(b - told))[0]),
  ),
];

const pitchOf = ({ tableSize }: TableStyle): number => pointsToMm(tableSize) * 1.08;

export const speedChangeHeight = (count: number, style: TableStyle): number =>
  pitchOf(style) * (count + 2);

/** How many hole locations have something to tell. */
export const speedChangeRows = (locations: readonly LocationContent[]): number =>
  locations.flatMap(twoSpeedsOf).length;

/**
 * What a step of green speed changes: for each hole location and quadrant how much farther from the hole the aim
 * is, at two lengths. Nothing where there is one speed only.
 */
export const speedChangeMarks = (
  locations: readonly LocationContent[],
  cell: Pick<Cell, 'x' | 'y' | 'width'>,
  style: TableStyle,
): Mark[] => {
  const rows = locations.flatMap(twoSpeedsOf);
  if (rows.length === 0) return [];
  const { units, tableSize, smallSize } = style;
  const pitch = pitchOf(style);
  const [{ own, other }] = rows;
  const lengths = lengthsOf(own);
  const words = phrase(style, units === 'metric' ? 'speeds.aim-metric' : 'speeds.aim', {
    step: speedStepWords(stepOf({ own, other }), style),
  });
  const left = cell.x + 5;
  const width = (cell.x + cell.width - left) / QUADRANTS.length;
  const end = (q: number, k: number): number => left + width * (q + (k + 1) / lengths.length) - 0.8;
  const base = (row: number): number => cell.y + pitch * (row + 0.76);
  // The heads stand closer, so that the rule below them is clear of the first figures.
  const head = base(1) - 0.13 * pitch;
  const under = cell.y + 1.85 * pitch;
  const right = { align: 'right' as const };
  const heads = QUADRANTS.flatMap((quadrant, q) =>
    lengths.map((length, k) => {
      const told = decimal(lengthReading(length, units).replace(/ (ft|m)$/, ''), style);
      const whole = phrase(style, 'speeds.quadrant', {
        quadrant: phrase(style, `quadrant.${quadrant}`),
        length: told,
      });
      return cellGroup(
        { row: 0, column: 1 + q * lengths.length + k, heads: 'Column' },
        text([end(q, k), head], k === 0 ? whole : told, 'text-italic', smallSize, right),
        whole,
      );
    }),
  );
  const marks: Mark[] = [
    captionGroup(words, [text([cell.x, base(0) - 0.06 * pitch], words, 'text-italic', smallSize)]),
    ...heads,
    rule(cell.x, under, cell.x + cell.width, under, stroke(0.12)),
    ...rows.flatMap((row, i) => [
      cellGroup(
        { row: i + 1, column: 0, heads: 'Row' },
        text([cell.x, base(i + 2)], row.name, 'text-bold', tableSize),
      ),
      ...QUADRANTS.flatMap((quadrant, q) =>
        lengths.flatMap((length, k) => {
          const change = changeWords(aimChange(row, quadrant, length), units);
          const place = { row: i + 1, column: 1 + q * lengths.length + k };
          return change === ''
            ? []
            : [cellGroup(place, text([end(q, k), base(i + 2)], change, 'text', tableSize, right))];
        }),
      ),
    ]),
  ];
  return [
    {
      kind: 'group',
      role: 'table',
      alt: phrase(style, 'speeds.alt-aim', { words }),
      shows: 'putts',
      marks,
    },
  ];
};
