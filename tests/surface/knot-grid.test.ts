import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { boundedKnotGrid } from '../../src/surface/knot-grid.js';

const square = (side: number): Point[] => [
  [0, 0],
  [side, 0],
  [side, side],
  [0, side],
];

/** Unknowns of a fit of so many points on a square, in rows over a part of it; knots wished for 0.6 m apart. */
const unknownsOf = (side: number, points: number, part = side): number => {
  const row = Math.ceil(Math.sqrt(points));
  const at = (k: number): number => ((k + 0.5) * part) / row;
  return boundedKnotGrid(
    {
      outline: square(side),
      collar: 1,
      box: { minX: -1, minY: -1, maxX: side + 1, maxY: side + 1 },
      x: Float64Array.from({ length: points }, (_, k) => at(k % row)),
      y: Float64Array.from({ length: points }, (_, k) => at(Math.floor(k / row))),
    },
    0.6,
  ).size;
};

describe('the knots of a fit', () => {
  it('stand as wished for where the points are worth it', () => {
    expect(unknownsOf(20, 400)).toBeGreaterThan(1400);
    expect(unknownsOf(20, 60)).toBe(unknownsOf(20, 400));
    expect(unknownsOf(30, 900)).toBeGreaterThan(2600);
  });

  it('are no more than few points on much ground are worth', () => {
    expect(unknownsOf(30, 269)).toBeLessThanOrEqual(1600);
    expect(unknownsOf(30, 269)).toBeGreaterThan(1400);
    expect(unknownsOf(60, 10_000)).toBeLessThanOrEqual(3600);
  });

  it('are no more than points in a corner tell of the rest', () => {
    expect(unknownsOf(30, 269, 22)).toBe(unknownsOf(30, 269));
    expect(unknownsOf(30, 269, 15)).toBeLessThan(0.6 * unknownsOf(30, 269));
    expect(unknownsOf(30, 269, 10)).toBeLessThanOrEqual(900);
    expect(unknownsOf(30, 2000, 10)).toBeLessThanOrEqual(1250);
  });
});
