import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import type { Ring } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import { H, type Surface } from '../../src/surface/surface.js';
import { mainOutlets } from '../../src/terrain/water/main-outlet.js';

const OPTIONS = { drains: [], shownDrainDepth: 0.05 };
const circle = (radius: number): Ring =>
  Array.from({ length: 72 }, (_, k) => {
    const a = (2 * Math.PI * k) / 72;
    return [radius * Math.cos(a), radius * Math.sin(a)] as const;
  });

type Height = (x: number, y: number) => number;

const exact = (height: Height, radius = 9): Surface => ({
  outline: circle(radius),
  collar: 2,
  box: { minX: -12, minY: -12, maxX: 12, maxY: 12 },
  at: (x, y, jet) => {
    jet.fill(0);
    jet[H] = height(x, y);
  },
  trust: null,
});

/** A survey each metre of a green of 8 m, fitted. */
const fitted = (height: Height, noise: number, seed: number) => {
  const random = seeded(seed);
  const [x, y, z]: number[][] = [[], [], []];
  for (let i = -9; i <= 9; i++) {
    for (let j = -9; j <= 9; j++) {
      x.push(i);
      y.push(j);
      z.push(height(i, j) + noise * random.normal());
    }
  }
  const points = { x: Float64Array.from(x), y: Float64Array.from(y), z: Float64Array.from(z) };
  return fitSurface({ ...points, outline: circle(8) });
};
const surveyed = (height: Height, noise: number, seed: number): Surface =>
  fitted(height, noise, seed).surface;

/** A swale of a given width along y under a fall of 2 % to -y. */
const swale =
  (wide: number, deep: number): Height =>
  (x, y) =>
    0.02 * y - deep * Math.exp(-((x / (wide / 3)) ** 2));

/** Ground that falls both ways from y = 0, a swale on each side. */
const saddle: Height = (x, y) => 0.004 * x * x - 0.001 * y * y;

describe('main outlets', () => {
  it('keeps the outlet of a swale ten metres wide, and tells even ground by its missing valley', () => {
    const [held] = mainOutlets(exact(swale(10, 0.15)), OPTIONS);
    expect(held).toMatchObject({ kind: 'edge', share: 1, kept: 1, draws: 1 });
    expect(Math.hypot(held.at[0], held.at[1] + 9)).toBeLessThan(1);
    const [even] = mainOutlets(
      exact((_, y) => 0.02 * y),
      OPTIONS,
    );
    expect(even.kept).toBe(0);
  });

  it('counts a drain that takes all as an outlet', () => {
    const bowl: Height = (x, y) => 0.003 * (x * x + y * y);
    expect(mainOutlets(exact(bowl), { ...OPTIONS, drains: [[0, 0]] })[0]).toMatchObject({
      kind: 'drain',
      kept: 1,
    });
  });

  it('keeps a surveyed swale in nearly all draws, and gives the same ones again', {
    tags: 'long',
  }, () => {
    const surface = surveyed(swale(10, 0.15), 0.008, 40_001);
    const found = mainOutlets(surface, OPTIONS);
    expect(found[0].kept).toBeGreaterThan(0.9);
    expect(mainOutlets(surface, OPTIONS)).toEqual(found);
  });

  it('shows two outlets that take turns, each with its share', () => {
    const found = mainOutlets(surveyed(saddle, 0.03, 40_002), OPTIONS);
    expect(found.length).toBe(2);
    expect(found[0].at[1] * found[1].at[1]).toBeLessThan(0);
    for (const { share } of found) expect(share).toBeGreaterThanOrEqual(0.2);
  });

  it('draws heights that spread as the covariance says', () => {
    const { surface, stored } = fitted(swale(10, 0.15), 0.008, 40_003);
    // What the whole green has in common is in no draw.
    const offset = stored.shared?.offset ?? 0;
    const points = Float64Array.of(0, 0, 3, -4, 7.5, 0);
    const draw = surface.trust!.heightDraws(points);
    const random = seeded(40_004);
    const squares = [0, 0, 0];
    for (let k = 0; k < 400; k++) {
      draw(() => random.normal()).forEach((e, i) => {
        squares[i] += e * e;
      });
    }
    squares.forEach((sum, i) => {
      const whole = surface.trust!.heightSd(points[2 * i], points[2 * i + 1]);
      const sd = Math.sqrt(whole ** 2 - offset ** 2);
      // The standard error of a standard deviation from 400 numbers is 3.5 %.
      expect(Math.sqrt(sum / 400) / sd).toBeGreaterThan(0.87);
      expect(Math.sqrt(sum / 400) / sd).toBeLessThan(1.13);
    });
  });
});
