import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import { insideRing } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import { H, HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import { atDepth } from '../depth.js';
import { circleRing } from './analytic.js';

/** A plane of 2 % under 8 mm of noise a metre apart: that the points ask for no bend does not make it sure. */
const outline = circleRing(7);
const TILT = 0.02;

const planeSurveyed = (seed: number) => {
  const random = seeded(seed);
  const points: [number, number, number][] = [];
  for (let i = -9; i <= 9; i++) {
    for (let j = -9; j <= 9; j++) {
      const [x, y] = [i + 0.12 * random.normal(), j + 0.12 * random.normal()];
      if (Math.hypot(x, y) < 9) points.push([x, y, TILT * y + 0.008 * random.normal()]);
    }
  }
  const [x, y, z] = [0, 1, 2].map((k) => Float64Array.from(points, (p) => p[k]));
  return fitSurface({ x, y, z, outline, kind: 'points' }).surface;
};

describe('a dead plane', { tags: 'deep' }, () => {
  const seeds = Array.from({ length: atDepth(1, 8, 20) }, (_, k) => 56_200 + k);

  it('is known as ground of some twenty degrees of freedom, not as a plane of three', () => {
    const { trust } = planeSurveyed(56_199);
    let [square, count] = [0, 0];
    for (let x = -6.5; x < 7; x++) {
      for (let y = -6.5; y < 7; y++) {
        if (!insideRing(outline, x, y)) continue;
        square += trust!.heightSd(x, y) ** 2;
        count++;
      }
    }
    // Least squares: the mean variance of the fitted heights is that of a point times the degrees over the points.
    const degrees = (square / count / 0.008 ** 2) * (Math.PI * 9 ** 2);
    expect(degrees).toBeGreaterThan(14);
    expect(degrees).toBeLessThan(34);
  });

  it('has its true height and grade in their 95 % intervals', () => {
    let [worst, all] = [1, 0];
    for (const seed of seeds) {
      const { at, trust } = planeSurveyed(seed);
      const [jet, c] = [new Float64Array(JET_SIZE), new Float64Array(3)];
      let [count, heights, grades] = [0, 0, 0];
      for (let x = -6.5; x < 7; x++) {
        for (let y = -6.5; y < 7; y++) {
          if (!insideRing(outline, x, y)) continue;
          at(x, y, jet);
          trust!.gradientCovariance(x, y, c);
          count++;
          if (Math.abs(jet[H] - TILT * y) <= 1.96 * trust!.heightSd(x, y)) heights++;
          const [u, v] = [jet[HX], jet[HY]].map((g) => g / Math.hypot(jet[HX], jet[HY]));
          const sd = Math.sqrt(u * u * c[0] + 2 * u * v * c[1] + v * v * c[2]);
          if (Math.abs(Math.hypot(jet[HX], jet[HY]) - TILT) <= 1.96 * sd) grades++;
        }
      }
      worst = Math.min(worst, heights / count, grades / count);
      all += (heights + grades) / count / (2 * seeds.length);
    }
    // On a green of 14 m the greatest part of the error is that of a plane: all its places err together.
    expect(all).toBeGreaterThan(0.9);
    expect(worst).toBeGreaterThan(0.75);
  });
});
