import { describe, expect, it } from 'vitest';
import { boxOf, growBox } from '../../src/geometry.js';
import { bendingMatrix } from '../../src/surface/bending.js';
import { degreesFrom } from '../../src/surface/degrees-of-freedom.js';
import { knotGrid } from '../../src/surface/knot-grid.js';
import { smoothingOfLeastRisk } from '../../src/surface/least-risk.js';
import { observe } from '../../src/surface/observations.js';
import { effectiveDegrees, problemOf, solveAt } from '../../src/surface/smoothing.js';
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
  const exact = (smoothing: number): { degrees: number; risk: number } => {
    const fit = solveAt(problem, energy, smoothing);
    const degrees = effectiveDegrees(problem, fit.factor.inverseAt(grid.stencil.places));
    const n = problem.mass;
    return { degrees, risk: (n * fit.square) / (n - 1.1 * degrees) ** 2 };
  };

  it.each([
    [0.05, 0.3],
    [1, 0.3],
    [30, 0.6],
    [2000, 0.6],
    [1, 1],
  ])('takes its degrees of freedom from determinants, at %f by steps of %f', (middle, width) => {
    const at = [-2, -1, 0, 1, 2].map((k) => middle * 10 ** (k * width));
    const fits = at.map((s) => solveAt(problem, energy, s));
    const logs = fits.map(({ factor }) => factor.logDeterminant);
    for (const [from, to] of [
      [1, 4],
      [0, 4],
      [0, 5],
    ]) {
      const degrees = degreesFrom(logs.slice(from, to), grid.size, width * Math.LN10);
      // The search ends with the middle and its neighbours: of three fits these lie at the ends.
      for (const k of [1, 2, 3].filter((node) => node < to)) {
        const close = k !== 2 && to - from === 3 ? 0.14 : 0.06;
        const off = Math.abs(degrees[k - from] / exact(at[k]).degrees - 1);
        expect(off, `${from} to ${to} at ${k}`).toBeLessThan(close * width ** 2);
      }
    }
  });

  it.each([1e-3, 1, 1e5])('is least where it is sought, from %f on', (start) => {
    const risk = (s: number) => exact(s).risk;
    const chosen = smoothingOfLeastRisk(problem, energy, { start, width: 0.3, accuracy: null });
    for (const factor of [0.2, 0.5, 2, 5]) {
      expect(risk(chosen)).toBeLessThan(risk(factor * chosen));
    }
  });
});
