import { distance, type Point } from '../geometry.js';

/** The fall measured at a place: the gradient of the ground there (rise a metre along x and y). */
export interface FallAt {
  readonly at: Point;
  readonly gradient: Point;
}

export interface HeightsOfFalls {
  /** Metres over the first place, one a place. */
  readonly heights: readonly number[];
  /** Standard deviation of a height against its neighbours, metres, honest about what was not measured. */
  readonly sigma: number;
  /**
   * How far the falls are from those of their neighbours' heights, beyond the level's own error, as a part of one: what
   * bends between the places.
   */
  readonly beyond: number;
}

/** A place is joined to so many of its nearest neighbours, in all directions. */
const NEIGHBOURS = 6;
/** How much the grade changes unseen over a metre between two places, one standard deviation (set, not measured). */
const UNSEEN = 0.0025;

/** Paces do not tell places apart that are nearer, metres: no step between two is known better. */
const APART = 0.1;

interface Join {
  readonly i: number;
  readonly k: number;
  readonly rise: number;
  readonly variance: number;
}

/** Each place with its nearest neighbours; the mean of two falls carries the height between them. */
const joinsOf = (falls: readonly FallAt[], gradeSigma: number): Join[] => {
  const joins = new Map<string, Join>();
  falls.forEach((fall, i) => {
    const near = falls
      .map((other, k) => ({ k, reach: distance(fall.at, other.at) }))
      .filter(({ k, reach }) => k !== i && reach > 0)
      .sort((a, b) => a.reach - b.reach || a.k - b.k)
      .slice(0, NEIGHBOURS);
    for (const { k, reach } of near) {
      const [a, b] = i < k ? [i, k] : [k, i];
      if (joins.has(`${a} ${b}`)) continue;
      const apart = Math.max(reach, APART);
      const [dx, dy] = [falls[b].at[0] - falls[a].at[0], falls[b].at[1] - falls[a].at[1]];
      const [ga, gb] = [falls[a].gradient, falls[b].gradient];
      joins.set(`${a} ${b}`, {
        i: a,
        k: b,
        rise: 0.5 * ((ga[0] + gb[0]) * dx + (ga[1] + gb[1]) * dy),
        variance: (apart * gradeSigma) ** 2 / 2 + (UNSEEN * apart * apart) ** 2 / 4,
      });
    }
  });
  return [...joins.values()];
};

/** Solves A x = b for a symmetric positive matrix, and gives the diagonal of its inverse (Cholesky). */
const solvedSymmetric = (a: number[][], b: number[]): { x: number[]; inverse: number[] } => {
  const n = b.length;
  const l = a.map((row) => [...row]);
  for (let j = 0; j < n; j++) {
    for (let k = 0; k < j; k++) for (let i = j; i < n; i++) l[i][j] -= l[i][k] * l[j][k];
    const root = Math.sqrt(Math.max(l[j][j], 1e-300));
    for (let i = j; i < n; i++) l[i][j] /= root;
  }
  const solve = (right: readonly number[]): number[] => {
    const y = [...right];
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < i; k++) y[i] -= l[i][k] * y[k];
      y[i] /= l[i][i];
    }
    for (let i = n - 1; i >= 0; i--) {
      for (let k = i + 1; k < n; k++) y[i] -= l[k][i] * y[k];
      y[i] /= l[i][i];
    }
    return y;
  };
  const inverse = Array.from({ length: n }, (_, i) => {
    const unit = new Array<number>(n).fill(0);
    unit[i] = 1;
    return solve(unit)[i];
  });
  return { x: solve(b), inverse };
};

/** The gradient of the plane through heights, by least squares; null where they lie on one line. */
const planeThrough = (places: readonly (readonly [x: number, y: number, z: number])[]) => {
  const n = places.length;
  const mean = (k: 0 | 1 | 2): number => places.reduce((sum, one) => sum + one[k], 0) / n;
  const [mx, my, mz] = [mean(0), mean(1), mean(2)];
  let [sxx, sxy, syy, sxz, syz] = [0, 0, 0, 0, 0];
  for (const [x, y, z] of places) {
    const [u, v, w] = [x - mx, y - my, z - mz];
    sxx += u * u;
    sxy += u * v;
    syy += v * v;
    sxz += u * w;
    syz += v * w;
  }
  const det = sxx * syy - sxy * sxy;
  return det < 1e-6 * sxx * syy
    ? null
    : ([(syy * sxz - sxy * syz) / det, (sxx * syz - sxy * sxz) / det] as const);
};

/** See `HeightsOfFalls.beyond`. */
const fallsBeyond = (
  falls: readonly FallAt[],
  heights: readonly number[],
  joins: readonly Join[],
  gradeSigma: number,
): number => {
  const near = falls.map((_, i) => joins.filter((one) => one.i === i || one.k === i));
  let [sum, count] = [0, 0];
  falls.forEach(({ gradient }, i) => {
    const around = [i, ...near[i].map((one) => (one.i === i ? one.k : one.i))];
    const plane = planeThrough(around.map((k) => [...falls[k].at, heights[k]] as const));
    if (plane === null) return;
    sum += (gradient[0] - plane[0]) ** 2 + (gradient[1] - plane[1]) ** 2;
    count += 2;
  });
  return Math.sqrt(Math.max(0, sum / Math.max(1, count) - gradeSigma ** 2));
};

/**
 * Heights from falls: between neighbours the height changes by the mean of their two falls, and all such
 * steps are made to agree by least squares (Southwell's geometry of slopes, J. Opt. Soc. Am. 70 (1980) 998;
 * quoted from memory). The error stated is that of the steps: of the level, and of what lies between the
 * places unseen; it grows where the steps disagree more than that.
 *
 * @param gradeSigma standard deviation of a measured grade, as a part of one.
 */
export const heightsOfFalls = (falls: readonly FallAt[], gradeSigma: number): HeightsOfFalls => {
  const n = falls.length;
  const joins = joinsOf(falls, gradeSigma);
  // The heights hang on the mean of all, loosely: only differences are known.
  const matrix = Array.from({ length: n }, () => new Array<number>(n).fill(1e-3));
  const right = new Array<number>(n).fill(0);
  for (const { i, k, rise, variance } of joins) {
    const w = 1 / variance;
    matrix[i][i] += w;
    matrix[k][k] += w;
    matrix[i][k] -= w;
    matrix[k][i] -= w;
    right[k] += w * rise;
    right[i] -= w * rise;
  }
  const { x, inverse } = solvedSymmetric(matrix, right);
  const misfit = joins.reduce(
    (sum, { i, k, rise, variance }) => sum + (x[k] - x[i] - rise) ** 2 / variance,
    0,
  );
  const freedom = joins.length - (n - 1);
  const stretch = freedom > 0 ? Math.max(1, Math.sqrt(misfit / freedom)) : 1;
  // The common level is no error of the shape.
  const level = 1 / (1e-3 * n * n);
  const mean = inverse.reduce((sum, one) => sum + Math.max(0, one - level), 0) / n;
  return {
    heights: x.map((one) => one - x[0]),
    sigma: stretch * Math.sqrt(mean),
    beyond: fallsBeyond(falls, x, joins, gradeSigma),
  };
};
