import { describe, expect, it } from 'vitest';
import { sampleGround } from '../../src/terrain/ground-grid.js';
import { contourLines } from '../../src/terrain/regions/contour-lines.js';
import { squaredGrade } from '../../src/terrain/regions/slope-bands.js';
import { circleRing, plane, quadric } from '../surface/analytic.js';

/** Contours of a tilted plane over a disc: straight chords at whole multiples of the interval. */

const RADIUS = 10.1;
const contoursOf = (slope: number, interval: number, indexEvery: number) =>
  contourLines(
    sampleGround(plane(circleRing(RADIUS, 0, 0, 720), 0, slope), 0.25),
    interval,
    indexEvery,
  );

describe('contours of a tilted disc', () => {
  it('stand at every multiple of the interval from the lowest to the highest ground', () => {
    // 27.3 cm up and down.
    const found = contoursOf(0.273 / RADIUS, 0.05, 5);
    expect(found.map(({ height }) => Math.round(100 * height))).toEqual([
      -25, -20, -15, -10, -5, 0, 5, 10, 15, 20, 25,
    ]);
    expect(
      found.filter(({ index }) => index).map(({ height }) => Math.round(100 * height)),
    ).toEqual([-25, 0, 25]);
    for (const { height, lines } of found) {
      const y = height / (0.273 / RADIUS);
      expect(lines.length).toBe(1);
      const [from, to] = [lines[0][0], lines[0][lines[0].length - 1]];
      expect(Math.abs(to[0] - from[0])).toBeCloseTo(2 * Math.sqrt(RADIUS ** 2 - y ** 2), 1);
      for (const at of lines[0]) expect(at[1]).toBeCloseTo(y, 6);
    }
  });

  it('are the index contours alone, or fewer, where no paper could hold them all', () => {
    for (const [height, apart] of [
      [9, 0.05],
      [40, 0.25],
      [200, 1.25],
    ]) {
      const found = contoursOf(height / RADIUS, 0.05, 5);
      expect(found.length).toBeLessThanOrEqual(401);
      expect(found[1].height - found[0].height).toBeCloseTo(apart, 9);
      expect(found.every(({ index }) => index)).toBe(apart > 0.05);
    }
    expect(contoursOf(40 / RADIUS, 0.05, 1).length).toBeLessThanOrEqual(401);
  });

  it('are found between the last node of the grid and the edge', () => {
    for (const y of [9.8, 9.9, 10, 10.05]) {
      const found = contoursOf(0.2 / y, 0.2, 5);
      expect(
        found.map(({ height }) => Math.round(10 * height)),
        `${y}`,
      ).toEqual([-2, 0, 2]);
    }
  });
});

describe('the square of the grade', () => {
  it('comes with its gradient: central differences of a paraboloid', () => {
    const grid = sampleGround(quadric(circleRing(RADIUS), 0.004, -0.0025, 1, 2), 0.25);
    const { value, dx, dy, step, columns } = squaredGrade(grid);
    for (const n of grid.inside.keys()) {
      if ([n, n - 1, n + 1, n - columns, n + columns].some((k) => grid.inside[k] !== 1)) continue;
      expect(dx![n]).toBeCloseTo((value[n + 1] - value[n - 1]) / (2 * step), 9);
      expect(dy![n]).toBeCloseTo((value[n + columns] - value[n - columns]) / (2 * step), 9);
    }
  });
});
