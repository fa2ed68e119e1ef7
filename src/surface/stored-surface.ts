import type { Ring } from '../geometry.js';
import { boxOf, growBox } from '../geometry.js';
import { selectedInverse } from './envelope.js';
import { knotGrid } from './knot-grid.js';
import { splineSurface } from './spline-surface.js';
import type { Surface } from './surface.js';
import { posteriorTrust } from './trust.js';

/**
 * A fitted surface as plain data (it can be written to a file or sent to another thread), from which
 * the same surface comes back to the last bit. Frame of the green, metres.
 */
export interface StoredSurface {
  readonly outline: Ring;
  readonly collar: number;
  /** Distance between knots. */
  readonly knotStep: number;
  /** Of all (nx + 3) (ny + 3) basis functions of the grid that outline, collar and step give. */
  readonly coefficients: Float64Array;
  /** Cholesky factor of the fit's matrix, in its envelope. */
  readonly factor: Float64Array;
  /** Estimated noise of one point, metres. */
  readonly sigma: number;
}

/** @throws RangeError when the arrays do not fit the grid. */
export const surfaceOfStored = (stored: StoredSurface): Surface => {
  const { outline, collar, knotStep, coefficients, factor, sigma } = stored;
  const box = growBox(boxOf(outline), collar);
  const grid = knotGrid(outline, collar, box, knotStep);
  if (
    coefficients.length !== (grid.nx + 3) * (grid.ny + 3) ||
    factor.length !== grid.envelope.length
  ) {
    throw new RangeError('the arrays of a stored surface do not fit its grid');
  }
  const trust = posteriorTrust(grid, factor, selectedInverse(grid.envelope, factor), sigma);
  return splineSurface(grid, coefficients, outline, collar, box, trust);
};
