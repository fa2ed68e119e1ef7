import { describe, expect, it } from 'vitest';
import type { Ring } from '../../src/geometry.js';
import { signedArea, signedDistanceToRing } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';
import { readGreen } from '../../src/terrain/read-green.js';
import { circleRing, plane, quadric, twoTier } from '../surface/analytic.js';
import { bumpySurface } from './random-green.js';

const square: Ring = [
  [-8, -8],
  [8, -8],
  [8, 8],
  [-8, 8],
];
const star: Ring = Array.from({ length: 40 }, (_, k) => {
  const a = (2 * Math.PI * k) / 40;
  const r = k % 2 === 0 ? 10 : 4;
  return [r * Math.cos(a), r * Math.sin(a)] as const;
});
const kidney: Ring = Array.from({ length: 120 }, (_, k) => {
  const a = (2 * Math.PI * k) / 120;
  const r = 9 + 5 * Math.cos(a) - 2.5 * Math.cos(2 * a);
  return [1.2 * r * Math.cos(a), r * Math.sin(a)] as const;
});
const strip: Ring = [
  [-0.8, -15],
  [0.8, -15],
  [0.8, 15],
  [-0.8, 15],
];
const bumps = [
  { amplitude: 0.2, x: -4, y: 3, radius: 3 },
  { amplitude: -0.15, x: 5, y: -3, radius: 2.5 },
];

/** Outlines on grid lines, through grid nodes, clockwise, deeply notched, tiny; ground dead level or very steep. */
const cases: readonly (readonly [string, Surface])[] = [
  ['dead level', plane(circleRing(8), 0, 0)],
  ['dead level, edges on grid lines', plane(square, 0, 0)],
  ['a plane, edges on grid lines', plane(square, 0, 0.02)],
  ['smaller than a green', plane(circleRing(1.2, 0, 0, 24), 0.02, 0.01)],
  ['given clockwise', quadric([...circleRing(8)].reverse(), -0.006, -0.004)],
  ['a star', plane(star, 0.01, 0.02)],
  ['a kidney with a mound and a hollow', bumpySurface(kidney, 0.01, 0.015, bumps)],
  ['level tiers', twoTier(square, 0.5, 0, 1)],
  ['a strip', plane(strip, 0.001, 0.02)],
  ['over 30 %', plane(circleRing(9), 0.3, 0.1)],
  ['level but for a mound', bumpySurface(circleRing(10), 0, 0, [{ ...bumps[0], radius: 1.5 }])],
  ['a trough', quadric(circleRing(9), 0.01, 0, 0.1, 0)],
  ['a roof', quadric(circleRing(9), -0.01, 0, 0.1, 0)],
];

describe.each(cases)('%s', (_name, surface) => {
  const reading = readGreen(surface);

  it('is covered once by its bands', () => {
    const rings = reading.bands.flatMap((band) => band.polygons).flat();
    expect(rings.reduce((sum, ring) => sum + signedArea(ring), 0)).toBeCloseTo(reading.area, 6);
  });

  it('drains by lines of sensible length that never rise and end on the edge or in a drain', () => {
    expect(reading.streams.filter((stream) => stream.main).length).toBe(1);
    for (const { points, mouth } of reading.streams) {
      expect(points.length).toBeGreaterThan(1);
      expect(points.length).toBeLessThan(400);
      for (let k = 1; k < points.length; k++) {
        expect(points[k][2]).toBeLessThanOrEqual(points[k - 1][2]);
      }
      const [x, y] = points[points.length - 1];
      if (mouth === 'edge') {
        expect(Math.abs(signedDistanceToRing(surface.outline, x, y))).toBeLessThan(1e-6);
      }
    }
  });

  it('has figures that are all numbers, and points on the green', () => {
    const bad = JSON.stringify(reading, (_key, value) =>
      typeof value === 'number' && Number.isNaN(value) ? 'NaN' : value,
    );
    expect(bad).not.toContain('NaN');
    for (const { at, onEdge } of reading.critical) {
      const d = signedDistanceToRing(surface.outline, ...at);
      if (onEdge) expect(Math.abs(d)).toBeLessThan(1e-6);
      else expect(d).toBeLessThan(1e-6);
    }
  });
});

describe('ground that is larger than any green', () => {
  /** Heights asked of a plane so wide by its reading. */
  const askedOf = (side: number): number => {
    let asked = 0;
    const ground = plane(
      [
        [0, 0],
        [side, 0],
        [side, side],
        [0, side],
      ],
      0.01,
      0.02,
    );
    const counted: Surface = {
      ...ground,
      at: (x, y, jet) => {
        asked++;
        return ground.at(x, y, jet);
      },
    };
    readGreen(counted);
    return asked;
  };

  it('is looked at in fewer places than its size asks for', () => {
    expect(askedOf(39)).toBeGreaterThan(3.5 * askedOf(19));
    expect(askedOf(70) / askedOf(39)).toBeLessThan(2);
  });
});
