import { describe, expect, it } from 'vitest';
import { surveyedPour } from '../../src/book/surveyed-pour.js';
import type { Point } from '../../src/geometry.js';
import { READ_DEFAULTS, readGreen } from '../../src/terrain/read-green.js';
import { pour } from '../../src/terrain/water/pour.js';
import { waterGround } from '../../src/terrain/water/water-ground.js';
import { bumpySurface } from '../terrain/random-green.js';

/** Even ground that falls by 3 % to the front, 20 m square. */
const even = bumpySurface(
  [
    [-10, 0],
    [10, 0],
    [10, 20],
    [-10, 20],
  ],
  0.0001,
  0.03,
  [],
);

describe('water on a green that is surveyed in part', () => {
  it('ends where the points end, and tells neither outlet nor catchment', () => {
    const reading = { ...readGreen(even, READ_DEFAULTS), streams: [] };
    const places: Point[] = [
      [0, 15],
      [6, 15],
    ];
    const water = pour(waterGround(even, reading, READ_DEFAULTS), places);
    expect(water.catchments.length).toBe(2);
    const told = surveyedPour(water, [[0, 5]]);
    expect(told.streams[0].leaving).toBeNull();
    const [, y] = told.streams[0].points[told.streams[0].points.length - 1];
    expect(y).toBeGreaterThan(5);
    expect(y).toBeLessThan(7);
    expect(told.streams[1]).toEqual(water.streams[1]);
    expect(told.catchments.map(({ at }) => Math.round(at[0]))).toEqual([6]);
    expect(surveyedPour(water, [])).toBe(water);
  });
});
