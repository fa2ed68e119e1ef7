import { type Box, insideRing, type Point, type Ring } from '../geometry.js';
import type { PacedReadings } from '../survey/survey.js';
import { ROWS } from './envelope.js';
import { type KnotGrid, knotGrid } from './knot-grid.js';
import { type PlaceOff, type Places, pacedField, pacedHeights } from './paced-fit.js';
import { completeCoefficients, splineSurface } from './spline-surface.js';
import type { StoredSurface } from './stored-surface.js';
import { HX, HY, JET_SIZE, type Surface } from './surface.js';
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

/** Ground is as uneven as it is within this distance, metres. */
const ABOUT = 1.5;

/**
 * How much more uneven the ground is about each place than on the whole green, by the square of its slope over the mean
 * slope; never less than one. The field's readings tell one unevenness for all of it: on the face of a tier that is too
 * little, and what they leave unknown there goes with it.
 */
const unevenness = (
  { at, outline }: Pick<Surface, 'at' | 'outline'>,
  { x, y }: Places,
): Float64Array => {
  const jet = new Float64Array(JET_SIZE);
  const on = Array.from(x.keys()).filter((p) => insideRing(outline, x[p], y[p]));
  const slopes = on.map((p): Point => {
    at(x[p], y[p], jet);
    return [jet[HX], jet[HY]];
  });
  const mean = ([0, 1] as const).map((k) => slopes.reduce((sum, g) => sum + g[k] / on.length, 0));
  const squares = slopes.map(([gx, gy]) => (gx - mean[0]) ** 2 + (gy - mean[1]) ** 2);
  const whole = squares.reduce((sum, one) => sum + one / on.length, 0);
  return x.map((px, p) => {
    let [sum, mass] = [1e-12, 1e-12];
    on.forEach((q, k) => {
      const w = Math.exp((-0.5 * ((px - x[q]) ** 2 + (y[p] - y[q]) ** 2)) / ABOUT ** 2);
      sum += w * squares[k];
      mass += w;
    });
    return Math.sqrt(Math.max(1, sum / mass / whole));
  });
};

/** Paces are alike within this distance, metres. */
const ALIKE = 3;

/**
 * What paces that are all too long, or too short, by one standard deviation make of the heights: the map is stretched under
 * its places, by as much as each was walked to.
 */
const stretched = (
  { at }: Pick<Surface, 'at'>,
  { x, y }: Places,
  { walked, strideSd }: PacedReadings,
  places: Places,
): Float64Array => {
  const jet = new Float64Array(JET_SIZE);
  return x.map((px, p) => {
    const squares = places.x.map((qx, k) => (qx - px) ** 2 + (places.y[k] - y[p]) ** 2);
    const least = squares.reduce((a, b) => Math.min(a, b), Infinity);
    let [mass, wx, wy] = [0, 0, 0];
    squares.forEach((square, k) => {
      const w = Math.exp((least - square) / (2 * ALIKE ** 2));
      mass += w;
      wx += w * walked.x[k];
      wy += w * walked.y[k];
    });
    at(px, y[p], jet);
    return (strideSd * (wx * jet[HX] + wy * jet[HY])) / mass;
  });
};

/** The rows of a matrix with one more number each. */
const withColumn = (rows: Float64Array, width: number, column: Float64Array): Float64Array => {
  const out = new Float64Array(rows.length + column.length);
  column.forEach((value, p) => {
    out.set(rows.subarray(p * width, (p + 1) * width), p * (width + 1));
    out[p * (width + 1) + width] = value;
  });
  return out;
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
  const likeliest = splineSurface(grid, coefficients, shape, null);
  const more = unevenness(likeliest, knots);
  for (let at = 0; at < root.length; at++) root[at] *= more[Math.floor(at / rank)];
  const whole = withColumn(root, rank, stretched(likeliest, knots, paced, points));
  const factor = evenFactor(grid, sigma / LEFT);
  const spreading = follow(whole, rank + 1).map((value) => value / sigma);
  const shared = { spreading, count: rank + 1, offset: 0, edges: new Float64Array(0) };
  return {
    surface: splineSurface(grid, coefficients, shape, posteriorTrust(grid, factor, sigma, shared)),
    stored: {
      ...{ outline, collar, knotStep: grid.step, live: grid.live, coefficients, factor, sigma },
      ...{ shared, waves: [], widening: 1 },
    },
    grid,
    off: held.off,
  };
};
