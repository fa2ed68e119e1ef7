import { describe, expect, it } from 'vitest';
import { spacingOf } from '../../src/appraisal/spacing.js';
import type { Point, Ring } from '../../src/geometry.js';

const square: Ring = [
  [0, 0],
  [20, 0],
  [20, 20],
  [0, 20],
];

const spacingFor = (points: readonly Point[]) =>
  spacingOf(
    Float64Array.from(points, ([x]) => x),
    Float64Array.from(points, ([, y]) => y),
    square,
  );

const lattice = (step: number, to: number): Point[] => {
  const points: Point[] = [];
  for (let y = step / 2; y < 20; y += step) {
    for (let x = step / 2; x < to; x += step) points.push([x, y]);
  }
  return points;
};

describe('how far the points of a survey lie from each other', () => {
  it('is the step of a lattice that covers the green', () => {
    const spacing = spacingFor(lattice(1, 20));
    expect(spacing.onGreen).toBe(400);
    expect(spacing.nearest).toBeCloseTo(1, 12);
    expect(spacing.mean).toBeCloseTo(1, 12);
    expect(spacing.coverage).toBe(1);
    expect(spacing.bare).toEqual([]);
    expect(spacing.gap).toBeLessThanOrEqual(Math.SQRT1_2 + 1e-9);
  });

  it('is that of the ground which has points, where a part has none', () => {
    // To x = 10: what lies over `reach` beyond the last column, 9.5, is bare.
    const spacing = spacingFor(lattice(1, 10));
    expect(spacing.onGreen).toBe(200);
    const share = (9.5 + spacing.reach) / 20;
    expect(Math.abs(spacing.coverage - share)).toBeLessThan(0.03);
    expect(spacing.mean).toBeCloseTo(Math.sqrt((spacing.coverage * 400) / 200), 2);
    for (const [x] of spacing.bare) expect(x).toBeGreaterThan(9.5 + spacing.reach - 0.5);
  });

  it('reaches one and a half times the distance between neighbours, where that is more', () => {
    expect(spacingFor(lattice(4, 20)).reach).toBeCloseTo(6, 9);
  });

  it('finds the widest gap, as trying every point does', () => {
    // A linear congruential generator (Numerical Recipes), seed 17; a hole about (14, 6).
    let state = 17;
    const random = (): number => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return state / 4_294_967_296;
    };
    const points = Array.from({ length: 300 }, (): Point => [20 * random(), 20 * random()]).filter(
      ([x, y]) => Math.hypot(x - 14, y - 6) > 3,
    );
    const { gap, gapAt, nearest } = spacingFor(points);
    const nearestTo = ([x, y]: Point, self = -1): number =>
      Math.min(
        ...points.map(([px, py], i) => (i === self ? Infinity : Math.hypot(px - x, py - y))),
      );
    expect(gap).toBeCloseTo(nearestTo(gapAt), 12);
    expect(Math.hypot(gapAt[0] - 14, gapAt[1] - 6)).toBeLessThan(1.2);
    const all = points.map((p, i) => nearestTo(p, i)).sort((a, b) => a - b);
    expect(nearest).toBeCloseTo(all[all.length >> 1], 12);
  });
});
