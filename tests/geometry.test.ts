import { describe, expect, it } from 'vitest';
import { distance, nearestOnSegment, type Point, simplifyLine } from '../src/geometry.js';

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
