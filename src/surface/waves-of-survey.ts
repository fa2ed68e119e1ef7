import type { Scatter } from './scatter.js';
import { likeliestEven, type SearchOptions, type searchShared } from './shared-search.js';
import { type FoundWave, waveHeight, wavesOver } from './wave-search.js';

/**
 * So many times what a drift or step gains must the clearest wave gain where waves are to stand for it: beside drifts of
 * 10 mm it was 1.2 at most, beside ripples walked along 1.8 or more (seeds 133511, 133513, 133516).
 */
const OUTDO = 1.5;

/**
 * Waves that are too short for a surface, where they tell more of the heights than what points share: rows walked along
 * a wave look like a drift, and a drift like waves. Of a grid none are looked for, since its cells share errors.
 */
export const wavesOf = (
  scatter: Scatter,
  search: SearchOptions,
  { ground, gain }: ReturnType<typeof searchShared>,
): FoundWave[] => {
  const even = ground.bent ? likeliestEven(scatter, search) : ground;
  const { grid, obs } = ground.problem;
  const spacing = Math.sqrt((grid.cells.length * grid.step * grid.step) / obs.count);
  const found = wavesOver(even, ground.bent ? ground : null, scatter, spacing);
  return 2 * found.gain > OUTDO * gain ? found.waves : [];
};

/** The points with the waves taken off their heights. */
export const withoutWaves = (scatter: Scatter, waves: readonly FoundWave[]): Scatter =>
  waves.length === 0
    ? scatter
    : {
        ...scatter,
        z: scatter.z.map((height, p) =>
          waves.reduce((left, wave) => left - waveHeight(wave, scatter.x[p], scatter.y[p]), height),
        ),
      };
