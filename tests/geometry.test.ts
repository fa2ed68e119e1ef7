import { describe, expect, it } from 'vitest';
import {
  distance,
  hypotenuse,
  insideRing,
  nearestOnSegment,
  type Point,
  simplifyLine,
} from '../src/geometry.js';
import { seededNormals } from '../src/surface/seeded-normals.js';

describe('simplifyLine', () => {
  const wave: Point[] = Array.from({ length: 400 }, (_, i) => [i / 20, Math.sin(i / 40)]);

  it('keeps every point within the tolerance of what is left, and both ends', () => {
    const thin = simplifyLine(wave, 0.01);
    expect(thin.length).toBeLessThan(60);
    expect(thin[0]).toEqual(wave[0]);
    expect(thin.at(-1)).toEqual(wave.at(-1));
    for (const p of wave) {
      const away = Math.min(
        ...thin.slice(1).map((b, i) => distance(p, nearestOnSegment(thin[i], b, p))),
      );
      expect(away).toBeLessThanOrEqual(0.01 + 1e-12);
    }
  });

  it('leaves a straight line its ends, and a corner its corner', () => {
    expect(
      simplifyLine(
        [
          [0, 0],
          [1, 0],
          [2, 0],
          [2, 1],
          [2, 2],
        ],
        1e-9,
      ),
    ).toEqual([
      [0, 0],
      [2, 0],
      [2, 2],
    ]);
  });

  it('keeps a closed line that comes back to its start', () => {
    const ring: Point[] = [
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
      [0, 0],
    ];
    expect(simplifyLine(ring, 0.1)).toEqual(ring);
  });
});

describe('insideRing', () => {
  // Crossings of a level ray, counted one by one (Shimrat, Comm. ACM 5 (1962) 434).
  const byCrossings = (ring: readonly Point[], x: number, y: number): boolean =>
    ring.filter(([x1, y1], i) => {
      const [x2, y2] = ring[(i + ring.length - 1) % ring.length];
      return y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1;
    }).length %
      2 ===
    1;

  it('answers the hundredth question about a ring as the first', () => {
    // A star whose points lie at whole numbers, so that questions fall on its corners and level edges, too.
    const star = Array.from({ length: 90 }, (_, i): Point => {
      const reach = 6 + 4 * Math.sin(7.3 * i);
      const angle = (i * Math.PI) / 45;
      return [Math.round(reach * Math.cos(angle)), Math.round(reach * Math.sin(angle))];
    });
    const wrong: Point[] = [];
    for (let y = -11; y <= 11; y += 0.25) {
      for (let x = -11; x <= 11; x += 0.5) {
        if (insideRing(star, x, y) !== byCrossings(star, x, y)) wrong.push([x, y]);
      }
    }
    expect(wrong).toEqual([]);
    expect(insideRing(star, Number.NaN, 0)).toBe(false);
    expect(insideRing(star, 0, Number.NaN)).toBe(false);
  });

  it('answers of a ring without height', () => {
    const flat = Array.from({ length: 40 }, (_, i): Point => [i, 0]);
    for (let i = 0; i < 40; i++) expect(insideRing(flat, i, 0)).toBe(false);
  });
});

describe('hypotenuse', () => {
  it('is what Math.hypot gives, to the bit, for small, large and no numbers', () => {
    const normal = seededNormals(201900);
    const sizes = [1e-200, 1e-9, 1, 1e9, 1e200];
    for (let k = 0; k < 5000; k++) {
      const [x, y] = [normal() * sizes[k % 5], normal() * sizes[(k * 7 + (k % 3)) % 5]];
      expect(hypotenuse(x, y)).toBe(Math.hypot(x, y));
    }
    const odd = [0, -0, 3, -4, Infinity, -Infinity, NaN, 5e-324, Number.MAX_VALUE];
    for (const x of odd) for (const y of odd) expect(hypotenuse(x, y)).toBe(Math.hypot(x, y));
  });
});
