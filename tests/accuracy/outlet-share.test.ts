import { describe, expect, it } from 'vitest';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import type { Surface } from '../../src/surface/surface.js';
import { mainOutlets, SAME_OUTLET } from '../../src/terrain/water/main-outlet.js';
import { atDepth } from '../depth.js';
import { rover } from './instruments.js';
import { type RoughGreen, roughGreen } from './rough-greens.js';

// @module-tag long

const OPTIONS = { drains: [], shownDrainDepth: 0.05 };
const walk = rover({ spacing: 1, noise: 0.008 });
/** Few are enough for a share near 1; one near a half wants 200 for ten points, and a quarter of an hour a green. */
const SURVEYS = atDepth(0, 25, 200);
/** Of those, the ones whose own word on the share is asked. */
const ASKED = atDepth(0, 5, 20);
/** Seeds and greens, none used to tune; two outlets take turns on the last, as on few. */
const GREENS = atDepth(
  [[50_001, 0]],
  [[50_001, 0]],
  [...[0, 1, 2, 3].map((k) => [50_001, k]), [57_101, 7]],
) as [number, number][];

/** The stated share of the outlet at a place. */
const shareAt = (surface: Surface, [x, y]: readonly [number, number]): number =>
  mainOutlets(surface, OPTIONS).find(({ at }) => Math.hypot(at[0] - x, at[1] - y) <= SAME_OUTLET)
    ?.share ?? 0;

const sharesOf = (green: RoughGreen, seed: number) => {
  let found = 0;
  const said: number[] = [];
  let truth: readonly [number, number] | null = null;
  for (let k = 0; k < SURVEYS; k++) {
    const survey = walk(green, 100 * seed + k);
    const { surface } = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
    truth ??= mainOutlets({ ...surface, at: green.at, trust: null }, OPTIONS)[0].at;
    found += shareAt({ ...surface, trust: null }, truth) / SURVEYS;
    if (k < ASKED) said.push(shareAt(surface, truth));
  }
  const stated = said.reduce((sum, one) => sum + one, 0) / ASKED;
  const square = said.reduce((sum, one) => sum + (one - stated) ** 2, 0);
  return { found, stated, error: Math.sqrt(square / (ASKED * Math.max(1, ASKED - 1))) };
};

describe('the share of the main outlet', () => {
  // The mean of what some surveys state, beside the surveys of the true ground that lead there.
  it.each(GREENS)('is within ten points of the surveys, seed %i, green %i', (seed, k) => {
    const { found, stated, error } = sharesOf(roughGreen(seed, k), seed);
    console.log(
      `${seed} ${k}: found ${found.toFixed(3)}, stated ${stated.toFixed(3)} ± ${error.toFixed(3)}`,
    );
    // Few surveys are asked: twice the standard error of their mean besides.
    expect(Math.abs(found - stated)).toBeLessThanOrEqual(0.1 + 2 * error);
  });
});
