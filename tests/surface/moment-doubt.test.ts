import { describe, expect, it } from 'vitest';
import { otherMoments } from '../../src/surface/moment-doubt.js';
import type { TriedStep } from '../../src/surface/walk-steps.js';

const POINTS = 10;
const scatter = {
  x: Float64Array.from({ length: POINTS + 1 }, (_, p) => p),
  y: new Float64Array(POINTS + 1),
  z: new Float64Array(POINTS + 1),
} as Parameters<typeof otherMoments>[0];

const tried = (after: number, height: number, sd: number): TriedStep => ({
  after,
  height,
  sd,
  line: null,
  clear: Math.abs(height) / sd,
});

/** Bayes' rule by hand: marginal likelihood of a moment against no step, the height having a prior of 20 mm. */
const odds = (height: number, sd: number): number => {
  const variance = sd ** 2 + 0.02 ** 2;
  return (sd / Math.sqrt(variance)) * Math.exp(0.5 * height ** 2 * (1 / sd ** 2 - 1 / variance));
};

describe('the moment of a step in a walk', () => {
  it('is doubted by what the heights say of each, and of none', () => {
    const [first, second] = [tried(3, 0.012, 0.003), tried(7, -0.011, 0.003)];
    const found = otherMoments(scatter, POINTS, first, [first, second])!;
    const [a, b] = [odds(0.012, 0.003), odds(-0.011, 0.003)].map((one) => 0.15 * one);
    const chances = [b, 0.7].map((one) => one / (a + b + 0.7));
    // The step elsewhere, then none at all, each by its chance.
    const said = [0, 1]
      .map((c) => 1 / found.precision[c * found.count + c])
      .filter((chance) => chance > 0);
    expect(found.count).toBe(chances.filter((chance) => chance > 0.003).length);
    for (const [c, chance] of said.entries()) expect(chance).toBeCloseTo(chances[c], 6);
    // Between the two moments a step of the second kind lies lower, and what was taken off is still to be put back.
    const height = -Math.hypot(0.011 / (1 + 0.003 ** 2 / 0.02 ** 2), 1 / Math.hypot(1 / 0.003, 50));
    const share = (p: number): number => found.shares[found.count * p];
    expect(share(1)).toBeCloseTo(-height / 2 + 0.006, 6);
    expect(share(5)).toBeCloseTo(-height / 2 - 0.006, 6);
    expect(share(9)).toBeCloseTo(height / 2 - 0.006, 6);
    // Corners of breaklines were not walked.
    expect(share(POINTS)).toBeCloseTo(0, 9);
  });

  it('is taken for certain where it is beyond doubt', () => {
    const first = tried(3, 0.05, 0.003);
    expect(otherMoments(scatter, POINTS, first, [first, tried(7, 0.004, 0.003)])).toBeNull();
  });
});
