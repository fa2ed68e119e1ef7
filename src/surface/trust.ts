import { basisSlopes, basisValues } from './bspline.js';
import { type Envelope, ROWS } from './envelope.js';
import { factorFrom } from './factor.js';
import type { KnotGrid } from './knot-grid.js';
import { NEIGHBOURS } from './stencil.js';
import type { EdgeDoubt, Trust } from './surface.js';

/** What errors that points have in common add to the doubt of the ground. */
export interface SharedDoubt {
  /** F of the covariance sigma^2 (A^-1 + F F'), row after row; see shared-errors.ts. */
  readonly spreading: Float64Array;
  /** Numbers a row of F. */
  readonly count: number;
  /** Standard deviation of an error that the whole green has in common, metres: of heights only. */
  readonly offset: number;
  /** Of the last columns of F, the chance that it is this one that is at work: see `EdgeDoubt`. */
  readonly edges: Float64Array;
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

/** Weights of the fit's unknowns in a sum of slopes: at each place a weight, which add up where places are the same. */
export interface SlopeForm {
  readonly places: Int32Array;
  readonly weights: Float64Array;
}

/** For (x, y, wx, wy) after one another: the sum of wx dh/dx + wy dh/dy. Null where a place is off the grid. */
export const slopeForm = (grid: KnotGrid, quadruples: Float64Array): SlopeForm | null => {
  const { step } = grid;
  const patch = newPatch();
  const { ids, bx, by, dx, dy } = patch;
  const places = new Int32Array(4 * quadruples.length);
  const weights = new Float64Array(4 * quadruples.length);
  let count = 0;
  for (let k = 0; k + 3 < quadruples.length; k += 4) {
    const wx = quadruples[k + 2] / step;
    const wy = quadruples[k + 3] / step;
    if (wx === 0 && wy === 0) continue;
    if (!placePatch(grid, patch, quadruples[k], quadruples[k + 1])) return null;
    for (let m = 0; m < 16; m++) {
      places[count] = ids[m];
      weights[count++] = wx * dx[m & 3] * by[m >> 2] + wy * bx[m & 3] * dy[m >> 2];
    }
  }
  return { places: places.subarray(0, count), weights: weights.subarray(0, count) };
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
  const { back, places } = grid.stencil;
  let known: Float64Array | null = null;
  return (ids: Int32Array, a: Float64Array, b: Float64Array): number => {
    known ??= factorFrom(grid.envelope, factor).inverseAt(places);
    const inverse = known;
    let s = 0;
    for (let m = 0; m < 16; m++) {
      for (let n = 0; n < 16; n++) {
        const by = back[16 * m + n];
        const at = by >= 0 ? NEIGHBOURS * ids[m] + by : NEIGHBOURS * ids[n] - by;
        s += a[m] * b[n] * inverse[at];
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
 * |L^-1 v|^2, v being zero before the block row `from`; v, whole block rows, is used up. Four rows at a time, whose sums
 * do not wait for one another: tables ask for it once a putt.
 */
const squareOfLower = (
  { first, base }: Envelope,
  l: Float64Array,
  v: Float64Array,
  from: number,
): number => {
  let square = 0;
  for (let i = ROWS * from; i < v.length; i += ROWS) {
    let p = v[i];
    let q = v[i + 1];
    let r = v[i + 2];
    let s = v[i + 3];
    let k = Math.max(first[i], ROWS * from);
    let at = base[i] + ROWS * k;
    for (; k < i; k++, at += ROWS) {
      const value = v[k];
      p -= l[at] * value;
      q -= l[at + 1] * value;
      r -= l[at + 2] * value;
      s -= l[at + 3] * value;
    }
    // The block of the diagonal, column after column.
    p /= l[at];
    q = (q - l[at + 1] * p) / l[at + 5];
    r = (r - l[at + 2] * p - l[at + 6] * q) / l[at + 10];
    s = (s - l[at + 3] * p - l[at + 7] * q - l[at + 11] * r) / l[at + 15];
    v[i] = p;
    v[i + 1] = q;
    v[i + 2] = r;
    v[i + 3] = s;
    square += p * p + q * q + r * r + s * s;
  }
  return square;
};

/** w' (A^-1 + F F') w; `room` takes a vector of whole block rows. */
const quadraticForm = (
  { grid, factor, shared }: Posterior,
  form: SlopeForm,
  room: Float64Array,
): number => {
  const { places, weights } = form;
  let least = room.length;
  room.fill(0);
  for (let k = 0; k < places.length; k++) {
    room[places[k]] += weights[k];
    if (places[k] < least) least = places[k];
  }
  // w' A^-1 w = |L^-1 w|^2.
  const own = squareOfLower(grid.envelope, factor, room, Math.floor(least / ROWS));
  return sharedPart(shared, form) + own;
};

/** Draws of the unknowns, of covariance A^-1 + F F': L'^-1 u + F v with u and v of unit normal numbers. */
export const unknownDraws = ({
  grid,
  factor,
  shared,
}: Posterior): ((normal: () => number) => Float64Array) => {
  const { solveUpper } = factorFrom(grid.envelope, factor);
  return (normal) => {
    const w = new Float64Array(grid.size);
    for (let i = 0; i < w.length; i++) w[i] = normal();
    solveUpper(w);
    if (shared !== null && shared.count > 0) addShared(shared, normal, w);
    return w;
  };
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
  const unknowns = unknownDraws(posterior);
  return (normal) => {
    const w = unknowns(normal);
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
  const room = new Float64Array(ROWS * Math.ceil(grid.size / ROWS));
  return {
    edges: edgesOf(posterior, sigma),
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
      return asked === null ? Infinity : variance * quadraticForm(posterior, asked, room);
    },
    heightDraws: (points) => drawsAt(posterior, sigma, points),
  };
};
