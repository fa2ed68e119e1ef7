import type { Point } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';
import { fanFrom } from './fan.js';
import type { PuttSettings, TableCell } from './putt.js';
import { reachOf } from './solve.js';
import { puttFrom } from './table.js';
import { puttGround } from './workspace.js';

/** One tee of a circle about the hole. */
export interface RoundTee extends Pick<TableCell, 'outcome' | 'putt'> {
  /** Hours of a clock that lies with its 12 uphill of the hole, seen from above: 0 < h <= 12. */
  readonly clock: number;
  readonly tee: Point;
}

/** Tees evenly round a hole, from 12 o'clock on with the hands of the clock. */
export interface WalkRound {
  readonly hole: Point;
  readonly settings: PuttSettings;
  /** Unit vector downhill at the hole. */
  readonly fall: Point;
  readonly grade: number;
  /** Metres from the hole to each tee. */
  readonly distance: number;
  readonly tees: readonly RoundTee[];
  /** The point that all lines of aim pass nearest to, and how far they miss it (root mean square); null with under three putts. */
  readonly over: AimPoint | null;
}

export interface AimPoint {
  readonly at: Point;
  /** Metres uphill of the hole's centre, and to the right of the fall line, looking up it. */
  readonly uphill: number;
  readonly right: number;
  readonly spread: number;
}

/** Numbers of tees that a walk round the hole may have. */
export const ROUND_TEES = [8, 12] as const;
const LEAST_PUTTS = 3;

/**
 * The point from which lines (a place and a unit normal each) lie least far, by least squares; null where they
 * are too few or all run alike.
 */
export const aimPointOf = (
  tees: readonly RoundTee[],
  hole: Point,
  fall: Point,
): AimPoint | null => {
  const lines = tees.flatMap(({ putt }) => {
    if (putt === null) return [];
    const along = Math.atan2(hole[1] - putt.ball[1], hole[0] - putt.ball[0]) + putt.aimAngle;
    const normal = [-Math.sin(along), Math.cos(along)] as const;
    const off = normal[0] * (putt.ball[0] - hole[0]) + normal[1] * (putt.ball[1] - hole[1]);
    return [{ normal, off }];
  });
  if (lines.length < LEAST_PUTTS) return null;
  const sum = (value: (one: (typeof lines)[number]) => number): number =>
    lines.reduce((total, one) => total + value(one), 0);
  const xx = sum(({ normal }) => normal[0] ** 2);
  const xy = sum(({ normal }) => normal[0] * normal[1]);
  const yy = sum(({ normal }) => normal[1] ** 2);
  const bx = sum(({ normal, off }) => normal[0] * off);
  const by = sum(({ normal, off }) => normal[1] * off);
  const det = xx * yy - xy * xy;
  if (!(det > 1e-6 * lines.length ** 2)) return null;
  const dx = (bx * yy - by * xy) / det;
  const dy = (by * xx - bx * xy) / det;
  const square = sum(({ normal, off }) => (normal[0] * dx + normal[1] * dy - off) ** 2);
  return {
    at: [hole[0] + dx, hole[1] + dy],
    uphill: -(dx * fall[0] + dy * fall[1]),
    right: -dx * fall[1] + dy * fall[0],
    spread: Math.sqrt(square / lines.length),
  };
};

/** Eight or twelve tees on a circle about a hole, each with its putt. */
export const walkRound = (
  surface: Surface,
  hole: Point,
  settings: PuttSettings,
  { distance, count }: { readonly distance: number; readonly count: number },
): WalkRound => {
  const { toward: fall, grade } = fallAt(surface, hole);
  const w = puttGround(surface, settings);
  const fan = fanFrom(w, hole, reachOf(distance));
  const tees = Array.from({ length: count }, (_, k): RoundTee => {
    const angle = (2 * Math.PI * k) / count;
    const [up, right] = [distance * Math.cos(angle), distance * Math.sin(angle)];
    const tee: Point = [
      hole[0] - fall[0] * up - fall[1] * right,
      hole[1] - fall[1] * up + fall[0] * right,
    ];
    const { outcome, putt } = puttFrom(w, fan, tee);
    return { clock: k === 0 ? 12 : (12 * k) / count, tee, outcome, putt };
  });
  return { hole, settings, fall, grade, distance, tees, over: aimPointOf(tees, hole, fall) };
};
