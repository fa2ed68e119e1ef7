import { aimReading } from '../../putt/rounding.js';
import { feetToMetres, inchesToMetres, pointsToMm, type UnitSystem } from '../../units.js';
import type { LocationContent } from '../book-content.js';
import { rule, stroke, text } from '../kit/draw.js';
import type { Cell } from '../kit/grid.js';
import type { DayPageContext, PageModule } from '../kit/page-modules.js';
import { cellGroup } from '../kit/read-aloud.js';
import { speedStepWords, stepOf, type TwoSpeeds, twoSpeedsOf } from '../putts/speed-change.js';
import { shortFigure } from '../putts/table-figures.js';
import { tableStyle } from '../putts/table-style.js';
import { phrase, type Telling } from '../words/words.js';

/** Aims that the small table is told for, metres. */
const AIMS: Readonly<Record<UnitSystem, readonly number[]>> = {
  imperial: [6, 12, 24, 36, 60].map(inchesToMetres),
  metric: [0.15, 0.3, 0.6, 0.9, 1.5],
};

/** Smaller aims say nothing of a ratio, larger ones are no figures to aim by; metres. */
const LEAST = inchesToMetres(3);
const MOST = feetToMetres(10);
/** With fewer putts than this there is no rule to be drawn from them. */
const FEWEST = 12;

/** What a step of green speed does to the aims of a day. */
interface DaySpeedChange {
  /** How much longer the stimp reading is, metres; negative for slower. */
  readonly step: number;
  /** The aim at the other speed as a part of the own one's: the lower and the upper quartile over all putts. */
  readonly ratios: readonly [number, number];
}

const aimRatios = ({ own, other }: TwoSpeeds): number[] =>
  own.cells.flatMap((cell, i) => {
    const beside = other.cells[i];
    if (cell.outcome !== 'solved' || beside.outcome !== 'solved') return [];
    const [a, b] = [cell.putt?.aimOffset ?? 0, beside.putt?.aimOffset ?? 0];
    return Math.abs(a) >= LEAST && Math.abs(a) <= MOST ? [b / a] : [];
  });

/** The value that a share of the sorted ones lies under. */
const quantile = (sorted: readonly number[], share: number): number => {
  const at = share * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low] + (at - low) * (sorted[high] - sorted[low]);
};

/**
 * What the last further speed of the tables changes, over all putts of some hole locations. Null where there is
 * one speed only, where the steps differ, and where the putts are too few.
 */
const daySpeedChange = (locations: readonly LocationContent[]): DaySpeedChange | null => {
  const pairs = locations.flatMap(twoSpeedsOf);
  const steps = pairs.map(stepOf);
  const ratios = pairs.flatMap(aimRatios).sort((a, b) => a - b);
  if (ratios.length < FEWEST || steps.some((step) => Math.abs(step - steps[0]) > 1e-6)) return null;
  return { step: steps[0], ratios: [quantile(ratios, 0.25), quantile(ratios, 0.75)] };
};

/** "+2″", and where the middle half of the putts is wider than that, "+2–3″". */
const changeRange = (aim: number, { ratios }: DaySpeedChange, tell: Telling): string => {
  const { units } = tell;
  const changes = ratios
    .map((ratio) => aim * (ratio - 1))
    .sort((a, b) => Math.abs(a) - Math.abs(b));
  const signed = changes.map((change) => {
    const { figure, side } = aimReading(change, units);
    return {
      sign: side === 'straight' ? '' : change < 0 ? '\u2212' : '+',
      figure: shortFigure(figure),
    };
  });
  const [near, far] = signed;
  if (near.figure === far.figure && near.sign === far.sign) return `${far.sign}${far.figure}`;
  if (near.sign !== far.sign && near.sign !== '') {
    return phrase(tell, 'day.range', {
      from: `${near.sign}${near.figure}`,
      to: `${far.sign}${far.figure}`,
    });
  }
  // The unit stands once where it is one.
  const from = near.figure.at(-1) === far.figure.at(-1) ? near.figure.slice(0, -1) : near.figure;
  return `${far.sign}${units === 'metric' ? near.figure : from}\u2013${far.figure}`;
};

/** Room for the words before the figures, a share of the width. */
const WORDS = 0.37;

/** The small table of what a step of green speed changes, for all greens of the day at once. */
export const daySpeedChangeModule: PageModule<DayPageContext> = ({ layout, book }, cell: Cell) => {
  const change = daySpeedChange(book.greens.flatMap(({ locations }) => locations));
  if (change === null || layout.use === 'committee') return [];
  const style = tableStyle(layout, book);
  const { units, tableSize, smallSize } = style;
  const pitch = pointsToMm(tableSize) * 1.15;
  const base = (row: number): number => cell.y + pitch * (row + 0.78);
  const aims = AIMS[units];
  const left = cell.x + cell.width * WORDS;
  const end = (k: number): number =>
    left + ((cell.x + cell.width - left) * (k + 1)) / aims.length - 1;
  const step = speedStepWords(change.step, book);
  const right = { align: 'right' as const };
  return [
    {
      kind: 'group',
      role: 'table',
      alt: phrase(book, 'speeds.alt', { step }),
      shows: 'putts',
      marks: [
        cellGroup(
          { row: 0, column: 0, heads: 'Row' },
          text(
            [cell.x, base(0)],
            phrase(book, units === 'metric' ? 'day.aims-metric' : 'day.aim'),
            'text-italic',
            smallSize,
          ),
        ),
        ...aims.map((aim, k) =>
          cellGroup(
            { row: 0, column: k + 1, heads: 'Column' },
            text(
              [end(k), base(0)],
              shortFigure(aimReading(aim, units).figure),
              'text',
              tableSize,
              right,
            ),
          ),
        ),
        rule(cell.x, cell.y + pitch, cell.x + cell.width, cell.y + pitch, stroke(0.12)),
        cellGroup(
          { row: 1, column: 0, heads: 'Row' },
          text([cell.x, base(1)], phrase(book, 'day.farther', { step }), 'text-italic', smallSize),
        ),
        ...aims.map((aim, k) =>
          cellGroup(
            { row: 1, column: k + 1 },
            text([end(k), base(1)], changeRange(aim, change, book), 'text-bold', tableSize, right),
          ),
        ),
      ],
    },
  ];
};
