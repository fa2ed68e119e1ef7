import { hypotenuse, type Point } from '../geometry.js';
import { upperTail } from '../surface/normal-distribution.js';
import type { EdgeDoubt } from '../surface/surface.js';

/**
 * What share of a green is expected to be right. Where the edge of a swath may run along one of many lines the errors round
 * it are no normal ones: hardly any over most of the green, and large where it runs. So each line is judged for itself, and
 * what holds for nineteen in twenty of them, by their chances, is what is said.
 */

/** Greens are built to drain, with no ground under about half a degree (0.9 %): common practice, no source. */
export const LEVEL_GRADE = 0.009;

/** Of the ways in which an edge may run, so many are no worse than what is said. */
const NINETEEN_IN_TWENTY = 0.95;
const FOUR_IN_FIVE = 0.8;
/**
 * An edge spoils all putts of a strip at once, about as many as may be: the share is then asked with a standard error of it
 * more, that of the half hundred putts which are looked at for those which are played.
 */
const WITH_EDGE = 0.84;
/** Parts of a variance smaller than this do not change a share. */
const HARDLY = 0.02;

/** The error that a share of normal errors of these standard deviations is expected to keep within. */
const errorKeptBy = (sds: readonly number[], share: number): number => {
  if (sds.length === 0 || sds.some((sd) => !Number.isFinite(sd))) return Infinity;
  let low = 0;
  let high = 3 * Math.max(...sds);
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    const kept = sds.reduce(
      (sum, sd) => sum + (sd === 0 ? 1 : 1 - 2 * upperTail(middle / sd)) / sds.length,
      0,
    );
    if (kept < share) low = middle;
    else high = middle;
  }
  return high;
};

/** Unit normal errors of a gradient, each as likely as another: rings of equal chance, and turns on each. */
const RINGS = 16;
const TURNS = 16;
const errorAlong = (along: (turn: number) => number): Float64Array =>
  Float64Array.from({ length: RINGS * TURNS }, (_, k) => {
    const ring = Math.floor(k / TURNS);
    const radius = Math.sqrt(-2 * Math.log(1 - (ring + 0.5) / RINGS));
    const turn = (2 * Math.PI * ((k % TURNS) + (ring % 2) / 2)) / TURNS;
    return radius * along(turn);
  });
const [ERRORS_U, ERRORS_V] = [errorAlong(Math.cos), errorAlong(Math.sin)];

/** Chance that ground of this fitted gradient is truly over 0.9 %, and that it is so and falls as fitted to 45 degrees. */
const chancesOver = (gx: number, gy: number, covariance: ArrayLike<number>) => {
  const [xx, xy, yy] = [covariance[0], covariance[1], covariance[2]];
  const grade = hypotenuse(gx, gy);
  const a = Math.sqrt(xx);
  const b = a === 0 ? 0 : xy / a;
  const c = Math.sqrt(Math.max(0, yy - b * b));
  let over = 0;
  let right = 0;
  // By index: asked of all errors at all places.
  for (let k = 0; k < ERRORS_U.length; k++) {
    const tx = gx + a * ERRORS_U[k];
    const ty = gy + b * ERRORS_U[k] + c * ERRORS_V[k];
    const truth = hypotenuse(tx, ty);
    if (truth <= LEVEL_GRADE) continue;
    over += 1;
    if (gx * tx + gy * ty >= Math.SQRT1_2 * grade * truth) right += 1;
  }
  return { over: over / ERRORS_U.length, right: right / ERRORS_U.length };
};

/** The value that such a share of the chances does not pass. */
const weightedQuantile = (
  values: readonly number[],
  chances: Float64Array,
  share: number,
): number => {
  const order = Array.from(values.keys()).sort((a, b) => values[a] - values[b]);
  let sum = 0;
  for (const k of order) {
    sum += chances[k];
    if (sum >= share - 1e-9) return values[k];
  }
  return values[order[order.length - 1]];
};

/**
 * The error that four in five of the putts are expected to keep within, metres.
 *
 * @param sds of each putt's aim; `parts`, for each putt, what each edge adds (see `EdgeDoubt.parts`), in the same unit.
 */
export const aimRightTo = (
  sds: readonly number[],
  parts: readonly Float64Array[],
  edges: EdgeDoubt | null,
): number => {
  if (edges === null) return errorKeptBy(sds, FOUR_IN_FIVE);
  // All that is not the edges'.
  const own = sds.map((sd, k) => sd * sd - parts[k].reduce((sum, part) => sum + part * part, 0));
  const kept = Array.from(edges.chances, (chance, e) =>
    errorKeptBy(
      own.map((variance, k) => Math.sqrt(Math.max(0, variance) + parts[k][e] ** 2 / chance)),
      WITH_EDGE,
    ),
  );
  return weightedQuantile(kept, edges.chances, NINETEEN_IN_TWENTY);
};

/** Adds up, place by place, how much of the ground over 0.9 % is expected to fall as fitted. */
export const waysRight = (edges: EdgeDoubt | null) => {
  const count = edges?.chances.length ?? 1;
  const over = new Float64Array(count);
  const right = new Float64Array(count);
  const asked = new Float64Array(4);
  const partsBy = ([x, y]: Point, wx: number, wy: number): Float64Array => {
    asked.set([x, y, wx, wy]);
    return edges?.parts(asked) ?? asked;
  };
  const addTo = (e: number, chances: { over: number; right: number }): void => {
    over[e] += chances.over;
    right[e] += chances.right;
  };
  return {
    /** @param covariance of the gradient there, all edges in it. */
    add(place: Point, [gx, gy]: Point, covariance: Float64Array): void {
      if (edges === null) {
        addTo(0, chancesOver(gx, gy, covariance));
        return;
      }
      const [px, py] = [partsBy(place, 1, 0), partsBy(place, 0, 1)];
      const own = covariance.slice();
      px.forEach((part, e) => {
        own[0] -= part * part;
        own[1] -= part * py[e];
        own[2] -= py[e] * py[e];
      });
      const room = HARDLY * (own[0] + own[2]);
      const without = chancesOver(gx, gy, own);
      edges.chances.forEach((chance, e) => {
        const [u, v] = [px[e], py[e]];
        if (u * u + v * v <= room * chance) addTo(e, without);
        else {
          const more = [(u * u) / chance, (u * v) / chance, (v * v) / chance];
          addTo(
            e,
            chancesOver(
              gx,
              gy,
              own.map((value, c) => value + more[c]),
            ),
          );
        }
      });
    },
    /** 1 where less than `least` of the places are expected to be over 0.9 %. */
    share(least: number): number {
      const shares = Array.from(right, (value, e) => (over[e] < least ? 1 : value / over[e]));
      if (edges === null) return shares[0];
      return -weightedQuantile(
        shares.map((share) => -share),
        edges.chances,
        NINETEEN_IN_TWENTY,
      );
    },
  };
};
