import { describe, expect, it } from 'vitest';
import { atDepth } from '../depth.js';
import { ownEnds, recorded, SEEDS } from './pour-grass.js';

/**
 * Against r.drain of GRASS GIS (the file names version and command) on random greens. Its way goes from cell to one of
 * eight neighbours, so that it strays by up to 22.5 degrees where the ground is even: the grid is laid in three
 * directions, and the nearest of three ends counts. It stops where ours fills a hollow and runs over.
 */
describe('where poured water ends, against r.drain', () => {
  it('is the same place to 1.5 m in nine of ten pours', { tags: 'deep' }, () => {
    const { ends } = recorded();
    const seeds = SEEDS.slice(0, atDepth(1, SEEDS.length));
    const off = seeds.flatMap((seed) =>
      ownEnds(seed).map(({ leaving, met }, k) => {
        const own = met.find(({ kind }) => kind === 'hollow') ?? leaving!;
        return Math.min(
          ...ends[seed].map((turn) => Math.hypot(turn[k][0] - own.at[0], turn[k][1] - own.at[1])),
        );
      }),
    );
    expect(off.filter((one) => one < 1.5).length / off.length).toBeGreaterThanOrEqual(0.9);
    off.sort((a, b) => a - b);
    expect(off[Math.floor(off.length / 2)]).toBeLessThan(0.75);
  });
});
