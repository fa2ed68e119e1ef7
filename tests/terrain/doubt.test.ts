import { describe, expect, it } from 'vitest';
import { insideRing, signedArea, signedDistanceToRing } from '../../src/geometry.js';
import { upperTail } from '../../src/surface/normal-distribution.js';
import type { Surface, Trust } from '../../src/surface/surface.js';
import { chanceOfWrongWay } from '../../src/terrain/doubt.js';
import { readGreen } from '../../src/terrain/read-green.js';
import { circleRing, plane, quadric } from '../surface/analytic.js';
import { bumpySurface } from './random-green.js';

/**
 * Chance that a normal gradient error turns the fall by more than 45 degrees, by adding up the density of
 * the error over the plane (the definition, with none of the shortcuts of the program).
 */
const bySum = (hx: number, hy: number, xx: number, xy: number, yy: number): number => {
  const det = xx * yy - xy * xy;
  const grade = Math.hypot(hx, hy);
  const reach = 7 * Math.sqrt(Math.max(xx, yy));
  const parts = 700;
  const step = (2 * reach) / parts;
  let sum = 0;
  for (let i = 0; i < parts; i++) {
    for (let j = 0; j < parts; j++) {
      const ex = -reach + (i + 0.5) * step;
      const ey = -reach + (j + 0.5) * step;
      const gx = hx + ex;
      const gy = hy + ey;
      const cosine = (gx * hx + gy * hy) / (Math.hypot(gx, gy) * grade);
      if (cosine >= Math.SQRT1_2) continue;
      const q = (yy * ex * ex - 2 * xy * ex * ey + xx * ey * ey) / det;
      sum += Math.exp(-q / 2);
    }
  }
  return (sum * step * step) / (2 * Math.PI * Math.sqrt(det));
};

describe('the chance that the fall lies more than 45 degrees off', () => {
  /** Upper tail points of the standard normal as every statistical table has them. */
  it.each([
    [0, 0.5],
    [1.2816, 0.1],
    [1.6449, 0.05],
    [1.96, 0.025],
    [2.5758, 0.005],
    [-1.6449, 0.95],
  ])('tail beyond %d is %d', (z, tail) => {
    expect(Math.abs(upperTail(z) - tail)).toBeLessThan(1e-5);
  });

  it.each([
    [0.02, 0, 4e-5, 0, 4e-5],
    [0.01, 0.012, 9e-5, 0, 9e-5],
    [0.003, -0.002, 2e-5, 0, 2e-5],
  ])('is exact for a round error: gradient (%d, %d)', (hx, hy, xx, xy, yy) => {
    expect(Math.abs(chanceOfWrongWay(hx, hy, xx, xy, yy) - bySum(hx, hy, xx, xy, yy))).toBeLessThan(
      0.002,
    );
  });

  it.each([
    [0.02, 0, 4e-5, 1e-5, 1e-4],
    [0.015, 0.01, 2e-5, -1e-5, 8e-5],
    [-0.01, 0.02, 9e-5, 4e-5, 6e-5],
  ])('is close for an oblong one: gradient (%d, %d)', (hx, hy, xx, xy, yy) => {
    expect(Math.abs(chanceOfWrongWay(hx, hy, xx, xy, yy) - bySum(hx, hy, xx, xy, yy))).toBeLessThan(
      0.01,
    );
  });
});

describe('doubtful ground', () => {
  const sd = 0.004;
  const trust: Trust = {
    heightSd: () => 0.003,
    gradientCovariance: (_x, _y, out) => {
      out[0] = sd * sd;
      out[1] = 0;
      out[2] = sd * sd;
    },
    functionalVariance: () => 0,
    heightDraws: (points) => () => new Float64Array(points.length / 2),
  };
  const ring = circleRing(10, 0, 0, 120);
  const bend = 0.006;
  const surface: Surface = { ...quadric(ring, -bend, -bend, 1.1, 0.4), trust };
  const reading = readGreen(surface);
  /** 1 - (1 - Q(z))^2 = 0.05 at z = 1.9545, and z = grade / (sd sqrt 2). */
  const radius = (1.9545 * Math.SQRT2 * sd) / bend;

  it('is the disc round a top where the grade is too small for its error', () => {
    expect(reading.doubtful.length).toBe(1);
    const [outer] = reading.doubtful[0];
    for (const [x, y] of outer) {
      expect(Math.abs(Math.hypot(x - 1.1, y - 0.4) - radius)).toBeLessThan(0.05);
    }
    expect(signedArea(outer)).toBeCloseTo(Math.PI * radius * radius, 0);
  });

  it('has no fall arrow', () => {
    const [outer] = reading.doubtful[0];
    expect(reading.arrows.length).toBeGreaterThan(20);
    for (const { at } of reading.arrows) {
      expect(insideRing(outer, at[0], at[1]) && signedDistanceToRing(outer, ...at) < -0.05).toBe(
        false,
      );
    }
  });

  it('is the whole green where nothing is known well enough', () => {
    const level: Surface = { ...plane(ring, 0.0005, 0.0003), trust };
    const { doubtful } = readGreen(level);
    expect(doubtful.length).toBe(1);
    expect(doubtful[0].length).toBe(1);
    expect(signedArea(doubtful[0][0])).toBeCloseTo(signedArea(ring), 6);
  });

  it('is none on a surface known exactly', () => {
    expect(readGreen(quadric(ring, -bend, -bend)).doubtful).toEqual([]);
  });

  it('lets noise make no high point: a top that stands out less than its error is not shown', () => {
    const two = bumpySurface(ring, 0, 0, [
      { amplitude: 0.3, x: -5, y: 0, radius: 1.7 },
      { amplitude: 0.02, x: 5, y: 0, radius: 1.7 },
    ]);
    const tops = (heightSd: number | null): number =>
      readGreen({
        ...two,
        trust: heightSd === null ? null : { ...trust, heightSd: () => heightSd },
      }).critical.filter((point) => point.kind === 'high').length;
    expect(tops(null)).toBe(2);
    expect(tops(0.003)).toBe(2);
    expect(tops(0.008)).toBe(1);
  });
});
