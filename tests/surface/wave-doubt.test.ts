import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import type { Trust } from '../../src/surface/surface.js';
import { drawnWaves, withWaves } from '../../src/surface/wave-doubt.js';

describe('waves of the ground', () => {
  it('widen the doubt of height, grade and putt by what a wave of unknown crests has', () => {
    const exact: Trust = {
      heightSd: () => 0.003,
      gradientCovariance: (_x, _y, out) => out.fill(0),
      functionalVariance: () => 0,
      heightDraws: (points) => () => new Float64Array(points.length / 2),
    };
    const told = withWaves(exact, [{ kx: 6, ky: 0, size: 0.004 }]);
    // The mean square of a cosine is a half.
    expect(told.heightSd(1, 2)).toBeCloseTo(Math.hypot(0.003, 0.004 / Math.SQRT2), 12);
    const c = new Float64Array(3);
    told.gradientCovariance(1, 2, c);
    expect([...c]).toEqual([(0.004 ** 2 / 2) * 36, 0, 0]);
    // Half a wave along it, slopes cancel; along the crest nothing is told.
    const along = Float64Array.of(0, 0, 1, 0, Math.PI / 6, 0, 1, 0);
    expect(told.functionalVariance(along)).toBeCloseTo(0, 12);
    expect(told.functionalVariance(Float64Array.of(0, 0, 0, 1))).toBe(0);
    expect(told.functionalVariance(Float64Array.of(3, 1, 1, 0))).toBeCloseTo(c[0], 12);
    const random = seeded(56_120);
    const draw = told.heightDraws(Float64Array.of(0, 0, Math.PI / 6, 0));
    let square = 0;
    for (let k = 0; k < 2000; k++) {
      const [a, b] = draw(() => random.normal());
      expect(a + b).toBeCloseTo(0, 9);
      square += (a * a) / 2000;
    }
    expect(Math.sqrt(square)).toBeCloseTo(0.004 / Math.SQRT2, 3);
  });

  it('draw ground with the derivatives that it has, as high as the waves', () => {
    const random = seeded(56_121);
    const waves = [
      { kx: 4, ky: -3, size: 0.004 },
      { kx: 1, ky: 5, size: 0.002 },
    ];
    const add = drawnWaves(waves, () => random.normal());
    const at = (x: number, y: number): Float64Array => {
      const jet = new Float64Array(10);
      add(x, y, jet);
      return jet;
    };
    const d = 1e-5;
    const here = at(0.7, -0.4);
    const byX = at(0.7 + d, -0.4).map((v, k) => (v - at(0.7 - d, -0.4)[k]) / (2 * d));
    const byY = at(0.7, -0.4 + d).map((v, k) => (v - at(0.7, -0.4 - d)[k]) / (2 * d));
    // Of each value the places of its derivatives by x and y: h, hx, hy, hxx, hxy, hyy.
    const places = [
      [1, 2],
      [3, 4],
      [4, 5],
      [6, 7],
      [7, 8],
      [8, 9],
    ];
    places.forEach(([x, y], k) => {
      expect(here[x]).toBeCloseTo(byX[k], 6);
      expect(here[y]).toBeCloseTo(byY[k], 6);
    });
    let square = 0;
    for (let k = 0; k < 2000; k++) {
      const jet = new Float64Array(10);
      drawnWaves(waves, () => random.normal())(1, 2, jet);
      square += jet[0] ** 2 / 2000;
    }
    expect(Math.sqrt(square)).toBeCloseTo(Math.hypot(0.004, 0.002) / Math.SQRT2, 3);
  });
});
