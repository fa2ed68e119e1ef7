import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import { groundQuality } from '../../src/appraisal/ground-quality.js';
import { HX, HY, type Surface } from '../../src/surface/surface.js';

/** Even ground of a known gradient and doubt. */
const even = (grade: number, sd: number): Surface => ({
  outline: [
    [0, 0],
    [12, 0],
    [12, 12],
    [0, 12],
  ],
  collar: 2,
  box: { minX: -2, minY: -2, maxX: 14, maxY: 14 },
  at(_x, _y, jet) {
    jet.fill(0);
    jet[HX] = 0.6 * grade;
    jet[HY] = 0.8 * grade;
  },
  trust: {
    heightSd: () => 0,
    gradientCovariance(_x, _y, out) {
      out.set([sd * sd, 0, sd * sd]);
    },
    functionalVariance: () => 0,
    heightDraws: () => () => new Float64Array(0),
  },
});

/** Share of true gradients over 0.9 % that lie within 45 degrees of the fitted one, by 200,000 throws. */
const thrown = (grade: number, sd: number, seed: number): number => {
  const random = seeded(seed);
  let [over, right] = [0, 0];
  for (let k = 0; k < 200_000; k++) {
    const [along, across] = [grade + sd * random.normal(), sd * random.normal()];
    if (Math.hypot(along, across) <= 0.009) continue;
    over++;
    if (along >= Math.abs(across)) right++;
  }
  return right / over;
};

describe('the direction of fall of ground that is truly over 0.9 %', () => {
  it.each([
    [0.01, 0.004],
    [0.02, 0.01],
    [0.005, 0.004],
  ])('is right as often as by throws: fitted %f, doubted by %f', (grade, sd) => {
    const told = groundQuality(even(grade, sd)).directionRight;
    expect(Math.abs(told - thrown(grade, sd, 133_400))).toBeLessThan(0.015);
  });
});
