import { describe, expect, it } from 'vitest';
import type { Ring } from '../../src/geometry.js';
import { insideRing } from '../../src/geometry.js';
import {
  fieldAt,
  type GroundGrid,
  nearestNode,
  nodeX,
  nodeY,
  sampleGround,
} from '../../src/terrain/ground-grid.js';
import { contourLines } from '../../src/terrain/regions/contour-lines.js';
import { areaOfPolygon } from '../../src/terrain/regions/region.js';
import { slopeBands, squaredGrade } from '../../src/terrain/regions/slope-bands.js';
import { plane, quadric } from '../surface/analytic.js';

const oblong: Ring = [
  [-3, 0],
  [3, 0],
  [3, 8],
  [-3, 8],
];

describe('a grid of ground', () => {
  const grid = sampleGround(plane(oblong, 0.01, -0.02), 0.5);

  it('has height, slope and place of each node', () => {
    for (const [x, y] of [
      [0, 4],
      [-2, 1],
      [2.5, 7],
    ]) {
      const n = nearestNode(grid, x, y);
      expect([nodeX(grid, n), nodeY(grid, n)]).toEqual([x, y]);
      expect(grid.height[n]).toBeCloseTo(0.01 * x - 0.02 * y, 9);
      expect(grid.hx[n]).toBeCloseTo(0.01, 9);
      expect(grid.hy[n]).toBeCloseTo(-0.02, 9);
      expect(grid.inside[n]).toBe(1);
    }
    expect(nearestNode(grid, 1e6, 1e6)).toBe(grid.columns * grid.rows - 1);
    expect(nearestNode(grid, -1e6, -1e6)).toBe(0);
  });

  it('is read between its nodes by both neighbours each way', () => {
    const small = { originX: 10, originY: 20, step: 2, columns: 3, rows: 2 } as GroundGrid;
    const field = Float64Array.of(0, 1, 2, 10, 11, 12);
    expect(fieldAt(small, field, 10, 20)).toBe(0);
    expect(fieldAt(small, field, 11, 20)).toBe(0.5);
    expect(fieldAt(small, field, 10, 21)).toBe(5);
    expect(fieldAt(small, field, 13.5, 21.5)).toBeCloseTo(1.75 + 7.5, 12);
    // Held at the rim.
    expect(fieldAt(small, field, 99, 99)).toBe(12);
    expect(fieldAt(small, field, -99, -99)).toBe(0);
  });
});

describe('contours', () => {
  it('lie at whole multiples of the interval, from the lowest to the highest', () => {
    // Heights from 0.02 to 0.34 m.
    const grid = sampleGround(plane(oblong, 0, 0.04, 0.02), 0.5);
    const contours = contourLines(grid, 0.05, 3);
    expect(contours.map(({ height }) => Number(height.toFixed(9)))).toEqual([
      0.05, 0.1, 0.15, 0.2, 0.25, 0.3,
    ]);
    expect(contours.map(({ index }) => index)).toEqual([false, false, true, false, false, true]);
    for (const { height, lines } of contours) {
      for (const [, y] of lines.flat()) expect(y).toBeCloseTo((height - 0.02) / 0.04, 6);
    }
  });
});

describe('slope bands', () => {
  const bandsOf = (grid: GroundGrid, thresholds: number[]) =>
    slopeBands(grid, squaredGrade(grid), thresholds, 0, 48).map(({ from, to, polygons }) => ({
      from,
      to,
      area: polygons.reduce((sum, polygon) => sum + areaOfPolygon(polygon), 0),
      polygons,
    }));

  it.each([
    [0.005, 0],
    [0.015, 1],
    [0.05, 2],
  ])('put a plane of grade %f whole into band %i', (grade, band) => {
    const bands = bandsOf(sampleGround(plane(oblong, 0, grade), 0.5), [0.01, 0.02]);
    expect(bands.map(({ area }) => Number(area.toFixed(6)))).toEqual(
      [0, 1, 2].map((i) => (i === band ? 48 : 0)),
    );
    expect(bands.map(({ from, to }) => [from, to])).toEqual([
      [0, 0.01],
      [0.01, 0.02],
      [0.02, Infinity],
    ]);
  });

  it('lie round the level middle of a bowl as rings', () => {
    // Grade 0.01 a metre from the middle: 1 % at a metre, 2 % at two.
    const bands = bandsOf(sampleGround(quadric(oblong, 0.01, 0.01, 0, 4), 0.25), [0.01, 0.02]);
    expect(bands[0].area).toBeCloseTo(Math.PI, 1);
    expect(bands[1].area).toBeCloseTo(3 * Math.PI, 1);
    expect(bands[2].area).toBeCloseTo(48 - 4 * Math.PI, 1);
    expect(insideRing(bands[0].polygons[0][0], 0, 4)).toBe(true);
  });
});
