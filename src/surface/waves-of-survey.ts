import type { Scatter } from './scatter.js';
import { likeliestEven, type SearchOptions, type searchShared } from './shared-search.js';
import type { Wave } from './wave-doubt.js';
import { type WavePower, wavePower } from './wave-power.js';
import { type FoundWave, lookAt, waveHeight, wavesOver } from './wave-search.js';

/**
 * So many times what a drift or step gains must the clearest wave gain where waves are to stand for it: beside drifts of
 * 10 mm it was 1.2 at most, beside ripples walked along 1.8 or more (seeds 133511, 133513, 133516).
 */
const OUTDO = 1.5;

/** Waves of a survey's points. */
export interface SurveyWaves {
  /** Clear ones, to be taken off the heights. */
  readonly waves: readonly FoundWave[];
  /** One that is not clear and not excluded: it counts in the doubt alone, by the chance that it is there. */
  readonly possible: (Wave & { readonly chance: number }) | null;
  /** What could have been found; null where none were looked for. */
  readonly power: WavePower | null;
}

/** Of a grid none are looked for, since its cells share errors. */
export const NO_WAVES: SurveyWaves = { waves: [], possible: null, power: null };

/**
 * Waves that are too short for a surface, where they tell more of the heights than what points share: rows walked along
 * a wave look like a drift, and a drift like waves.
 */
export const wavesOf = (
  scatter: Scatter,
  search: SearchOptions,
  { ground, gain }: ReturnType<typeof searchShared>,
): SurveyWaves => {
  const even = ground.bent ? likeliestEven(scatter, search) : ground;
  const { grid, obs } = ground.problem;
  const spacing = Math.sqrt((grid.cells.length * grid.step * grid.step) / obs.count);
  const found = wavesOver(even, ground.bent ? ground : null, scatter, spacing);
  const outdone = (by: number): boolean => 2 * by <= OUTDO * gain;
  const waves = outdone(found.gain) ? [] : found.waves;
  const left = waves.length === found.waves.length ? found.left : lookAt(even, scatter);
  const { possible } = found;
  const doubted = possible !== null && !outdone(Math.min(found.gain || Infinity, possible.gain));
  return {
    waves,
    possible: doubted
      ? { kx: possible.kx, ky: possible.ky, size: possible.size, chance: possible.chance }
      : null,
    power: wavePower(left, scatter, spacing),
  };
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

/** A wave that may be there, as high as counts in the mean square of the ground's doubt. */
export const doubtOf = (possible: SurveyWaves['possible']): Wave[] =>
  possible === null
    ? []
    : [
        {
          kx: possible.kx,
          ky: possible.ky,
          size: possible.size * Math.sqrt(possible.chance),
        },
      ];
