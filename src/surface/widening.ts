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

/** Slopes at places: the unknowns that each rests on, by which weights, sixteen each, and what one standard deviation is. */
interface Slopes {
  readonly ids: Int32Array;
  readonly weights: Float64Array;
  readonly sds: Float64Array;
}

const slopesOf = (ids: readonly number[], weights: readonly number[], sds: readonly number[]) => ({
  ids: Int32Array.from(ids),
  weights: Float64Array.from(weights),
  sds: Float64Array.from(sds),
});

/** The slopes at the places inside a ring, along x and along y. */
const slopesOver = ({ grid }: Posterior, ring: Ring, trust: Trust): Slopes[] => {
  const box = boxOf(ring);
  const patch = newPatch();
  const { ids, bx, by, dx, dy } = patch;
  const covariance = new Float64Array(3);
  const places: number[] = [];
  const [alongX, alongY]: [number[], number[]] = [[], []];
  const [sdX, sdY]: [number[], number[]] = [[], []];
  for (let y = box.minY + STEP / 2; y < box.maxY; y += STEP) {
    for (let x = box.minX + STEP / 2; x < box.maxX; x += STEP) {
      if (!insideRing(ring, x, y) || !placePatch(grid, patch, x, y)) continue;
      trust.gradientCovariance(x, y, covariance);
      for (let m = 0; m < 16; m++) {
        places.push(ids[m]);
        alongX.push((dx[m & 3] * by[m >> 2]) / grid.step);
        alongY.push((bx[m & 3] * dy[m >> 2]) / grid.step);
      }
      sdX.push(Math.sqrt(covariance[0]));
      sdY.push(Math.sqrt(covariance[2]));
    }
  }
  return [slopesOf(places, alongX, sdX), slopesOf(places, alongY, sdY)];
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

/** The reach, in standard deviations, that such a share of the slopes keeps within in a draw. */
const reachOf = ({ ids, weights, sds }: Slopes, drawn: Float64Array, sigma: number): number => {
  const sizes = new Float64Array(sds.length);
  for (let k = 0; k < sizes.length; k++) {
    let error = 0;
    for (let m = 16 * k; m < 16 * k + 16; m++) error += weights[m] * drawn[ids[m]];
    sizes[k] = (sigma * Math.abs(error)) / sds[k];
  }
  sizes.sort();
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
  const slopes = slopesOver(posterior, ring, trust);
  if (slopes[0].sds.length === 0) return learnt;
  const normal = seededNormals(seedOf(Float64Array.from(ring.flat())));
  const draw = unknownDraws(posterior);
  const logs = Array.from({ length: DRAWS }, (_, k) => {
    // Edges by their chances, evenly.
    const w = draw(normal, partsAt((((k * 37) % DRAWS) + 0.5) / DRAWS));
    return Math.log(Math.max(...slopes.map((along) => reachOf(along, w, sigma))));
  });
  const mean = logs.reduce((sum, one) => sum + one, 0) / DRAWS;
  const sd = Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (DRAWS - 1));
  const reach = Math.exp(mean + ONE_IN_A_HUNDRED * sd);
  return learnt * (Number.isFinite(reach) ? Math.max(1, reach / TWO_SIDED_95) : 1);
};
