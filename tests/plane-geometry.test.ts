import { describe, expect, it } from 'vitest';
import {
  boxOf,
  boxOfCoordinates,
  convexHull,
  growBox,
  insideRing,
  lengthOf,
  nearestOnSegment,
  type Ring,
  signedArea,
  signedDistanceToRing,
} from '../src/geometry.js';

/** An L of twelve square metres, counter-clockwise. */
const ell: Ring = [
  [0, 0],
  [4, 0],
  [4, 2],
  [2, 2],
  [2, 4],
  [0, 4],
];

describe('plane geometry', () => {
  it('counts areas counter-clockwise as positive', () => {
    expect(signedArea(ell)).toBe(12);
    expect(signedArea([...ell].reverse())).toBe(-12);
    expect(signedArea(ell.map(([x, y]) => [x + 1e6, y - 2e6]))).toBeCloseTo(12, 3);
  });

  it('tells inside from outside, in the notch too', () => {
    expect(insideRing(ell, 1, 3)).toBe(true);
    expect(insideRing(ell, 3, 1)).toBe(true);
    expect(insideRing(ell, 3, 3)).toBe(false);
    expect(insideRing(ell, -0.1, 1)).toBe(false);
  });

  it('counts distances to an edge as negative inside', () => {
    expect(signedDistanceToRing(ell, 1, 1)).toBeCloseTo(-1, 12);
    expect(signedDistanceToRing(ell, 3.5, 1)).toBeCloseTo(-0.5, 12);
    expect(signedDistanceToRing(ell, 3, 3)).toBeCloseTo(1, 12);
    expect(signedDistanceToRing(ell, -3, -4)).toBeCloseTo(5, 12);
  });

  it('finds the nearest place of a piece of line, its ends included', () => {
    expect(nearestOnSegment([0, 0], [4, 0], [1, 3])).toEqual([1, 0]);
    expect(nearestOnSegment([0, 0], [4, 0], [-2, 3])).toEqual([0, 0]);
    expect(nearestOnSegment([0, 0], [4, 0], [9, 3])).toEqual([4, 0]);
  });

  it('measures boxes, lengths and hulls', () => {
    const box = { minX: 0, minY: 0, maxX: 4, maxY: 4 };
    expect(boxOf(ell)).toEqual(box);
    expect(boxOfCoordinates([3, -1, 2], [5, 6, -7])).toEqual({
      minX: -1,
      minY: -7,
      maxX: 3,
      maxY: 6,
    });
    expect(growBox(box, 0.5)).toEqual({ minX: -0.5, minY: -0.5, maxX: 4.5, maxY: 4.5 });
    expect(lengthOf(ell)).toBe(4 + 2 + 2 + 2 + 2);
    const hull = convexHull([...ell, [1, 1], [2, 2]]);
    expect(Math.abs(signedArea(hull))).toBe(14);
    expect(new Set(hull.map(String))).toEqual(new Set(['0,0', '4,0', '4,2', '2,4', '0,4']));
  });
});
