import { describe, expect, it } from 'vitest';
import { groundHeldBy, judgement } from '../accuracy/held.js';
import { instruments } from '../accuracy/instruments.js';
import { roughGreen } from '../accuracy/rough-greens.js';

const surveyed = (name: string, seed: number, k: number) => {
  const green = roughGreen(seed, k);
  return { green, survey: instruments.get(name)!(green, 100 * seed + k) };
};

describe('the face of a tier', () => {
  // Without its own doubt 0.89 of both greens.
  it.each([224_000, 224_003])('is doubted where points are 2 m apart, seed %i', (seed) => {
    const { green, survey } = surveyed('rover 2 m', seed, 7);
    expect(groundHeldBy(green, survey).grade).toBeGreaterThan(0.95);
  });

  it('has no more doubt than its heights leave where they are a metre apart', () => {
    const { green, survey } = surveyed('rover 1 m', 224_000, 2);
    const { aimRightTo } = judgement(survey, green).quality;
    // True to 33 mm.
    expect(aimRightTo).toBeGreaterThan(0.04);
    expect(aimRightTo).toBeLessThan(0.055);
  });
});
