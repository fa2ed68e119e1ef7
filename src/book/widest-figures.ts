import { insideRing, type Point } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent } from '../page/book-content.js';
import type { BreakMap } from '../putt/break-map.js';
import type { ArrivingPutt, BreakTable, Quadrant, TableCell } from '../putt/putt.js';
import type { PracticeStation } from '../putt/station.js';
import { QUADRANTS, quadrantDirection } from '../putt/table.js';
import { feetToMetres, inchesToMetres, METRES_PER_PACE, type UnitSystem } from '../units.js';

/** Figures of no ground, of as many letters as the figures of a page can have. */

/** Down to the right of the front: the arrow and its words take most room so. */
export const FALL: Point = [0.6, -0.8];
export const GRADE = 0.099;

/** Aims by turns, metres: of the most letters in each of the forms that they are read in, and one that is not aimed. */
const AIMS: Readonly<Record<UnitSystem, readonly number[]>> = {
  imperial: [feetToMetres(9.5), -inchesToMetres(35), feetToMetres(19), -feetToMetres(30)],
  metric: [5.9, -0.89, 2.4, -7],
};
/** At another green speed the aim is another by so much, metres. */
export const FASTER = 0.3;

/** Paces more than the length, metres: in halves of feet, in tens of them, in tenths of metres. */
const MORE = [0.76, 6.1, -0.9, 9.4];

/** A standard deviation that tells the most letters of a spread, and makes the aim doubtful, metres. */
const AIM_SD: Readonly<Record<UnitSystem, number>> = {
  imperial: inchesToMetres(35) / 1.96,
  metric: 0.89 / 1.96,
};

const puttOf = (ball: Point, hole: Point, length: number, aim: number): ArrivingPutt => ({
  status: 'holed',
  ...{ ball, hole, length, launchSpeed: 2, aimAngle: Math.atan2(aim, length), aimOffset: aim },
  ...{ pace: length, arrivalSpeed: 1, entryClock: 12, breakSide: aim > 0 ? 'right' : 'left' },
  ...{ time: 3, path: [ball, hole] },
});

const ballAt = (hole: Point, quadrant: Quadrant, length: number): Point => {
  const [x, y] = quadrantDirection(quadrant, FALL);
  return [hole[0] + x * length, hole[1] + y * length];
};

/** By what figures are chosen. */
export interface Widest {
  readonly layout: Layout;
  readonly units: UnitSystem;
}

/** A table of which every cell is full; one says that no pace holds the putt. */
export const fullTable = (
  hole: Point,
  settings: BreakTable['settings'],
  { layout, units }: Widest,
  more = 0,
): BreakTable => {
  const { lengths } = layout.tables;
  return {
    ...{ hole, settings, fall: FALL, grade: GRADE, lengths },
    cells: QUADRANTS.flatMap((quadrant, q) =>
      lengths.map((length, i): TableCell => {
        const ball = ballAt(hole, quadrant, length);
        const turn = (i + q) % AIMS[units].length;
        const aim = AIMS[units][turn];
        const putt = puttOf(ball, hole, length, aim + (aim > 0 ? more : -more));
        const isLast = q === QUADRANTS.length - 1 && i === lengths.length - 1 && i > 0;
        return {
          ...{ quadrant, length, ball },
          outcome: isLast ? 'no-pace' : 'solved',
          putt: isLast ? null : { ...putt, pace: Math.max(0.3, length + MORE[turn]) },
          aimSd: isLast ? null : AIM_SD[units],
        };
      }),
    ),
  };
};

/** The same with the balls that lie on the green alone, each of a known aim that is asked about. */
export const askedTable = (
  table: BreakTable,
  { outline }: GreenContent,
  units: UnitSystem,
): BreakTable => ({
  ...table,
  cells: table.cells.map((cell) =>
    insideRing(outline, cell.ball[0], cell.ball[1])
      ? {
          ...cell,
          outcome: 'solved',
          aimSd: null,
          putt: puttOf(
            cell.ball,
            table.hole,
            cell.length,
            units === 'metric' ? 1.7 : feetToMetres(5.5),
          ),
        }
      : { ...cell, outcome: 'off-green', putt: null, aimSd: null },
  ),
});

/** A station of which the marker serves, with a ruler of its own, or of which none does. */
export const stationAt = (
  hole: Point,
  settings: BreakTable['settings'],
  units: UnitSystem,
  verdict: 'serves' | 'none',
): PracticeStation => {
  const distance = METRES_PER_PACE;
  const [, aim] = AIMS[units];
  const uphill = verdict === 'serves' ? 0.11 : 0.5;
  const at: Point = [hole[0] - FALL[0] * uphill, hole[1] - FALL[1] * uphill];
  const putts = QUADRANTS.map((quadrant) => {
    const kept = verdict === 'serves' ? 1 : 0.18;
    return { quadrant, velocity: [0, 1] as const, pace: 1.3, aimKept: kept, paceKept: kept, kept };
  });
  return {
    ...{ hole, settings, fall: FALL, grade: GRADE, distance },
    tees: QUADRANTS.map((quadrant, q) => {
      const tee = ballAt(hole, quadrant, distance);
      const putt = puttOf(tee, hole, distance, q % 2 === 0 ? aim : -aim);
      const sides = quadrant === 'left' || quadrant === 'right';
      return {
        ...{ quadrant, tee, outcome: 'solved' as const },
        picture: sides
          ? 'over the point above'
          : quadrant === 'below'
            ? 'runs past'
            : 'stops short',
        putt: { ...putt, pace: 2.9 },
        pictured: quadrant === 'below' ? 0.88 : -0.88,
      };
    }),
    above: { at, distance: 0.88, difference: 0.1 },
    marker: {
      verdict,
      best: { at, uphill, right: -0.03, putts, least: 0.18 },
      asks: { pace: 0.88, sides: 0.88 },
    },
  };
};

/** A map of no lines: what stands about it is the same in every map. */
export const emptyMap = (hole: Point, settings: BreakTable['settings']): BreakMap => ({
  ...{ hole, settings, originX: hole[0], originY: hole[1], step: 0.5, columns: 2, rows: 2 },
  aim: new Float64Array(4).fill(Number.NaN),
  pace: new Float64Array(4).fill(Number.NaN),
  choices: new Uint8Array(4),
  unknown: null,
});
