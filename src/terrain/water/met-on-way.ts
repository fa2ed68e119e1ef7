import type { Point } from '../../geometry.js';
import { distance } from '../../geometry.js';
import type { GroundPoint } from '../fall-line.js';
import { followFall } from '../fall-line.js';
import type { GroundGrid } from '../ground-grid.js';
import { addLine, nearestLine, newLineIndex } from '../line-index.js';
import type { CriticalPoint, Reading } from '../reading.js';

/** What water meets on its way down. Metres. */
export interface Met {
  readonly kind:
    | 'high point'
    | 'valley'
    | 'main drainage line'
    | 'drainage line'
    | 'hollow'
    /** The high point that the water comes down from. */
    | 'high point above';
  /** The high point, or where the way comes to the valley, the line or the hollow. */
  readonly at: Point;
  /** Point of the way at which it is met. */
  readonly point: number;
  /** How far off the way it lies. */
  readonly off: number;
  /** As one looks down the way; null for what lies on it. */
  readonly side: 'left' | 'right' | null;
}

/** A high point is met by water that passes this near, metres. */
const HIGH_REACH = 5;
/** The way up ends at a high point no farther off than this, metres. */
const TOP_REACH = 1.5;
/** Water this near to a valley's line is in the valley, metres. */
const VALLEY_REACH = 0.4;
/** Shallower hollows are not spoken of, metres. */
const LEAST_DEPTH = 0.01;

/** The high point from which the ground falls to a place. */
const pointAbove = (grid: GroundGrid, from: Point, high: readonly CriticalPoint[]) => {
  const { points } = followFall(grid.surface, grid.outline, from, 1);
  const [x, y] = points[points.length - 1];
  const near = high.filter(({ at }) => distance(at, [x, y]) <= TOP_REACH);
  return near.sort((a, b) => distance(a.at, [x, y]) - distance(b.at, [x, y]))[0] ?? null;
};

/** A high point beside the way, where the way is nearest to it; null where that is at neither's side. */
const passing = (points: readonly GroundPoint[], { at }: CriticalPoint): Met | null => {
  let k = 0;
  let off = Infinity;
  points.forEach(([x, y], i) => {
    const d = distance(at, [x, y]);
    if (d >= off) return;
    off = d;
    k = i;
  });
  if (off > HIGH_REACH || k === 0 || k === points.length - 1) return null;
  const [ax, ay] = points[k - 1];
  const [bx, by] = points[k + 1];
  const turn = (bx - ax) * (at[1] - ay) - (by - ay) * (at[0] - ax);
  return { kind: 'high point', at, point: k, off, side: turn > 0 ? 'left' : 'right' };
};

/** The first point of the way in the valley of a line. */
const enteringValley = (
  points: readonly GroundPoint[],
  valleys: readonly (readonly Point[])[],
): Met[] => {
  const index = newLineIndex(0.5);
  valleys.forEach((line, k) => {
    addLine(index, k, line);
  });
  const seen = new Set<number>();
  const met: Met[] = [];
  points.forEach(([x, y], point) => {
    const near = nearestLine(index, x, y, VALLEY_REACH);
    if (near === null || seen.has(near.line)) return;
    seen.add(near.line);
    met.push({ kind: 'valley', at: [x, y], point, off: 0, side: null });
  });
  return met;
};

/** Hollows that the water fills before it goes on. */
const hollowsOn = (points: readonly GroundPoint[], hollows: Reading['hollows']): Met[] =>
  hollows.flatMap(({ at, level, depth, drain }): Met[] => {
    if (drain !== null || depth < LEAST_DEPTH) return [];
    const point = points.findIndex(([, , height], k) => {
      const next = points[k + 1];
      return next !== undefined && Math.abs(height - level) < 1e-6 && next[2] === height;
    });
    return point < 0 ? [] : [{ kind: 'hollow', at, point, off: 0, side: null }];
  });

/** High points, valleys, hollows and drainage lines in the order in which the water meets them. */
export const metOnWay = (
  grid: GroundGrid,
  points: readonly GroundPoint[],
  joint: { readonly point: number; readonly main: boolean } | null,
  { critical, valleys, hollows }: Pick<Reading, 'critical' | 'valleys' | 'hollows'>,
): Met[] => {
  const [x, y] = points[0];
  const high = critical.filter(({ kind }) => kind === 'high');
  const above = pointAbove(grid, [x, y], high);
  const met: Met[] = [
    ...high.flatMap((one) => (one === above ? [] : (passing(points, one) ?? []))),
    ...enteringValley(points, valleys),
    ...hollowsOn(points, hollows),
  ];
  if (joint !== null) {
    const [jx, jy] = points[joint.point];
    const kind = joint.main ? 'main drainage line' : 'drainage line';
    met.push({ kind, at: [jx, jy], point: joint.point, off: 0, side: null });
  }
  met.sort((a, b) => a.point - b.point || a.at[0] - b.at[0]);
  if (above === null) return met;
  const off = distance(above.at, [x, y]);
  return [{ kind: 'high point above', at: above.at, point: 0, off, side: null }, ...met];
};
