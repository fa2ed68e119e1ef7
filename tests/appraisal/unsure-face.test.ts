import { describe, expect, it } from 'vitest';
import { groundQuality } from '../../src/appraisal/ground-quality.js';
import { H, HX, HY, type Surface } from '../../src/surface/surface.js';
import { circleRing } from '../surface/analytic.js';

const RADIUS = 9;
const outline = circleRing(RADIUS);

/** Two shelves of 2 % that fall to the right, and a face between them, |y| < `half`, of another grade and doubt. */
const shelves = (half: number, face: { readonly grade: number; readonly sd: number }): Surface => {
  const isFace = (y: number): boolean => Math.abs(y) < half;
  const sdAt = (y: number): number => (isFace(y) ? face.sd : 0.002);
  return {
    outline,
    collar: 2,
    box: { minX: -11, minY: -11, maxX: 11, maxY: 11 },
    at: (_x, y, jet) => {
      jet.fill(0);
      jet[H] = 0;
      jet[HX] = -0.02;
      jet[HY] = isFace(y) ? -face.grade : 0;
    },
    trust: {
      heightSd: () => 0.001,
      gradientCovariance: (_x, y, out) => out.set([sdAt(y) ** 2, 0, sdAt(y) ** 2]),
      functionalVariance: (q) => {
        let sd = 0;
        for (let k = 0; k < q.length; k += 4) {
          sd += sdAt(q[k + 1]) * Math.hypot(q[k + 2], q[k + 3]);
        }
        return sd * sd;
      },
      heightDraws: () => () => new Float64Array(0),
    },
  };
};

describe('the face of a tier that its points do not tell', () => {
  it('is closed to putts, and the putts of the shelves are judged without it', () => {
    const told = groundQuality(shelves(1, { grade: 0.3, sd: 0.05 }));
    const area = told.unsure.length * 0.25;
    // A strip 2 m wide right across.
    expect(Math.abs(area - 4 * RADIUS)).toBeLessThan(3);
    for (const [, y] of told.unsure) expect(Math.abs(y)).toBeLessThan(1);
    // 15 m of aim for a unit of mean cross slope, each step of the way 0.002 off to the same side.
    expect(told.aimKnownTo).toBeCloseTo(1.96 * 15 * 0.002, 3);
  });

  it('is none where its grade is known, or where it is no steeper than a green', () => {
    expect(groundQuality(shelves(1, { grade: 0.3, sd: 0.004 })).unsure).toEqual([]);
    expect(groundQuality(shelves(1, { grade: 0.02, sd: 0.05 })).unsure).toEqual([]);
  });

  it('does not excuse a green that has hardly any other putts', () => {
    const told = groundQuality(shelves(3.5, { grade: 0.3, sd: 0.05 }));
    expect(told.unsure).toEqual([]);
    expect(told.aimKnownTo).toBeGreaterThan(0.5);
  });
});
