import { factorFrom } from './factor.js';
import { newPatch, placePatch } from './patch.js';
import type { Posterior, SharedDoubt } from './posterior.js';

/** Draws of the ground's error from what a survey leaves open. */

const addShared = ({ count, spreading }: SharedDoubt, v: Float64Array, w: Float64Array): void => {
  for (let i = 0; i < w.length; i++) {
    for (let c = 0; c < count; c++) w[i] += spreading[i * count + c] * v[c];
  }
};

const fillNormals = (w: Float64Array, normal: () => number): void => {
  for (let i = 0; i < w.length; i++) w[i] = normal();
};

/** How large each shared part is in a draw, standard deviations. */
type SharedParts = (shared: SharedDoubt, normal: () => number) => Float64Array;

const normalParts: SharedParts = ({ count }, normal) =>
  Float64Array.from({ length: count }, normal);

/**
 * Draws of the unknowns, of covariance A^-1 + F F': L'^-1 u + F v with u and v of unit normal numbers, or with a v of the
 * caller's.
 */
export const unknownDraws = ({
  grid,
  factor,
  shared,
}: Posterior): ((normal: () => number, partsOf?: SharedParts) => Float64Array) => {
  const { solveUpper } = factorFrom(grid.envelope, factor);
  return (normal, partsOf = normalParts) => {
    const w = new Float64Array(grid.size);
    fillNormals(w, normal);
    solveUpper(w);
    if (shared !== null && shared.count > 0) addShared(shared, partsOf(shared, normal), w);
    return w;
  };
};

/** Of so many points the unknowns, sixteen each, with their parts in the error, and the points' places in what is asked. */
interface Drawn {
  readonly end: number;
  readonly known: Int32Array;
  readonly at: Int32Array;
  readonly parts: Float64Array;
}

const addErrors = ({ end, known, at, parts }: Drawn, w: Float64Array, out: Float64Array): void => {
  for (let k = 0; k < end; k++) {
    let error = 0;
    for (let m = 16 * k; m < 16 * k + 16; m++) error += parts[m] * w[at[m]];
    out[known[k]] = error;
  }
};

/** For `Trust.heightDraws`. */
export const drawsAt = (
  posterior: Posterior,
  sigma: number,
  points: Float64Array,
): ((normal: () => number) => Float64Array) => {
  const count = points.length / 2;
  // The points that lie on the ground, and for each the sixteen unknowns with their parts in its error.
  const known = new Int32Array(count);
  const at = new Int32Array(16 * count);
  const parts = new Float64Array(16 * count);
  const patch = newPatch();
  const { ids, bx, by } = patch;
  let end = 0;
  for (let k = 0; k < count; k++) {
    if (!placePatch(posterior.grid, patch, points[2 * k], points[2 * k + 1])) continue;
    at.set(ids, 16 * end);
    for (let m = 0; m < 16; m++) parts[16 * end + m] = sigma * (bx[m & 3] * by[m >> 2]);
    known[end++] = k;
  }
  const unknowns = unknownDraws(posterior);
  const drawn = { end, known, at, parts };
  return (normal) => {
    const out = new Float64Array(count);
    addErrors(drawn, unknowns(normal), out);
    return out;
  };
};
