import { basisSlopes, basisValues } from './bspline.js';
import { type Envelope, ROWS, selectedInverse, solveUpper } from './envelope.js';
import type { KnotGrid } from './knot-grid.js';
import type { Trust } from './surface.js';

/** What errors that points have in common add to the doubt of the ground. */
export interface SharedDoubt {
  /** F of the covariance sigma^2 (A^-1 + F F'), row after row; see shared-errors.ts. */
  readonly spreading: Float64Array;
  /** Numbers a row of F. */
  readonly count: number;
  /** Standard deviation of an error that the whole green has in common, metres: of heights only. */
  readonly offset: number;
}

const addShared = (
  { count, spreading }: SharedDoubt,
  normal: () => number,
  w: Float64Array,
): void => {
  const v = Float64Array.from({ length: count }, normal);
  for (let i = 0; i < w.length; i++) {
    for (let c = 0; c < count; c++) w[i] += spreading[i * count + c] * v[c];
  }
};

/** The 16 basis functions that meet at a point: their unknowns, and their 1-d values and slopes (in knots). */
interface Patch {
  readonly ids: Int32Array;
  readonly bx: Float64Array;
  readonly by: Float64Array;
  readonly dx: Float64Array;
  readonly dy: Float64Array;
}

const newPatch = (): Patch => ({
  ids: new Int32Array(16),
  bx: new Float64Array(4),
  by: new Float64Array(4),
  dx: new Float64Array(4),
  dy: new Float64Array(4),
});

/** Sets the patch at a point; false where no live cell holds it. */
const placePatch = (grid: KnotGrid, patch: Patch, x: number, y: number): boolean => {
  const { nx, ny, step, x0, y0, live, unknown } = grid;
  const u = (x - x0) / step;
  const v = (y - y0) / step;
  const i = Math.floor(u);
  const j = Math.floor(v);
  if (!(i >= 0 && j >= 0 && i < nx && j < ny) || live[j * nx + i] === 0) return false;
  basisValues(u - i, patch.bx);
  basisValues(v - j, patch.by);
  basisSlopes(u - i, patch.dx);
  basisSlopes(v - j, patch.dy);
  const mx = nx + 3;
  for (let m = 0; m < 16; m++) patch.ids[m] = unknown[(j + (m >> 2)) * mx + i + (m & 3)];
  return true;
};

/** Weights of the fit's unknowns in a sum of slopes; they are zero before `from`. */
export interface SlopeForm {
  readonly w: Float64Array;
  readonly from: number;
}

/** For (x, y, wx, wy) after one another: the sum of wx dh/dx + wy dh/dy. Null where a place is off the grid. */
export const slopeForm = (grid: KnotGrid, quadruples: Float64Array): SlopeForm | null => {
  const { size, step } = grid;
  const patch = newPatch();
  const { ids, bx, by, dx, dy } = patch;
  const w = new Float64Array(size);
  let from = size;
  for (let k = 0; k + 3 < quadruples.length; k += 4) {
    const wx = quadruples[k + 2] / step;
    const wy = quadruples[k + 3] / step;
    if (wx === 0 && wy === 0) continue;
    if (!placePatch(grid, patch, quadruples[k], quadruples[k + 1])) return null;
    for (let m = 0; m < 16; m++) {
      w[ids[m]] += wx * dx[m & 3] * by[m >> 2] + wy * bx[m & 3] * dy[m >> 2];
      if (ids[m] < from) from = ids[m];
    }
  }
  return { w, from };
};

/** The fit's unknowns: their covariance is A^-1 + F F', in units of the noise's variance. */
export interface Posterior {
  readonly grid: KnotGrid;
  /** Cholesky factor of A. */
  readonly factor: Float64Array;
  /** F, and what is beside it. */
  readonly shared: SharedDoubt | null;
}

