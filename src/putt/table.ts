import type { Point } from '../geometry.js';
import { insideRing } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';
import type { BreakTable, PuttSettings, Quadrant, TableCell } from './putt.js';
import { solveOn } from './solve.js';
import type { PuttGround } from './workspace.js';
import { puttGround } from './workspace.js';

export const QUADRANTS: readonly Quadrant[] = ['below', 'above', 'left', 'right'];

/** The fall at a point: unit vector downhill and grade. Level ground counts as falling toward the front. */
export const fallAt = (
  surface: Surface,
  at: Point,
): { readonly fall: Point; readonly grade: number } => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(at[0], at[1], jet);
  const grade = Math.hypot(jet[HX], jet[HY]);
  return { fall: grade > 1e-9 ? [-jet[HX] / grade, -jet[HY] / grade] : [0, -1], grade };
};

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
 * The break table of one hole location: for each quadrant and length (metres) the putt that arrives at
 * the asked pace. Cells come by quadrant, then by length, in the orders given.
 */
export const breakTable = (
  surface: Surface,
  hole: Point,
  lengths: readonly number[],
  settings: PuttSettings,
): BreakTable => {
  const { fall, grade } = fallAt(surface, hole);
  const w = puttGround(surface, settings);
  const cells = QUADRANTS.flatMap((quadrant) => {
    const [ux, uy] = quadrantDirection(quadrant, fall);
    return lengths.map((length) =>
      tableCell(w, quadrant, length, [hole[0] + length * ux, hole[1] + length * uy], hole),
    );
  });
  return { hole, settings, fall, grade, lengths, cells };
};

const tableCell = (
  w: PuttGround,
  quadrant: Quadrant,
  length: number,
  ball: Point,
  hole: Point,
): TableCell => {
  const cell = { quadrant, length, ball, aimSd: null };
  if (!insideRing(w.surface.outline, ball[0], ball[1])) {
    return { ...cell, outcome: 'off-green', putt: null };
  }
  const putt = solveOn(w, ball, hole);
  if (putt.status === 'holed') return { ...cell, outcome: 'solved', putt };
  if (putt.status === 'leaves-green') return { ...cell, outcome: 'leaves-green', putt };
  return { ...cell, outcome: 'no-pace', putt: null };
};
