import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import { surfaceOfStored } from '../../src/surface/stored-surface.js';
import { JET_SIZE } from '../../src/surface/surface.js';

const outline = Array.from({ length: 48 }, (_, i): Point => {
  const angle = (2 * Math.PI * i) / 48;
  return [6 * Math.cos(angle) * (1 + 0.2 * Math.sin(3 * angle)), 7 + 7 * Math.sin(angle)];
});
const SIDE = 24;
const x = Float64Array.from({ length: SIDE * SIDE }, (_, k) => -9 + (18 * (k % SIDE)) / SIDE);
const y = x.map((_, k) => -3 + (20 * Math.floor(k / SIDE)) / SIDE);
const z = x.map((v, k) => 0.02 * y[k] + 0.1 * Math.sin(v / 3) + 0.003 * Math.sin(71 * k));

describe('a stored surface', () => {
  const { surface, stored } = fitSurface({ x, y, z, outline });
  // What a file or another thread gives back.
  const again = surfaceOfStored(structuredClone(stored));

  it('comes back the same to the last bit, with its trust', () => {
    expect(again.outline).toEqual(surface.outline);
    expect([again.collar, again.box]).toEqual([surface.collar, surface.box]);
    const one = new Float64Array(JET_SIZE);
    const other = new Float64Array(JET_SIZE);
    const [c1, c2] = [new Float64Array(3), new Float64Array(3)];
    for (let i = 0; i < 400; i++) {
      const at: Point = [-9 + (18 * (i % 20)) / 20, -3 + (20 * Math.floor(i / 20)) / 20];
      surface.at(...at, one);
      again.at(...at, other);
      expect(other).toEqual(one);
      expect(again.trust!.heightSd(...at)).toBe(surface.trust!.heightSd(...at));
      surface.trust!.gradientCovariance(...at, c1);
      again.trust!.gradientCovariance(...at, c2);
      expect(c2).toEqual(c1);
    }
    const path = Float64Array.of(0, 5, 0.3, 0.1, 0.5, 6, 0.2, -0.4);
    expect(again.trust!.functionalVariance(path)).toBe(surface.trust!.functionalVariance(path));
  });

  it('is refused when its arrays do not fit its grid', () => {
    for (const key of ['coefficients', 'factor', 'live'] as const) {
      const short = { ...stored, [key]: stored[key].slice(1) };
      expect(() => surfaceOfStored(short), key).toThrow(RangeError);
    }
  });
});
