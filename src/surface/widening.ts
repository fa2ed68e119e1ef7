import { boxOf, insideRing, type Ring } from '../geometry.js';
import { TWO_SIDED_95 } from './normal-distribution.js';
import { newPatch, placePatch } from './patch.js';
import type { Posterior, SharedDoubt } from './posterior.js';
import { unknownDraws } from './posterior-draws.js';
import { seededNormals, seedOf } from './seeded-normals.js';
import type { Trust } from './surface.js';

/**
 * Intervals of 95 % that are right place by place still miss much more than a twentieth of some greens: a green whose
 * ground hangs together over metres has few independent places, and the edge of a swath spoils a whole strip at once. What
 * is told is therefore widened until a green is expected to have most of its ground within: draws of the ground's error
 * tell by how much. What a survey is worth is judged by the standard deviations as they are.
 */

/**
 * Stiffness, smoothing and noise are learnt from the same points and then taken for given: what is told is so much wider
 * on any green. Set on the rough greens of seed 190000; from the air, where more of it is noise, on those of 200000 and 200001.
 */
const LEARNT = 1.1;
const LEARNT_FROM_AIR = 1.25;

/** Of a green this share shall lie within the intervals told ... */
const SHARE = 0.85;
/** ... in all but one survey of a hundred (2.326: one-sided, table of the normal distribution). */
const ONE_IN_A_HUNDRED = 2.326;
const DRAWS = 40;
/** Metres between the places that are looked at. */
const STEP = 1.5;

/** The draws' slopes at the places inside a ring, along x and then along y, and what one standard deviation is there. */
const slopesOver = ({ grid }: Posterior, ring: Ring, trust: Trust) => {
  const box = boxOf(ring);
  const patch = newPatch();
  const { ids, bx, by, dx, dy } = patch;
  const covariance = new Float64Array(3);
  const rows: { readonly ids: Int32Array; readonly weights: Float64Array; readonly sd: number }[] =
    [];
  for (let y = box.minY + STEP / 2; y < box.maxY; y += STEP) {
    for (let x = box.minX + STEP / 2; x < box.maxX; x += STEP) {
      if (!insideRing(ring, x, y) || !placePatch(grid, patch, x, y)) continue;
      trust.gradientCovariance(x, y, covariance);
      const at = ids.slice();
      const along = (b: Float64Array, d: Float64Array) =>
        Float64Array.from(at, (_, m) => (b[m & 3] * d[m >> 2]) / grid.step);
      rows.push({ ids: at, weights: along(dx, by), sd: Math.sqrt(covariance[0]) });
      rows.push({ ids: at, weights: along(bx, dy), sd: Math.sqrt(covariance[2]) });
    }
  }
  return rows;
};

/** Parts of the shared errors of which, of the edges of a swath, one is at work: that which the chances turn to. */
const partsAt =
  (turn: number) =>
  ({ count, edges }: SharedDoubt, normal: () => number): Float64Array => {
    const chances = edges ?? new Float64Array(0);
    const own = count - chances.length;
    const parts = new Float64Array(count);
    for (let c = 0; c < own; c++) parts[c] = normal();
    let sum = 0;
    const at = chances.findIndex((chance) => {
      sum += chance;
      return sum >= turn;
    });
    if (at >= 0) parts[own + at] = 1 / Math.sqrt(chances[at]);
    return parts;
  };

/** The reach, in standard deviations, that such a share of the sizes keeps within. */
const reachOf = (sizes: number[]): number => {
  sizes.sort((a, b) => a - b);
  return sizes[Math.ceil(SHARE * sizes.length) - 1];
};

/**
 * Factor by which intervals of 95 % are widened where they are told, so that grade and direction of fall hold
 * over a green and not on the average of many greens alone.
 *
 * @param sigma of the posterior; `trust`: the same posterior's. @param aerial whether the points were surveyed from the air.
 */
export const wideningOf = (
  posterior: Posterior,
  sigma: number,
  ring: Ring,
  trust: Trust,
  aerial: boolean,
): number => {
  const learnt = aerial ? LEARNT_FROM_AIR : LEARNT;
  const rows = slopesOver(posterior, ring, trust);
  if (rows.length === 0) return learnt;
  const normal = seededNormals(seedOf(Float64Array.from(ring.flat())));
  const draw = unknownDraws(posterior);
  const logs = Array.from({ length: DRAWS }, (_, k) => {
    // Edges by their chances, evenly.
    const w = draw(normal, partsAt((((k * 37) % DRAWS) + 0.5) / DRAWS));
    const sizes = rows.map(({ ids, weights, sd }) => {
      let error = 0;
      for (let m = 0; m < 16; m++) error += weights[m] * w[ids[m]];
      return (sigma * Math.abs(error)) / sd;
    });
    const alongX = reachOf(sizes.filter((_, row) => row % 2 === 0));
    const alongY = reachOf(sizes.filter((_, row) => row % 2 === 1));
    return Math.log(Math.max(alongX, alongY));
  });
  const mean = logs.reduce((sum, one) => sum + one, 0) / DRAWS;
  const sd = Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (DRAWS - 1));
  const reach = Math.exp(mean + ONE_IN_A_HUNDRED * sd);
  return learnt * (Number.isFinite(reach) ? Math.max(1, reach / TWO_SIDED_95) : 1);
};
