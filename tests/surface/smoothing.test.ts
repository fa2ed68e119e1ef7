import { describe, expect, it } from 'vitest';
import { boxOf, growBox } from '../../src/geometry.js';
import { bendingMatrix } from '../../src/surface/bending.js';
import { knotGrid } from '../../src/surface/knot-grid.js';
import { observe } from '../../src/surface/observations.js';
import {
  chooseSmoothing,
  effectiveDegrees,
  problemOf,
  riskOf,
  solveAt,
} from '../../src/surface/smoothing.js';
import { survey } from './thin-plate.js';

describe('the risk of a smoothing', () => {
  const box = growBox(boxOf(survey.outline), 2);
  const grid = knotGrid(survey.outline, 2, box, 0.8);
  const mean = survey.z.reduce((sum, h) => sum + h / survey.z.length, 0);
  const heights = survey.z.map((h) => h - mean);
  const obs = observe(grid, survey.x, survey.y, heights);
  const problem = problemOf(grid, obs, new Float64Array(obs.count).fill(1));
  const energy = bendingMatrix(grid, null);

  /** By the trace itself, from the inverse; 1.1 is what a degree of freedom counts. */
  const exact = (smoothing: number, sigma: number | null): number => {
    const fit = solveAt(problem, energy, smoothing);
    const degrees = 1.1 * effectiveDegrees(problem, fit.factor.inverseAt(grid.stencil.places));
    const n = problem.mass;
    if (sigma !== null) return (fit.square + 2 * sigma ** 2 * degrees) / n;
    return (n * fit.square) / (n - degrees) ** 2;
  };

  it.each([0.05, 1, 30, 2000])('takes its degrees of freedom from determinants, at %f', (s) => {
    for (const sigma of [null, 0.008]) {
      expect(Math.abs(riskOf(problem, energy, s, sigma) / exact(s, sigma) - 1)).toBeLessThan(1e-3);
    }
  });

  it('is least where it is sought', () => {
    const risk = (s: number) => exact(s, null);
    const chosen = chooseSmoothing((s) => riskOf(problem, energy, s, null), 1, 0.3);
    for (const factor of [0.2, 0.5, 2, 5]) {
      expect(risk(chosen)).toBeLessThan(risk(factor * chosen));
    }
  });
});
