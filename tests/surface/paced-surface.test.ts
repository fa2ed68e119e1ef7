import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import type { Point } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import { H, HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import type { PacedReadings } from '../../src/survey/survey.js';

const OUTLINE = Array.from({ length: 48 }, (_, k): Point => {
  const a = (2 * Math.PI * k) / 48;
  return [9 * Math.cos(a), 10 + 9 * Math.sin(a)];
});
const PLACES: Point[] = [2, 6, 10, 14, 18].flatMap((y) => [-6, -2, 2, 6].map((x): Point => [x, y]));
/** A plane that rises two per cent along y and falls one along x, with a shallow bowl. */
const truth = (x: number, y: number): readonly [h: number, hx: number, hy: number] => [
  3 - 0.01 * x + 0.02 * y + 0.0006 * (x * x + (y - 10) ** 2),
  -0.01 + 0.0012 * x,
  0.02 + 0.0012 * (y - 10),
];

const fitted = (how: 'heights' | 'falls', seed: number, spoilt = -1) => {
  const random = seeded(seed);
  const of = (values: readonly number[]): Float64Array => Float64Array.from(values);
  const at = PLACES.map(([x, y]) => truth(x, y));
  const slope = (g: number, k: number): number =>
    (k === spoilt ? -1 : 1) * g + 0.002 * random.normal();
  const paced: PacedReadings = {
    ...{ placeSd: 0.3, heightSd: 0.005, strideSd: 0.02 },
    walked: { x: of(PLACES.map(([x]) => x)), y: of(PLACES.map(([, y]) => y)) },
    falls:
      how === 'heights'
        ? null
        : {
            x: of(at.map((one, k) => slope(one[1], k))),
            y: of(at.map((one, k) => slope(one[2], k))),
            ...{ gradeSd: 0.003, turnSd: 0.1, sightSd: 0.03 },
          },
  };
  const high = (h: number, k: number): number =>
    h + (k === spoilt ? 0.3 : 0) + 0.004 * random.normal();
  const z = of(at.map((one, k) => high(one[0], k)));
  return fitSurface({
    ...{ x: of(PLACES.map(([x]) => x)), y: of(PLACES.map(([, y]) => y)), z },
    ...{ outline: OUTLINE, kind: 'points', paced },
  });
};

describe('ground of places by hand', { tags: 'long' }, () => {
  const jet = new Float64Array(JET_SIZE);
  const covariance = new Float64Array(3);

  it.each(['heights', 'falls'] as const)(
    'of %s is what was there, and known to what it says',
    (how) => {
      const { surface, stored } = fitted(how, 155_090);
      for (const [x, y] of [
        [0, 10],
        [4, 4],
        [-4, 16],
        [0, 8],
      ]) {
        const [, hx, hy] = truth(x, y);
        surface.at(x, y, jet);
        surface.trust!.gradientCovariance(x, y, covariance);
        for (const [got, want, variance] of [
          [jet[HX], hx, covariance[0]],
          [jet[HY], hy, covariance[2]],
        ]) {
          expect(Math.abs(got - want)).toBeLessThan(0.006);
          expect(Math.abs(got - want)).toBeLessThan(3 * Math.sqrt(variance));
          expect(Math.sqrt(variance)).toBeLessThan(0.01);
        }
      }
      // Stored and brought back it is the same, doubt and all.
      const again = surfaceOfStored(stored);
      surface.at(1, 9, jet);
      const height = jet[H];
      again.at(1, 9, jet);
      expect(jet[H]).toBe(height);
      expect(again.trust!.heightSd(1, 9)).toBe(surface.trust!.heightSd(1, 9));
    },
  );

  it('is less known between places that stand far apart, and beyond them', () => {
    const { trust } = fitted('heights', 155_092).surface;
    const at = (x: number, y: number): number => {
      trust!.gradientCovariance(x, y, covariance);
      return covariance[0] + covariance[2];
    };
    expect(at(8, 10)).toBeGreaterThan(1.5 * at(2, 10));
  });
});
