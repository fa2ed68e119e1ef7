import { type AdaptiveFit, pilotOf, pointSpacing, solvedAgain } from './adaptive-fit.js';
import { unknownsOfCell } from './knot-grid.js';
import { bendsAround, curvaturesOf } from './local-stiffness.js';
import type { Scatter } from './scatter.js';
import { H, JET_SIZE } from './surface.js';

/**
 * The face of a tier that is hardly wider than points are apart: the fit is too flat there by more than its posterior
 * tells, since its stiffness was learnt from heights that miss the foot and the brow. Which way it errs shows: fitted
 * again to its own heights it flattens once more by what it has flattened before (so Tukey, Exploratory Data Analysis
 * (1977), takes residuals up by "twicing"), and the truth lies off the other way.
 */

/**
 * Up to this spacing the posterior holds at faces, metres; from there on it is short by so many times the flattening for
 * each metre, and no more than for points of the last. Set on the tiers of seeds 224000 to 224007.
 */
const HELD_UP_TO = 1.5;
const SHORT = 6;
const MOST_APART = 2;
/** Local root mean square of the curvature at which half of the flattening counts, 1/m: shelves have a hundredth or two. */
const FACE_BEND = 0.04;
/** Neighbourhood of the curvature: the middle of a face does not bend, metres. */
const NEIGHBOURHOOD = 1.5;

/** How much each of the unknowns is on a face, 0 to 1. */
const onFaces = ({ grid, solved }: AdaptiveFit): Float64Array => {
  const bends = bendsAround(grid, curvaturesOf(grid, solved.coefficients), NEIGHBOURHOOD);
  const sums = new Float64Array(grid.size);
  const counts = new Float64Array(grid.size);
  const ids = new Int32Array(16);
  grid.cells.forEach((cell, k) => {
    const i = cell % grid.nx;
    unknownsOfCell(grid, i, (cell - i) / grid.nx, ids);
    const share = bends[k] ** 2 / (bends[k] ** 2 + FACE_BEND ** 2);
    for (const id of ids) {
      sums[id] += share;
      counts[id] += 1;
    }
  });
  return sums.map((sum, id) => sum / counts[id]);
};

/**
 * What the unknowns of a fit to ground with faces may be wrong by together, metres (one standard deviation); null where its
 * points are near enough.
 */
export const faceDoubt = (fit: AdaptiveFit, scatter: Scatter): Float64Array | null => {
  const spacing = pointSpacing(fit.grid, fit.problem.obs.count);
  const short = SHORT * (Math.min(MOST_APART, spacing) - HELD_UP_TO);
  if (!fit.sharp || scatter.breaklines.length > 0 || short <= 0) return null;
  const at = pilotOf(scatter, fit);
  const jet = new Float64Array(JET_SIZE);
  const fitted = scatter.x.map((x, p) => {
    at(x, scatter.y[p], jet);
    return jet[H];
  });
  const flatter = solvedAgain(fit, fitted).solved.coefficients;
  const shares = onFaces(fit);
  return fit.solved.coefficients.map((own, k) => short * shares[k] * (own - flatter[k]));
};
