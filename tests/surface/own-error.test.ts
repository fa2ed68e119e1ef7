import { describe, expect, it } from 'vitest';
import { ownError } from '../../src/surface/own-error.js';

describe('of a stated error, what a point has to itself', () => {
  // The deviation of a standard deviation of 400 free heights is 1 / sqrt(800) of it (chi-square).
  it('is no more than its points can have', () => {
    expect(ownError(0.013, 0.008, 400)).toBeCloseTo(0.008 / (1 - 2 / Math.sqrt(800)), 12);
    expect(ownError(0.008, 0.0078, 400)).toBe(0.008);
  });

  it('is all of it where the points are too few or too smooth to say', () => {
    expect(ownError(0.013, 0.008, 2)).toBe(0.013);
    expect(ownError(0.013, 0.004, 400)).toBe(0.013);
  });

  it('is taken from points that show half of it, and no less', () => {
    expect(ownError(0.02, 0.0099, 400)).toBe(0.02);
    expect(ownError(0.02, 0.0101, 400)).toBeCloseTo(0.0101 / (1 - 2 / Math.sqrt(800)), 12);
  });

  it('is never under what the points show, however few are free', () => {
    for (const free of [1, 2, 3, 5, 20, 400]) {
      const own = ownError(0.02, 0.015, free);
      expect(own).toBeGreaterThanOrEqual(0.015);
      expect(own).toBeLessThanOrEqual(0.02);
    }
    expect(ownError(0.02, 0.015, 20)).toBeCloseTo(0.02, 12);
  });
});
