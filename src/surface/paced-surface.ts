import type { Box, Ring } from '../geometry.js';
import type { PacedReadings } from '../survey/survey.js';
import { ROWS } from './envelope.js';
import { type KnotGrid, knotGrid } from './knot-grid.js';
import { type PlaceOff, type Places, pacedField, pacedHeights } from './paced-fit.js';
import { completeCoefficients, splineSurface } from './spline-surface.js';
import type { StoredSurface } from './stored-surface.js';
import type { Surface } from './surface.js';
import { posteriorTrust } from './trust.js';

/** What a survey by hand leaves of the ground, as the surface of any other survey is kept. */

/** Knots no closer than this, and no more of them than that: between paced places nothing finer is known. Metres. */
const LEAST_STEP = 1.2;
const MOST_KNOTS = 700;
/** Standard deviation of a height that is not followed any further, metres. */
const LEFT = 2e-4;

const gridFor = (outline: Ring, collar: number, box: Box): KnotGrid => {
  const grid = knotGrid(outline, collar, box, LEAST_STEP);
  return grid.size <= MOST_KNOTS
    ? grid
    : knotGrid(outline, collar, box, LEAST_STEP * Math.sqrt(grid.size / MOST_KNOTS) * 1.02);
};

/**
 * Coefficients of a cubic B-spline that follows a field at its knots: (-f_{-1} + 8 f_0 - f_{+1}) / 6 along each direction,
 * right for cubics (de Boor, A Practical Guide to Splines, chapter on quasi-interpolants; quoted from memory).
 */
const FOLLOWING = [-1 / 6, 8 / 6, -1 / 6];

/** The middles of the basis functions that a grid uses and of their neighbours, and what makes coefficients of heights there. */
const knotsOf = (grid: KnotGrid) => {
  const [mx, my] = [grid.nx + 3, grid.ny + 3];
  const wide = mx + 2;
  const at = new Int32Array(wide * (my + 2)).fill(-1);
  const unknowns: { readonly unknown: number; readonly corner: number }[] = [];
  const x: number[] = [];
  const y: number[] = [];
  for (let place = 0; place < mx * my; place++) {
    if (grid.unknown[place] < 0) continue;
    const corner = Math.floor(place / mx) * wide + (place % mx);
    unknowns.push({ unknown: grid.unknown[place], corner });
    for (let m = 0; m < 9; m++) {
      const knot = corner + Math.floor(m / 3) * wide + (m % 3);
      if (at[knot] >= 0) continue;
      at[knot] = x.length;
      x.push(grid.x0 + ((knot % wide) - 2) * grid.step);
      y.push(grid.y0 + (Math.floor(knot / wide) - 2) * grid.step);
    }
  }
  const follow = (heights: Float64Array, width: number): Float64Array => {
    const out = new Float64Array(grid.size * width);
    for (const { unknown, corner } of unknowns) {
      for (let m = 0; m < 9; m++) {
        const from = at[corner + Math.floor(m / 3) * wide + (m % 3)] * width;
        const by = FOLLOWING[Math.floor(m / 3)] * FOLLOWING[m % 3];
        for (let c = 0; c < width; c++) out[unknown * width + c] += by * heights[from + c];
      }
    }
    return out;
  };
  return { knots: { x: Float64Array.from(x), y: Float64Array.from(y) }, follow };
};

/** The factor of a matrix with this on its diagonal and nothing beside it. */
const evenFactor = ({ envelope }: KnotGrid, root: number): Float64Array => {
  const { size, base, length } = envelope;
  const factor = new Float64Array(length);
  for (let i = 0; i < size; i++) factor[base[i] + ROWS * i] = root;
  for (let k = 0; k < (ROWS - (size % ROWS)) % ROWS; k++) factor[length - 1 - k * (ROWS + 1)] = 1;
  return factor;
};

export interface PacedSurface {
  readonly surface: Surface;
  readonly stored: StoredSurface;
  readonly grid: KnotGrid;
  readonly off: readonly PlaceOff[];
}

/** @param sigma standard deviation of one place's height, by which the surface's doubt is kept; metres. */
export const pacedSurface = (
  points: Places & { readonly z: Float64Array },
  paced: PacedReadings,
  sigma: number,
  shape: Pick<Surface, 'outline' | 'collar' | 'box'>,
): PacedSurface => {
  const { outline, collar, box } = shape;
  const held = pacedField(points, paced);
  const grid = gridFor(outline, collar, box);
  const { knots, follow } = knotsOf(grid);
  const { mean, root, rank } = pacedHeights(held, knots, outline, LEFT * LEFT);
  const coefficients = completeCoefficients(grid, follow(mean, 1));
  const factor = evenFactor(grid, sigma / LEFT);
  const spreading = follow(root, rank).map((value) => value / sigma);
  const shared = { spreading, count: rank, offset: 0, edges: new Float64Array(0) };
  return {
    surface: splineSurface(grid, coefficients, shape, posteriorTrust(grid, factor, sigma, shared)),
    stored: {
      ...{ outline, collar, knotStep: grid.step, live: grid.live, coefficients, factor, sigma },
      ...{ shared, waves: [] },
    },
    grid,
    off: held.off,
  };
};
