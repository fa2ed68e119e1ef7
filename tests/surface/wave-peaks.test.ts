import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import { peaksOf } from '../../src/surface/wave-peaks.js';

describe('peaks of the powers of residuals', () => {
  const random = seeded(159000);
  const numbers = (of: () => number) => Float64Array.from({ length: 403 }, of);
  const x = numbers(() => 20 * random.uniform());
  const y = numbers(() => 20 * random.uniform());

  // To both sides of the x axis, and along each axis.
  it.each([
    [3.1, 2.2],
    [3.1, -2.2],
    [4.3, 0],
    [0, 2.9],
  ])('have the wave that runs along (%f, %f) highest, and not its mirror image', (kx, ky) => {
    const near = (a: { kx: number; ky: number }, bx: number, by: number): boolean =>
      Math.hypot(a.kx - bx, a.ky - by) < 0.08;
    for (const phase of [0, 1, Math.PI / 2, 2.5]) {
      const off = x.map((v, p) => Math.cos(kx * v + ky * y[p] + phase) + 0.2 * random.normal());
      const [first, ...others] = peaksOf({ x, y, off }, 1);
      expect(near(first, kx, ky) || near(first, -kx, -ky)).toBe(true);
      if (kx !== 0 && ky !== 0) expect(others.some((one) => near(one, kx, -ky))).toBe(false);
    }
  });
});
