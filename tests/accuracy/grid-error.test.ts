import { describe, expect, it } from 'vitest';
import { planeThrough } from '../../src/surface/plane.js';
import { pointError } from '../../src/surface/point-error.js';
import { atDepth } from '../depth.js';
import { instruments } from './instruments.js';
import { roughGreen } from './rough-greens.js';

// @module-tag long
/** Used to set the lengths and limits: 113000, 113100, 113200. */
const SEED = 113_300;
const GREENS = Array.from({ length: atDepth(3, 5, 10) }, (_, k) => k);

const errorOf = (name: string, k: number) => {
  const survey = instruments.get(name)!(roughGreen(SEED, k), 100 * SEED + k);
  const plane = planeThrough(survey.x, survey.y, survey.z);
  const flat = survey.z.map(
    (height, p) => height - (plane[0] + plane[1] * survey.x[p] + plane[2] * survey.y[p]),
  );
  return pointError(survey, flat);
};

const rootMeanSquare = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value ** 2 / values.length, 0));

/**
 * What is left of the errors of points when many are averaged does not change by how a grid is made of them: 40 mm over
 * the root of the points on a cell's ground (law of large numbers), here 1.5 and 4 a square metre.
 */
describe.each([
  ['1 m grid of 1.5', 0.04 / Math.sqrt(1.5)],
  ['1 m grid of 4', 0.04 / Math.sqrt(4)],
  ['triangles of 1.5', 0.04 / Math.sqrt(1.5 / 4)],
  ['triangles of 1.5, stated', 0.04 / Math.sqrt(1.5 / 4)],
  ['triangles of 4', 0.04 / Math.sqrt(4 / 4)],
])('the error of a cell: %s', (name, points) => {
  it('is told by the cells themselves, never far too small nor twice too large', () => {
    const told = rootMeanSquare(GREENS.map((k) => errorOf(name, k).least));
    expect(told).toBeGreaterThan(0.85 * points);
    expect(told).toBeLessThan(1.6 * points);
  });
});
