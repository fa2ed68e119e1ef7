import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { followFall, WALK } from '../../src/terrain/fall-line.js';
import { crossingsOf, exitOf, indexOutline } from '../../src/terrain/outline-index.js';
import { circleRing, quadric } from '../surface/analytic.js';

const square: Point[] = [
  [0, 0],
  [4, 0],
  [4, 4],
  [0, 4],
];

describe('the outline in its cells', () => {
  const index = indexOutline(square, { minX: 0, minY: 0, maxX: 4, maxY: 4 }, 0.5);

  it.each([
    ['front', [1, 1, 1.5, -1], { edge: 0, t: 0.3125 }, [1.25, 0], 0.5],
    ['right', [3, 1.3, 5, 1.9], { edge: 1, t: 0.4 }, [4, 1.6], 0.5],
    ['back', [3, 3, 3, 7], { edge: 2, t: 0.25 }, [3, 4], 0.25],
    // The last side runs back to the first corner.
    ['left', [1, 1, -1, 1], { edge: 3, t: 0.75 }, [0, 1], 0.5],
  ] as const)(
    'is crossed on its %s where the two lines meet',
    (_side, [px, py, qx, qy], place, point, along) => {
      const crossings = crossingsOf(index, px, py, qx, qy);
      expect(crossings.length).toBe(1);
      const [{ at }] = crossings;
      expect(at.edge).toBe(place.edge);
      expect(at.t).toBeCloseTo(place.t, 12);
      expect(crossings[0].point[0]).toBeCloseTo(point[0], 12);
      expect(crossings[0].point[1]).toBeCloseTo(point[1], 12);
      expect(crossings[0].along).toBeCloseTo(along, 12);
      expect(exitOf(index, px, py, qx, qy)).toEqual({ place: at, point: crossings[0].point });
    },
  );

  it.each([
    ['front', [1.2, 0, 1.2, -0.8], { edge: 0, t: 0.3 }],
    ['right', [4, 1.2, 4.8, 1.2], { edge: 1, t: 0.3 }],
    ['back', [2.8, 4, 2.8, 4.8], { edge: 2, t: 0.3 }],
    ['left', [0, 2.8, -0.8, 2.8], { edge: 3, t: 0.3 }],
  ] as const)('is left at once by a step out from its %s itself', (_s, [px, py, qx, qy], place) => {
    const exit = exitOf(index, px, py, qx, qy);
    expect(exit?.place.edge).toBe(place.edge);
    expect(exit?.place.t).toBeCloseTo(place.t, 6);
    expect(exit?.point[0]).toBeCloseTo(px, 6);
    expect(exit?.point[1]).toBeCloseTo(py, 6);
  });

  it('is crossed twice by a line through it, in order', () => {
    expect(crossingsOf(index, -1, 2, 5, 2).map(({ at }) => at.edge)).toEqual([3, 1]);
    expect(crossingsOf(index, 5, 2, -1, 2).map(({ at }) => at.edge)).toEqual([1, 3]);
    expect(crossingsOf(index, 1, 1, 3, 3)).toEqual([]);
  });
});

describe('a fall line', () => {
  it('shortens its steps where the ground turns: along a saddle x y stays constant', () => {
    const ring = circleRing(10, 0, 0, 720);
    const index = indexOutline(ring, { minX: -10, minY: -10, maxX: 10, maxY: 10 }, 0.5);
    const walk = followFall(quadric(ring, 0.006, -0.006), index, [8, 0.2], -1, {
      limits: { ...WALK, maxStep: 3, tolerance: 1e-5 },
    });
    expect(walk.end).toBe('edge');
    for (const [x, y] of walk.points) expect(Math.abs(x * y - 1.6)).toBeLessThan(0.003);
  });
});
