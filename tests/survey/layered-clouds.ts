import { seeded } from '../../course-data/vellamoor/random.js';
import type { FullPoint } from './laz14-writer.js';

/** Clouds that a coder finds easy (an even walk) or hard (noise in every value), of one or more scanner channels. */

interface Kind {
  readonly count: number;
  readonly noisy: boolean;
  readonly channels: number;
  /** The most returns of one pulse. */
  readonly returns: number;
  readonly seed: number;
}

const even = (k: number, [r, n]: readonly [number, number], channel: number): FullPoint => ({
  x: 600_000 + (k % 200) * 0.1,
  y: 250_000 + Math.floor(k / 200) * 0.2,
  z: 30 + 0.02 * (k % 200) - r,
  group: k % 5 === 0 ? 5 : 2,
  returns: [r, n],
  channel,
  intensity: 100,
  source: 7,
  time: 1.2e8 + k * 1e-5,
  colour: [256 * (k % 256), 256 * (k % 256), 256 * (k % 256), 9],
  own: [k % 256, 3],
});

export const layeredCloud = ({ count, noisy, channels, returns, seed }: Kind): FullPoint[] => {
  const random = seeded(seed).uniform;
  const below = (n: number): number => Math.floor(random() * n);
  const points: FullPoint[] = [];
  let time = 1.2e8;
  for (let k = 0; points.length < count; k++) {
    const n = 1 + below(returns);
    // Now and then another sequence of times, as where flight lines were merged.
    time += random() < 0.01 ? 1e5 * (random() - 0.5) : random() * 1e-4;
    for (let r = 1; r <= n && points.length < count; r++) {
      const plain = even(k, [r, n], below(channels));
      const noise: Partial<FullPoint> = {
        x: plain.x + 5 * random(),
        y: plain.y + 3 * random(),
        z: plain.z + random(),
        group: random() < 0.5 ? 2 : below(40),
        withheld: random() < 0.1,
        intensity: below(65_536),
        angle: below(2000) - 1000,
        user: below(256),
        source: random() < 0.1 ? below(65_536) : 7,
        time,
        colour: [0, 0, 0, 0].map(() => below(65_536)),
        own: [below(256), below(256)],
      };
      // See `layered-points`: what stands behind the point is coded for one channel.
      const still = channels > 1 ? { colour: [700, 700, 700, 700], own: [1, 2] } : {};
      points.push({ ...plain, ...(noisy ? noise : {}), ...still });
    }
  }
  return points;
};

/** The points that a reader of the ground takes. */
export const groundOf = (points: readonly FullPoint[]): FullPoint[] =>
  points.filter(({ group, withheld }) => group === 2 && !withheld);

const FORMATS = [6, 7, 8] as const;

/** Formats, ways of noise, channels, bytes of the maker's own. */
export const LAYERED_CASES = FORMATS.flatMap((format) =>
  [false, true].flatMap((noisy) =>
    [1, 4].flatMap((channels) =>
      [0, 2].map((ownBytes) => [format, noisy ? 'noisy' : 'even', channels, ownBytes] as const),
    ),
  ),
);
