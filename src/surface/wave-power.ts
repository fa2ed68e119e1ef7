import { seededNormals } from './seeded-normals.js';
import { sharedInformation } from './shared-errors.js';
import { AT_95 } from './walk-steps.js';
import type { Wave } from './wave-doubt.js';
import { type Peak, peaksOf } from './wave-peaks.js';
import { CLEAR, LEAST_LEFT, type Look, type PointPlaces } from './wave-search.js';

/** What could have been found of waves in the ground that run in one direction. */
export interface WavePower {
  /** From crest to crest, metres. */
  readonly length: number;
  /** From trough to crest, metres: found with nineteen chances in twenty at three of four directions. */
  readonly height: number;
  /** Waves that meet the points at one and the same height everywhere, so that none would be seen however high. */
  readonly hidden: readonly Pick<Wave, 'kx' | 'ky'>[];
}

/** Waves of a metre are asked for, or of the points' spacing where that is more: shorter ones are not looked for. */
const LENGTH = 1;
const DIRECTIONS = 8;
const PLACES_OF_FOUR = 0.75;
/** So many points, taken at random, tell whether they all stand on a lattice; its clearest waves are looked at. */
const LATTICE_POINTS = 120;
const LATTICE_WAVES = 4;

/** Wave numbers that meet all points in nearly one phase: peaks of the points' own transform. */
const latticeOf = ({ x, y }: Look['left'], spacing: number): Peak[] => {
  const normal = seededNormals(x.length);
  const drawn = Float64Array.from(x, () => normal());
  const chosen = Array.from(x.keys())
    .sort((a, b) => drawn[a] - drawn[b])
    .slice(0, LATTICE_POINTS);
  const of = (v: Float64Array): Float64Array => Float64Array.from(chosen, (k) => v[k]);
  const off = new Float64Array(chosen.length).fill(1);
  return peaksOf({ x: of(x), y: of(y), off }, spacing).slice(0, LATTICE_WAVES);
};

/** Share of each wave's square that the ground leaves, by the phase of which it leaves least. */
const sharesLeft = (
  { problem, factor }: Look,
  { x, y }: PointPlaces,
  waves: readonly Pick<Wave, 'kx' | 'ky'>[],
): number[] => {
  const count = 2 * waves.length;
  const columns = Int32Array.from({ length: count * x.length }, (_, n) => n % count);
  const shares = new Float64Array(count * x.length);
  for (let p = 0; p < x.length; p++) {
    waves.forEach(({ kx, ky }, k) => {
      const phase = kx * x[p] + ky * y[p];
      shares[count * p + 2 * k] = Math.cos(phase);
      shares[count * p + 2 * k + 1] = Math.sin(phase);
    });
  }
  const { information } = sharedInformation(problem, factor, {
    count,
    width: count,
    columns,
    shares,
  });
  return waves.map((_, k) => {
    const at = 2 * k * count + 2 * k;
    const [a, b, d] = [information[at], information[at + 1], information[at + count + 1]];
    // The lesser eigenvalue; half of the points' weight where the ground takes nothing.
    const least = (a + d) / 2 - Math.hypot((a - d) / 2, b);
    return (2 * least) / problem.mass;
  });
};

/**
 * A wave of half height A over n points of variance s^2 gains A^2 n left / (4 s^2) in log likelihood; its root, twice
 * that, is nearly normal with unit deviation about what is expected (noncentral chi squared of two degrees).
 *
 * @param look the ground without the waves that were found.
 * @param spacing of neighbouring points, metres.
 */
export const wavePower = (look: Look, places: PointPlaces, spacing: number): WavePower => {
  const length = Math.max(LENGTH, spacing);
  const turned = Array.from({ length: DIRECTIONS }, (_, turn) => {
    const angle = (Math.PI * (turn + 0.5)) / DIRECTIONS;
    const k = (2 * Math.PI) / length;
    return { kx: k * Math.cos(angle), ky: k * Math.sin(angle) };
  });
  const lattice = latticeOf(look.left, spacing);
  const left = sharesLeft(look, places, [...turned, ...lattice]);
  const found = Math.sqrt(2 * CLEAR) + AT_95;
  const { mass } = look.problem;
  const heights = left
    .slice(0, DIRECTIONS)
    .map((share) =>
      share < LEAST_LEFT ? Infinity : 2 * found * Math.sqrt((2 * look.variance) / (mass * share)),
    )
    .sort((a, b) => a - b);
  return {
    length,
    height: heights[Math.floor(PLACES_OF_FOUR * (DIRECTIONS - 1))],
    hidden: lattice.filter((_, k) => left[DIRECTIONS + k] < LEAST_LEFT),
  };
};
