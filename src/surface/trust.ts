import { type Factor, factorFrom } from './factor.js';
import type { KnotGrid } from './knot-grid.js';
import { newPatch, type Patch, placePatch, type SlopeForm, slopeForm } from './patch.js';
import type { Posterior, SharedDoubt } from './posterior.js';
import { drawsAt } from './posterior-draws.js';
import { NEIGHBOURS } from './stencil.js';
import type { EdgeDoubt, Trust } from './surface.js';

/**
 * The part of the inverse that the basis functions of one cell meet in, 16 by 16; kept until another cell is asked for,
 * since fields are asked point after point.
 */
const cellInverse = ({ grid, factor }: Posterior): ((patch: Patch) => Float64Array) => {
  const { back, places } = grid.stencil;
  const local = new Float64Array(256);
  let known: Float64Array | null = null;
  let of = -1;
  return ({ cell, ids }) => {
    if (cell === of) return local;
    known ??= factorFrom(grid.envelope, factor).inverseAt(places);
    for (let m = 0; m < 16; m++) {
      for (let n = 0; n < 16; n++) {
        const by = back[16 * m + n];
        local[16 * m + n] = known[by >= 0 ? NEIGHBOURS * ids[m] + by : NEIGHBOURS * ids[n] - by];
      }
    }
    of = cell;
    return local;
  };
};

/** Sets `out` to a matrix of 16 rows times a vector. */
const timesCell = (local: Float64Array, a: Float64Array, out: Float64Array): void => {
  for (let m = 0; m < 16; m++) {
    let s = 0;
    for (let n = 0; n < 16; n++) s += local[16 * m + n] * a[n];
    out[m] = s;
  }
};

const dot = (a: Float64Array, b: Float64Array): number => {
  let s = 0;
  for (let m = 0; m < 16; m++) s += a[m] * b[m];
  return s;
};

/** a' F F' b for weights of the basis functions of one patch. */
const sharedForm = (
  shared: SharedDoubt | null,
  ids: Int32Array,
  a: Float64Array,
  b: Float64Array,
): number => {
  if (shared === null || shared.count === 0) return 0;
  const { count, spreading } = shared;
  let s = 0;
  for (let c = 0; c < count; c++) {
    let fa = 0;
    let fb = 0;
    for (let m = 0; m < 16; m++) {
      const f = spreading[ids[m] * count + c];
      fa += a[m] * f;
      fb += b[m] * f;
    }
    s += fa * fb;
  }
  return s;
};

/** F'w. */
const sharedParts = (
  { count, spreading }: SharedDoubt,
  { places, weights }: SlopeForm,
): Float64Array => {
  const own = new Float64Array(count);
  for (let k = 0; k < places.length; k++) {
    const row = places[k] * count;
    for (let c = 0; c < count; c++) own[c] += weights[k] * spreading[row + c];
  }
  return own;
};

/** |F'w|^2. */
const sharedPart = (shared: SharedDoubt | null, form: SlopeForm): number =>
  shared === null || shared.count === 0
    ? 0
    : sharedParts(shared, form).reduce((sum, value) => sum + value * value, 0);

/** For `Trust.edges`. */
const edgesOf = ({ grid, shared }: Posterior, sigma: number): EdgeDoubt | null => {
  if (shared === null || shared.edges.length === 0) return null;
  const { edges, count } = shared;
  return {
    chances: edges,
    parts(quadruples) {
      const asked = slopeForm(grid, quadruples);
      if (asked === null) return new Float64Array(edges.length);
      const parts = sharedParts(shared, asked).subarray(count - edges.length);
      return parts.map((part) => sigma * part);
    },
  };
};

/**
 * Posterior covariance of the fit as a Bayesian reading of the penalty has it: sigma^2 (B'WB + S)^-1
 * (Wahba, J. R. Statist. Soc. B 45 (1983) 133-150; Nychka, J. Am. Statist. Assoc. 83 (1988)
 * 1134-1143). Its averages over the ground cover at their nominal rate, smoothing bias included.
 *
 * `factor` is the Cholesky factor of B'WB + S. The part of the inverse in the envelope holds all pairs of
 * basis functions that meet on a cell, so that values at a point take constant time; it is computed
 * at the first one that is asked.
 * Past outline and collar nothing is known: the answer there is Infinity.
 */
export const posteriorTrust = (
  grid: KnotGrid,
  factor: Float64Array,
  sigma: number,
  shared: SharedDoubt | null = null,
): Trust => {
  const posterior: Posterior = { grid, factor, shared };
  const { step } = grid;
  const variance = sigma * sigma;
  const offset = shared === null ? 0 : shared.offset * shared.offset;
  const inverse = cellInverse(posterior);
  const patch = newPatch();
  const { ids, bx, by, dx, dy } = patch;
  const [p, q, own] = [new Float64Array(16), new Float64Array(16), new Float64Array(16)];
  let held: Factor | null = null;
  return {
    edges: edgesOf(posterior, sigma),
    heightSd(x, y) {
      if (!placePatch(grid, patch, x, y)) return Infinity;
      for (let m = 0; m < 16; m++) p[m] = bx[m & 3] * by[m >> 2];
      timesCell(inverse(patch), p, own);
      return Math.sqrt(variance * (dot(p, own) + sharedForm(shared, ids, p, p)) + offset);
    },
    gradientCovariance(x, y, out) {
      if (!placePatch(grid, patch, x, y)) {
        out[0] = Infinity;
        out[1] = 0;
        out[2] = Infinity;
        return;
      }
      for (let m = 0; m < 16; m++) {
        p[m] = (dx[m & 3] * by[m >> 2]) / step;
        q[m] = (bx[m & 3] * dy[m >> 2]) / step;
      }
      const local = inverse(patch);
      timesCell(local, p, own);
      out[0] = variance * (dot(p, own) + sharedForm(shared, ids, p, p));
      out[1] = variance * (dot(q, own) + sharedForm(shared, ids, p, q));
      timesCell(local, q, own);
      out[2] = variance * (dot(q, own) + sharedForm(shared, ids, q, q));
    },
    functionalVariance(quadruples) {
      const asked = slopeForm(grid, quadruples);
      if (asked === null) return Infinity;
      held ??= factorFrom(grid.envelope, factor);
      return variance * (sharedPart(shared, asked) + held.formOf(asked.places, asked.weights));
    },
    heightDraws: (points) => drawsAt(posterior, sigma, points),
  };
};