/** a' (A^-1 + F F') b for weights of the basis functions of one patch. */
const patchForm = ({ grid, factor, shared }: Posterior) => {
  const { base } = grid.envelope;
  let known: Float64Array | null = null;
  return (ids: Int32Array, a: Float64Array, b: Float64Array): number => {
    known ??= selectedInverse(grid.envelope, factor);
    const inverse = known;
    let s = 0;
    for (let m = 0; m < 16; m++) {
      const row = ids[m];
      for (let n = 0; n < 16; n++) {
        const column = ids[n];
        s +=
          a[m] *
          b[n] *
          (column <= row ? inverse[base[row] + ROWS * column] : inverse[base[column] + ROWS * row]);
      }
    }
    if (shared === null || shared.count === 0) return s;
    const { count, spreading } = shared;
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
};

/** |F'w|^2, w being zero before `from`. */
const sharedPart = (shared: SharedDoubt | null, w: Float64Array, from: number): number => {
  if (shared === null || shared.count === 0) return 0;
  const { count, spreading } = shared;
  const own = new Float64Array(count);
  for (let i = from; i < w.length; i++) {
    const value = w[i];
    if (value === 0) continue;
    for (let c = 0; c < count; c++) own[c] += value * spreading[i * count + c];
  }
  return own.reduce((sum, value) => sum + value * value, 0);
};

/**
 * |L^-1 v|^2, v being zero before `from`; v is used up. As `solveLower`, but each row's sum in four parts that
 * do not wait for one another: tables ask for it once a putt.
 */
const squareOfLower = (
  { first, base }: Envelope,
  l: Float64Array,
  v: Float64Array,
  from: number,
): number => {
  let square = 0;
  for (let i = from; i < v.length; i++) {
    const row = base[i];
    let k = Math.max(first[i], from);
    let p = v[i];
    let q = 0;
    let r = 0;
    let s = 0;
    for (; k + 3 < i; k += 4) {
      p -= l[row + 4 * k] * v[k];
      q -= l[row + 4 * (k + 1)] * v[k + 1];
      r -= l[row + 4 * (k + 2)] * v[k + 2];
      s -= l[row + 4 * (k + 3)] * v[k + 3];
    }
    for (; k < i; k++) p -= l[row + 4 * k] * v[k];
    const u = (p + q + (r + s)) / l[row + 4 * i];
    v[i] = u;
    square += u * u;
  }
  return square;
};

/** w' (A^-1 + F F') w, w being zero before `from`; w is used up. */
const quadraticForm = (
  { grid, factor, shared }: Posterior,
  w: Float64Array,
  from: number,
): number => {
  const sharedSquare = sharedPart(shared, w, from);
  // w' A^-1 w = |L^-1 w|^2.
  return sharedSquare + squareOfLower(grid.envelope, factor, w, from);
};

/** A draw of the unknowns, of covariance A^-1 + F F': L'^-1 u + F v with u and v of unit normal numbers. */
export const drawUnknowns = (
  { grid, factor, shared }: Posterior,
  normal: () => number,
): Float64Array => {
  const w = Float64Array.from({ length: grid.envelope.size }, normal);
  solveUpper(grid.envelope, factor, w);
  if (shared !== null && shared.count > 0) addShared(shared, normal, w);
  return w;
};

/** For `Trust.heightDraws`. */
const drawsAt = (
  posterior: Posterior,
  sigma: number,
  points: Float64Array,
): ((normal: () => number) => Float64Array) => {
  const count = points.length / 2;
  const at = new Int32Array(16 * count).fill(-1);
  const values = new Float64Array(16 * count);
  const patch = newPatch();
  const { ids, bx, by } = patch;
  for (let k = 0; k < count; k++) {
    if (!placePatch(posterior.grid, patch, points[2 * k], points[2 * k + 1])) continue;
    at.set(ids, 16 * k);
    for (let m = 0; m < 16; m++) values[16 * k + m] = bx[m & 3] * by[m >> 2];
  }
  return (normal) => {
    const w = drawUnknowns(posterior, normal);
    const out = new Float64Array(count);
    for (let m = 0; m < at.length; m++) {
      if (at[m] >= 0) out[m >> 4] += sigma * values[m] * w[at[m]];
    }
    return out;
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
  const form = patchForm(posterior);
  const patch = newPatch();
  const { ids, bx, by, dx, dy } = patch;
  const p = new Float64Array(16);
  const q = new Float64Array(16);
  return {
    heightSd(x, y) {
      if (!placePatch(grid, patch, x, y)) return Infinity;
      for (let m = 0; m < 16; m++) p[m] = bx[m & 3] * by[m >> 2];
      return Math.sqrt(variance * form(ids, p, p) + offset);
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
      out[0] = variance * form(ids, p, p);
      out[1] = variance * form(ids, p, q);
      out[2] = variance * form(ids, q, q);
    },
    functionalVariance(quadruples) {
      const asked = slopeForm(grid, quadruples);
      return asked === null ? Infinity : variance * quadraticForm(posterior, asked.w, asked.from);
    },
    heightDraws: (points) => drawsAt(posterior, sigma, points),
  };
};
