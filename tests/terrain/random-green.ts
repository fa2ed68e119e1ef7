import type { Ring } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, HX, HXX, HXY, HY, HYY } from '../../src/surface/surface.js';
import { analyticSurface } from '../surface/analytic.js';

/** Repeatable random numbers in [0, 1): mulberry32. */
export const randomFrom = (seed: number): (() => number) => {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** A round bump (or hollow): amplitude (m), centre, radius of its shoulder (m). */
export interface Bump {
  readonly amplitude: number;
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** h = ax + by + sum of Gaussian bumps. */
export const bumpySurface = (
  outline: Ring,
  ax: number,
  ay: number,
  bumps: readonly Bump[],
): Surface =>
  analyticSurface(outline, (x, y, jet) => {
    jet.fill(0);
    jet[H] = ax * x + ay * y;
    jet[HX] = ax;
    jet[HY] = ay;
    for (const bump of bumps) {
      const u = (x - bump.x) / bump.radius;
      const v = (y - bump.y) / bump.radius;
      const e = bump.amplitude * Math.exp(-(u * u + v * v) / 2);
      const r = bump.radius;
      jet[H] += e;
      jet[HX] -= (e * u) / r;
      jet[HY] -= (e * v) / r;
      jet[HXX] += (e * (u * u - 1)) / (r * r);
      jet[HXY] += (e * u * v) / (r * r);
      jet[HYY] += (e * (v * v - 1)) / (r * r);
    }
  });

/** A smooth star-shaped outline, counter-clockwise. */
export const randomOutline = (random: () => number, radius: number): Ring => {
  const waves = [2, 3, 4].map((k) => ({
    k,
    size: (0.16 * random()) / (k - 1),
    phase: 2 * Math.PI * random(),
  }));
  const n = 120;
  return Array.from({ length: n }, (_, i) => {
    const a = (2 * Math.PI * i) / n;
    let r = radius;
    for (const wave of waves) r += radius * wave.size * Math.cos(wave.k * a + wave.phase);
    return [r * Math.cos(a), r * Math.sin(a) + radius] as const;
  });
};

/** A smooth green such as is built: tilt of 0.5 to 3.5 %, four to nine bumps and hollows. */
export const randomGreen = (seed: number, meanRadius = 12): Surface => {
  const random = randomFrom(seed);
  const radius = meanRadius * (0.75 + 0.5 * random());
  const outline = randomOutline(random, radius);
  const tilt = 0.005 + 0.03 * random();
  const turn = 2 * Math.PI * random();
  const count = 4 + Math.floor(6 * random());
  const bumps = Array.from({ length: count }, () => {
    const size = 2.5 + 4 * random();
    return {
      amplitude: (random() - 0.5) * 0.16 * size * 0.5,
      x: (random() - 0.5) * 2.2 * radius,
      y: radius + (random() - 0.5) * 2.2 * radius,
      radius: size,
    };
  });
  return bumpySurface(outline, tilt * Math.cos(turn), tilt * Math.sin(turn), bumps);
};
