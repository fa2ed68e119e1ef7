import type { Point } from '../../geometry.js';

/** A field sampled at grid nodes; with its derivatives the crossings are found on cubic edges. */
export interface LevelField {
  readonly originX: number;
  readonly originY: number;
  readonly step: number;
  readonly columns: number;
  readonly rows: number;
  readonly value: Float64Array;
  readonly dx?: Float64Array;
  readonly dy?: Float64Array;
}

/** A line on which the field equals a level; the ground at or above the level lies on its left. */
export interface Isoline {
  readonly points: readonly Point[];
  /** The last point joins the first (which is not repeated). */
  readonly closed: boolean;
}

/**
 * Root in (0, 1) of the cubic through values a, b with slopes da, db (per unit), brought to zero at the
 * ends of different sign; Newton kept inside a shrinking bracket.
 */
const cubicRoot = (a: number, b: number, da: number, db: number): number => {
  let low = 0;
  let high = 1;
  let t = a / (a - b);
  const rising = b > a;
  const c2 = -3 * a + 3 * b - 2 * da - db;
  const c3 = 2 * a - 2 * b + da + db;
  for (let round = 0; round < 6; round++) {
    const value = a + t * (da + t * (c2 + t * c3));
    if (value > 0 === rising) high = t;
    else low = t;
    const slope = da + t * (2 * c2 + 3 * t * c3);
    const next = t - value / slope;
    if (Math.abs(next - t) < 1e-9) break;
    const moved = next > low && next < high ? next : (low + high) / 2;
    const change = Math.abs(moved - t);
    t = moved;
    if (change < 1e-7) break;
  }
  return t;
};

/**
 * Marching squares (Lorensen & Cline 1987 in two dimensions) with the ambiguous cells decided by their
 * mean. Edges are cubic Hermite arcs where derivatives are given, so that points lie on the field's
 * level to fourth order in the step.
 */
export const traceIsolines = (field: LevelField, level: number): Isoline[] => {
  const { originX, originY, step, columns, rows, value, dx, dy } = field;
  // Edge 2n runs from node n to its right neighbour, 2n + 1 from node n to the one above.
  const next = new Map<number, number>();
  const incoming = new Set<number>();
  const link = (from: number, to: number): void => {
    next.set(from, to);
    incoming.add(to);
  };
  for (let j = 0; j < rows - 1; j++) {
    for (let i = 0, n = j * columns; i < columns - 1; i++, n++) {
      const a = value[n] >= level ? 1 : 0;
      const b = value[n + 1] >= level ? 2 : 0;
      const c = value[n + columns + 1] >= level ? 4 : 0;
      const d = value[n + columns] >= level ? 8 : 0;
      const kind = a | b | c | d;
      if (kind === 0 || kind === 15) continue;
      const bottom = 2 * n;
      const right = 2 * (n + 1) + 1;
      const top = 2 * (n + columns);
      const left = 2 * n + 1;
      if (kind === 5 || kind === 10) {
        const mean = (value[n] + value[n + 1] + value[n + columns] + value[n + columns + 1]) / 4;
        const joined = mean >= level;
        if (kind === 5) {
          link(bottom, joined ? right : left);
          link(top, joined ? left : right);
        } else {
          link(left, joined ? bottom : top);
          link(right, joined ? top : bottom);
        }
        continue;
      }
      // Walked counter-clockwise, the line starts where high turns to low and ends where low turns to high.
      const start = a && !b ? bottom : b && !c ? right : c && !d ? top : left;
      const end = !a && b ? bottom : !b && c ? right : !c && d ? top : left;
      link(start, end);
    }
  }
  const pointOn = (edge: number): Point => {
    const n = edge >> 1;
    const upward = edge & 1;
    const m = upward ? n + columns : n + 1;
    const va = value[n] - level;
    const vb = value[m] - level;
    const slope = upward ? dy : dx;
    let t = va / (va - vb);
    if (slope !== undefined && va !== 0 && vb !== 0) {
      t = cubicRoot(va, vb, slope[n] * step, slope[m] * step);
    }
    const x = originX + (n % columns) * step;
    const y = originY + Math.floor(n / columns) * step;
    return upward ? [x, y + t * step] : [x + t * step, y];
  };
  const lines: Isoline[] = [];
  const follow = (first: number, closed: boolean): void => {
    const points: Point[] = [];
    let edge: number | undefined = first;
    do {
      const p = pointOn(edge);
      const last = points[points.length - 1];
      if (last === undefined || last[0] !== p[0] || last[1] !== p[1]) points.push(p);
      const to: number | undefined = next.get(edge);
      next.delete(edge);
      edge = to;
    } while (edge !== undefined && edge !== first);
    if (closed && points.length > 1) {
      const [p, q] = [points[0], points[points.length - 1]];
      if (p[0] === q[0] && p[1] === q[1]) points.pop();
    }
    if (points.length > (closed ? 2 : 1)) lines.push({ points, closed });
  };
  for (const start of [...next.keys()]) {
    if (next.has(start) && !incoming.has(start)) follow(start, false);
  }
  for (const start of [...next.keys()]) if (next.has(start)) follow(start, true);
  return lines;
};
