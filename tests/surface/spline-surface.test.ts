import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOf, growBox, insideRing } from '../../src/geometry.js';
import { knotGrid } from '../../src/surface/knot-grid.js';
import { addPlane } from '../../src/surface/plane.js';
import { completeCoefficients, splineSurface } from '../../src/surface/spline-surface.js';
import { JET_SIZE } from '../../src/surface/surface.js';
import { circleRing } from './analytic.js';

const ring = circleRing(6, 1, 8);
const collar = 2;
const box = growBox(boxOf(ring), collar);
const grid = knotGrid(ring, collar, box, 0.9);
const bumpy = Float64Array.from({ length: grid.size }, (_, k) => Math.sin(12.9898 * k) * 0.2);
const surface = splineSurface(
  grid,
  completeCoefficients(grid, bumpy),
  { outline: ring, collar, box },
  null,
);

const jetAt = (x: number, y: number): Float64Array => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(x, y, jet);
  return jet;
};

/** Which entry of the jet is the derivative by x and by y of entry k. */
const BY_X = [1, 3, 4, 6, 7, 8];
const BY_Y = [2, 4, 5, 7, 8, 9];

describe('a spline surface', () => {
  it('gives derivatives that agree with differences, in the box and far outside it', () => {
    const e = 1e-5;
    fc.assert(
      fc.property(
        fc.double({ min: -30, max: 30, noNaN: true }),
        fc.double({ min: -20, max: 40, noNaN: true }),
        (x, y) => {
          const here = jetAt(x, y);
          const [e1, w1] = [jetAt(x + e, y), jetAt(x - e, y)];
          const [n1, s1] = [jetAt(x, y + e), jetAt(x, y - e)];
          for (let k = 0; k < 6; k++) {
            // The second derivatives have kinks at knots: there the difference is between both sides.
            const tolerance = 1e-4 * (1 + Math.hypot(x, y)) + (k > 2 ? 2 * Math.abs(e) : 0);
            const dx = (e1[k] - w1[k]) / (2 * e);
            const dy = (n1[k] - s1[k]) / (2 * e);
            const jumpX = k > 2 ? Math.abs(e1[BY_X[k]] - w1[BY_X[k]]) : 0;
            const jumpY = k > 2 ? Math.abs(n1[BY_Y[k]] - s1[BY_Y[k]]) : 0;
            expect(Math.abs(dx - here[BY_X[k]])).toBeLessThanOrEqual(tolerance + jumpX);
            expect(Math.abs(dy - here[BY_Y[k]])).toBeLessThanOrEqual(tolerance + jumpY);
          }
        },
      ),
      { numRuns: 500, seed: 3 },
    );
  });

  it('is continuous to the second derivative across every knot line, the box and beyond', () => {
    const e = 1e-9;
    for (let i = -4; i <= grid.nx + 4; i++) {
      const x = grid.x0 + i * grid.step;
      for (let y = -3; y < 20; y += 0.37) {
        const [a, b] = [jetAt(x - e, y), jetAt(x + e, y)];
        for (let k = 0; k < 6; k++) expect(Math.abs(a[k] - b[k])).toBeLessThan(1e-7);
      }
    }
  });

  it('reproduces a plane, with no curvature, everywhere', () => {
    const flat = new Float64Array((grid.nx + 3) * (grid.ny + 3));
    addPlane(grid, flat, [3, 0.02, -0.01]);
    const plane = splineSurface(grid, flat, { outline: ring, collar, box }, null);
    const jet = new Float64Array(JET_SIZE);
    for (const [x, y] of [
      [0, 0],
      [1, 8],
      [-40, 60],
      [7.3, 2.2],
    ]) {
      plane.at(x, y, jet);
      expect(jet[0]).toBeCloseTo(3 + 0.02 * x - 0.01 * y, 10);
      expect(jet[1]).toBeCloseTo(0.02, 10);
      expect(jet[2]).toBeCloseTo(-0.01, 10);
      for (let k = 3; k < JET_SIZE; k++) expect(jet[k]).toBeCloseTo(0, 8);
    }
  });

  it('fills the corners of the box without a cliff', () => {
    const level = new Float64Array(grid.size).fill(0.4);
    const filled = completeCoefficients(grid, level);
    for (const c of filled) expect(c).toBeCloseTo(0.4, 9);
    expect(insideRing(ring, box.minX, box.minY)).toBe(false);
  });
});
