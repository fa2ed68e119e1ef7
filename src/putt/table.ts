import type { Point } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';
import { candidatesFrom, leastDemanding } from './candidates.js';
import { HOLE_RADIUS } from './capture.js';
import type { Fan } from './fan.js';
import { fanFrom } from './fan.js';
import type { BreakTable, PuttSettings, Quadrant, TableCell } from './putt.js';
import { arrivalOf, fanFor, reachOf } from './solve.js';
import { aimSdOf } from './spread.js';
import type { PuttGround } from './workspace.js';
import { puttGround } from './workspace.js';

export const QUADRANTS: readonly Quadrant[] = ['below', 'above', 'left', 'right'];

/** Unit vector from the hole to a quadrant, looking up the fall line from below the hole. */
export const quadrantDirection = (quadrant: Quadrant, fall: Point): Point => {
  const [fx, fy] = fall;
  switch (quadrant) {
    case 'below':
      return [fx, fy];
    case 'above':
      return [-fx, -fy];
    case 'left':
      return [fy, -fx];
    case 'right':
      return [-fy, fx];
  }
};

/**
 * The break table of one hole location: for each quadrant and length (metres, over the hole's radius)
 * the putt that arrives at the asked pace. Cells come by quadrant, then by length, in the orders given.
 * One fan of backward motions serves all cells; each is confirmed by a forward motion.
 */
export const breakTable = (
  surface: Surface,
  hole: Point,
  lengths: readonly number[],
  settings: PuttSettings,
): BreakTable => {
  if (!lengths.every((length) => length > HOLE_RADIUS)) {
    throw new RangeError('a putt is longer than the radius of the hole');
  }
  const { toward: fall, grade } = fallAt(surface, hole);
  const w = puttGround(surface, settings);
  const fan = fanFrom(w, hole, reachOf(Math.max(...lengths)));
  const cells = QUADRANTS.flatMap((quadrant) => {
    const [ux, uy] = quadrantDirection(quadrant, fall);
    return lengths.map((length) =>
      tableCell(w, fan, quadrant, length, [hole[0] + length * ux, hole[1] + length * uy]),
    );
  });
  return { hole, settings, fall, grade, lengths, cells };
};

const tableCell = (
  w: PuttGround,
  fan: Fan,
  quadrant: Quadrant,
  length: number,
  ball: Point,
): TableCell => ({ quadrant, length, ball, ...puttFrom(w, fan, ball) });

/** The putt from a place, what becomes of it, and what the survey knows of its aim. */
export const puttFrom = (
  w: PuttGround,
  fan: Fan,
  ball: Point,
): Pick<TableCell, 'outcome' | 'putt' | 'aimSd'> => {
  const cell = { putt: null, aimSd: null };
  if (!w.onGreen(ball[0], ball[1])) return { ...cell, outcome: 'off-green' };
  // The table's fan is cast for its longest putt; one for this putt alone may find what it passes over.
  const best =
    leastDemanding(w, candidatesFrom(w, fan, ball)) ??
    leastDemanding(w, candidatesFrom(w, fanFor(w, ball, fan.hole), ball));
  if (best === null) return { ...cell, outcome: 'no-pace' };
  const putt = arrivalOf(w, ball, fan.hole, best);
  const solved = {
    ...cell,
    putt,
    outcome: putt.status === 'holed' ? ('solved' as const) : ('leaves-green' as const),
  };
  const { trust } = w.surface;
  if (trust === null) return solved;
  return { ...solved, aimSd: aimSdOf(w, trust, best.leg, putt) };
};

/** The same table at several green speeds (stimp readings, metres), to stand side by side. */
export const tablesAtSpeeds = (
  surface: Surface,
  hole: Point,
  lengths: readonly number[],
  stimps: readonly number[],
  past: number,
): BreakTable[] => stimps.map((stimp) => breakTable(surface, hole, lengths, { stimp, past }));
