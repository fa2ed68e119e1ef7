import type { Ring } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import { knotGrid } from './knot-grid.js';
import type { SharedDoubt } from './posterior.js';
import { splineSurface } from './spline-surface.js';
import type { Surface } from './surface.js';
import { posteriorTrust } from './trust.js';
import { type Wave, withWaves } from './wave-doubt.js';

/**
 * A fitted surface as plain data (it can be written to a file or sent to another thread), from which
 * the same surface comes back to the last bit. Frame of the green, metres.
 */
export interface StoredSurface {
  readonly outline: Ring;
  readonly collar: number;
  /** Distance between knots. */
  readonly knotStep: number;
  /** Cells of the grid that outline and collar touch; see KnotGrid. */
  readonly live: Uint8Array;
  /** Of all (nx + 3) (ny + 3) basis functions of the grid that outline, collar and step give. */
  readonly coefficients: Float64Array;
  /** Cholesky factor of the posterior precision (over sigma^2), in the grid's envelope. */
  readonly factor: Float64Array;
  /** Estimated noise of one point, metres. */
  readonly sigma: number;
  /** What errors that the points share add to the doubt; null where none were found. */
  readonly shared: SharedDoubt | null;
  /** Waves of the ground that the residuals keep, or may keep. */
  readonly waves: readonly Wave[];
  /** For `Trust.widening`. */
  readonly widening: number;
}

/** @throws RangeError when the arrays do not fit the grid. */
export const surfaceOfStored = (stored: StoredSurface): Surface => {
  const { outline, collar, knotStep, live, coefficients, factor, sigma, shared, waves } = stored;
  const box = growBox(boxOf(outline), collar);
  const grid = knotGrid(outline, collar, box, knotStep, live);
  if (
    coefficients.length !== (grid.nx + 3) * (grid.ny + 3) ||
    factor.length !== grid.envelope.length
  ) {
    throw new RangeError('the arrays of a stored surface do not fit its grid');
  }
  const own = { ...posteriorTrust(grid, factor, sigma, shared), widening: stored.widening };
  const trust = withWaves(own, waves);
  return splineSurface(grid, coefficients, { outline, collar, box }, trust);
};
