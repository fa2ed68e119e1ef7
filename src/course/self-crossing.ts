import type { Point } from '../geometry.js';

const properCross = (a: Point, b: Point, c: Point, d: Point): boolean => {
  const turn = (p: Point, q: Point, r: Point): number =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
};

/** Where a ring crosses itself; null when it does not. Sweeps by x, so that long outlines stay cheap. */
export const selfCrossing = (ring: readonly Point[]): Point | null => {
  const sides = ring.map((a, i) => {
    const b = ring[(i + 1) % ring.length];
    return { a, b, i, from: Math.min(a[0], b[0]), to: Math.max(a[0], b[0]) };
  });
  sides.sort((s, t) => s.from - t.from);
  for (let s = 0; s < sides.length; s++) {
    for (let t = s + 1; t < sides.length && sides[t].from <= sides[s].to; t++) {
      const [p, q] = [sides[s], sides[t]];
      const apart = Math.abs(p.i - q.i);
      if (apart === 1 || apart === ring.length - 1) continue;
      if (properCross(p.a, p.b, q.a, q.b)) return p.a;
    }
  }
  return null;
};
