import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import { bendingMatrix } from '../../src/surface/bending.js';
import { boundedKnotGrid } from '../../src/surface/knot-grid.js';
import { lineInformation } from '../../src/surface/line-information.js';
import { observe } from '../../src/surface/observations.js';
import { sharedInformation } from '../../src/surface/shared-errors.js';
import { problemOf, solveAt } from '../../src/surface/smoothing.js';
import { sideOf } from '../../src/surface/walk-steps.js';
import { circleRing } from './analytic.js';

describe('what points tell of a step along each of many lines', () => {
  it('is what they tell of each line looked at alone', () => {
    const random = seeded(153_070);
    const x = Float64Array.from({ length: 300 }, () => random.between(-6, 6));
    const y = Float64Array.from({ length: 300 }, () => random.between(-6, 6));
    const z = x.map((px) => 0.3 + 0.02 * px + 0.02 * random.normal());
    const outline = circleRing(5, 0, 0);
    const box = { minX: -6, minY: -6, maxX: 6, maxY: 6 };
    const grid = boundedKnotGrid({ outline, collar: 1, box, x, y }, 1.2);
    const obs = observe(grid, x, y, z);
    const weights = Float64Array.from({ length: obs.count }, () => random.between(0.2, 1));
    const problem = problemOf(grid, obs, weights);
    const { factor } = solveAt(problem, bendingMatrix(grid, null, 1), 0.5);
    const lines = [0, 0.7, 2.1].flatMap((angle) =>
      [-8.6, -8.5, -4, -3.9999, -1.5, 0.2, 3, 8.5].map((offset) => ({ angle, offset })),
    );
    const together = lineInformation({ problem, factor }, { x, y }, lines);
    const side = sideOf(x, y, lines);
    lines.forEach((_, k) => {
      const alone = sharedInformation(problem, factor, {
        count: 1,
        width: 1,
        columns: new Int32Array(x.length),
        shares: Float64Array.from(x.keys(), (p) => side(p, k)),
      });
      expect(together.information[k]).toBeCloseTo(alone.information[0], 8);
      expect(together.score[k]).toBeCloseTo(alone.score[0], 8);
    });
  });
});
