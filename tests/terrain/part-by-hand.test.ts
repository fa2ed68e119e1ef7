import { describe, expect, it } from 'vitest';
import { sampleGround } from '../../src/terrain/ground-grid.js';
import { partOf } from '../../src/terrain/sections/part.js';
import { circleRing, plane } from '../surface/analytic.js';

/** A part of a green by hand: rectangles on a tilted plane. */

const SLOPE = 0.02;
const grid = sampleGround(plane(circleRing(12), 0, SLOPE), 0.25);

/** A rectangle about (1, 2), `long` by `wide`, turned by an angle. */
const rectangle = (long: number, wide: number, angle: number) => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([u, v]) => {
    const [x, y] = [(u * long) / 2, (v * wide) / 2];
    return [1 + c * x - s * y, 2 + s * x + c * y] as const;
  });
};

describe('a part of a green', () => {
  it.each([0, 0.6, Math.PI / 2])('has the figures of its rectangle, turned by %d', (angle) => {
    const part = partOf(grid, [rectangle(9, 3, angle)])!;
    expect(part.area).toBeCloseTo(27, 9);
    // To half a step of the grid.
    expect(Math.abs(part.centre[0] - 1)).toBeLessThan(0.126);
    expect(Math.abs(part.centre[1] - 2)).toBeLessThan(0.126);
    // Second moments of a rectangle: its length and width squared, over twelve.
    expect(Math.abs(part.elongation / 3 - 1)).toBeLessThan(0.1);
    expect(part.meanGrade).toBeCloseTo(SLOPE, 6);
    const reach = 4.5 * Math.abs(Math.sin(angle)) + 1.5 * Math.abs(Math.cos(angle));
    expect(Math.abs(part.highest - part.lowest - 2 * reach * SLOPE)).toBeLessThan(0.6 * SLOPE);
  });

  it('is none where no node lies in it', () => {
    const between = rectangle(0.1, 0.1, 0).map(([x, y]) => [x + 0.12, y + 0.12] as const);
    expect(partOf(grid, [between])).toBeNull();
  });
});
