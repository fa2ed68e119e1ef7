import { describe, expect, it } from 'vitest';
import { trueGreens } from '../../course-data/vellamoor/truth.js';
import { fitSurface } from '../../src/surface/fit.js';
import { atDepth } from '../depth.js';
import { errorsOf, roverGround } from './demo-ground.js';

/** Seeds of the surveys of each green. */
const SEEDS = atDepth([421], [421], [421, 422]);
/** Smoothings that knowledge of the truth may choose from, over the automatic one. */
const FACTORS = atDepth([0.5, 2], [0.5, 2], [0.25, 0.5, 2]);

describe('the automatic smoothing', { tags: 'long' }, () => {
  const ids = trueGreens
    .map(({ id }) => id)
    .filter((id) => atDepth(id === '12', ['3', '9', '12', '14', '16'].includes(id), true));
  it.each(ids)('is within 15 per cent of the best on green %s', (id) => {
    const green = trueGreens.find((one) => one.id === id)!;
    const sums = { own: 0, best: 0 };
    for (const seed of SEEDS) {
      const ground = roverGround(green, seed);
      const { surface, report } = fitSurface(ground);
      const own = errorsOf(green, green.outline, surface.at).height;
      const others = FACTORS.map((factor) => {
        const other = fitSurface(ground, { smoothing: factor * report.smoothing });
        return errorsOf(green, green.outline, other.surface.at).height;
      });
      sums.own += own ** 2;
      sums.best += Math.min(own, ...others) ** 2;
    }
    expect(Math.sqrt(sums.own / sums.best)).toBeLessThan(1.15);
  });
});
