import { describe, expect, it } from 'vitest';
import { boxOf, growBox } from '../../src/geometry.js';
import { knotGrid } from '../../src/surface/knot-grid.js';
import { curvaturesAt, curvaturesOf } from '../../src/surface/local-stiffness.js';
import { completeCoefficients, splineSurface } from '../../src/surface/spline-surface.js';
import { survey } from './thin-plate.js';

describe('how a pilot bends at the middles of its cells', () => {
  it('is the same by its coefficients and by its polynomials', () => {
    const { outline } = survey;
    const box = growBox(boxOf(outline), 2);
    const grid = knotGrid(outline, 2, box, 0.8);
    const fitted = Float64Array.from({ length: grid.size }, (_, k) => Math.sin(1.7 * k + 0.3));
    const surface = splineSurface(
      grid,
      completeCoefficients(grid, fitted),
      { outline, collar: 2, box },
      null,
    );
    const want = curvaturesAt(grid, surface.at);
    const own = curvaturesOf(grid, fitted);
    expect(own.length).toBe(3 * grid.cells.length);
    for (let k = 0; k < own.length; k++) expect(own[k]).toBeCloseTo(want[k], 10);
  });
});
