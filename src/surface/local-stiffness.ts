import { realPower } from '../power.js';
import { type Breakline, breaksOnCells } from './breaklines.js';
import { basisDerivative } from './bspline.js';
import { type KnotGrid, unknownsOfCell } from './knot-grid.js';
import type { Surface } from './surface.js';
import { HXX, HXY, HYY, JET_SIZE } from './surface.js';
import { inverse3, spectralFunction3 } from './symmetric3.js';

/**
 * Weights of the bending energy that follow the ground: where and in which direction a first fit
 * bends much, bending costs little. The curvature v = (h_xx, sqrt(2) h_xy, h_yy) of the fit gives a
 * local second moment C = mean of v v' over a neighbourhood; the energy's weight is about the inverse
 * of C. So a tier may bend across its face, while along it, and on the shelves, the fit stays stiff and
 * averages over many points. Locally adaptive smoothing after Abramovich & Steinberg, J. Statist.
 * Plann. Inference 49 (1996) 327-341 (penalty by the inverse square of a pilot's curvature); the matrix
 * form, and the constants below, are ours, chosen on surfaces of known truth.
 */

/** Exponent of C; over 1 it makes up for the pilot's own flattening of what it smooths. */
const POWER = 1.4;
/** Least curvature that is expected anywhere, against the geometric mean over the ground. */
const FLOOR = 0.1;
/**
 * Along a breakline the variance of the curvature across it is this much over that of the usual ground:
 * enough for the first fit to find the edge, which the next rounds then take at its own sharpness.
 */
const BREAK = 100;

/** v at the middle of each live cell of another grid than the pilot's. */
export const curvaturesAt = (grid: KnotGrid, at: Surface['at']): Float64Array => {
  const jet = new Float64Array(JET_SIZE);
  const out = new Float64Array(3 * grid.cells.length);
  grid.cells.forEach((cell, k) => {
    const i = cell % grid.nx;
    const j = (cell - i) / grid.nx;
    at(grid.x0 + (i + 0.5) * grid.step, grid.y0 + (j + 0.5) * grid.step, jet);
    out[3 * k] = jet[HXX];
    out[3 * k + 1] = Math.SQRT2 * jet[HXY];
    out[3 * k + 2] = jet[HYY];
  });
  return out;
};

/** Values and derivatives of the four basis functions at the middle of a cell, in knots: by order. */
const AT_MIDDLE = [0, 1, 2].map((order) => [0, 1, 2, 3].map((a) => basisDerivative(a, order, 0.5)));

/** The same of each of the sixteen that meet on it: h_xx, h_xy and h_yy. */
const [BEND_XX, BEND_XY, BEND_YY] = [
  [2, 0],
  [1, 1],
  [0, 2],
].map(([dx, dy]) =>
  Float64Array.from({ length: 16 }, (_, m) => AT_MIDDLE[dx][m & 3] * AT_MIDDLE[dy][m >> 2]),
);

/** v at the middle of each live cell, from the coefficients of a fit on the grid. */
export const curvaturesOf = (grid: KnotGrid, coefficients: Float64Array): Float64Array => {
  const ids = new Int32Array(16);
  const out = new Float64Array(3 * grid.cells.length);
  const scale = 1 / (grid.step * grid.step);
  grid.cells.forEach((cell, k) => {
    const i = cell % grid.nx;
    unknownsOfCell(grid, i, (cell - i) / grid.nx, ids);
    let [xx, xy, yy] = [0, 0, 0];
    for (let m = 0; m < 16; m++) {
      const c = coefficients[ids[m]];
      xx += BEND_XX[m] * c;
      xy += BEND_XY[m] * c;
      yy += BEND_YY[m] * c;
    }
    out[3 * k] = scale * xx;
    out[3 * k + 1] = scale * Math.SQRT2 * xy;
    out[3 * k + 2] = scale * yy;
  });
  return out;
};

/** Six products a cell, and the weight that falls on live cells. */
const CHANNELS = 7;

/** One pass of a separable blur over a field of `CHANNELS` numbers a cell, nx by ny cells. */
const blurred = (
  from: Float64Array,
  [nx, ny]: readonly [number, number],
  kernel: Float64Array,
  across: boolean,
): Float64Array => {
  const out = new Float64Array(from.length);
  const reach = (kernel.length - 1) / 2;
  const stride = across ? 1 : nx;
  const limit = across ? nx : ny;
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const at = j * nx + i;
      const place = across ? i : j;
      const low = Math.max(-reach, -place);
      const high = Math.min(reach, limit - 1 - place);
      for (let d = low; d <= high; d++) {
        const w = kernel[d + reach];
        const other = CHANNELS * (at + d * stride);
        for (let c = 0; c < CHANNELS; c++) out[CHANNELS * at + c] += w * from[other + c];
      }
    }
  }
  return out;
};

/** Mean of v v' about each live cell, under a Gaussian of standard deviation `radius`: six a cell. */
const secondMoments = (grid: KnotGrid, v: Float64Array, radius: number): Float64Array => {
  const { nx, ny, cells } = grid;
  const field = new Float64Array(CHANNELS * nx * ny);
  for (let k = 0; k < cells.length; k++) {
    const at = CHANNELS * cells[k];
    let channel = at;
    for (let p = 3 * k; p < 3 * k + 3; p++) {
      for (let q = p; q < 3 * k + 3; q++) field[channel++] = v[p] * v[q];
    }
    field[at + 6] = 1;
  }
  const sd = radius / grid.step;
  const reach = Math.ceil(3 * sd);
  const kernel = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - reach) / sd) ** 2),
  );
  const around = blurred(blurred(field, [nx, ny], kernel, true), [nx, ny], kernel, false);
  const out = new Float64Array(6 * cells.length);
  for (let k = 0; k < cells.length; k++) {
    const at = CHANNELS * cells[k];
    for (let c = 0; c < 6; c++) out[6 * k + c] = around[at + c] / around[at + 6];
  }
  return out;
};

/** Root of the local second moment of the curvature at each of the grid's cells, 1/m. */
export const bendsAround = (grid: KnotGrid, bends: Float64Array, radius: number): Float64Array => {
  const moments = secondMoments(grid, bends, radius);
  return Float64Array.from(grid.cells, (_, k) =>
    Math.sqrt(moments[6 * k] + moments[6 * k + 3] + moments[6 * k + 5]),
  );
};

/** The largest of them. */
export const sharpestBend = (grid: KnotGrid, bends: Float64Array, radius: number): number =>
  bendsAround(grid, bends, radius).reduce((most, bend) => Math.max(most, bend), 0);

/**
 * Six weights of the bending energy for each live cell (see bending.ts), from how a first fit bends (v); without
 * one, only the breaklines make a difference.
 */
export const localStiffness = (
  grid: KnotGrid,
  bends: Float64Array | null,
  radius: number,
  breaklines: readonly Breakline[],
): Float64Array => {
  const count = grid.cells.length;
  const moments = bends === null ? null : secondMoments(grid, bends, radius);
  let logs = 0;
  if (moments !== null) {
    for (let k = 0; k < moments.length; k += 6) {
      logs += Math.log(moments[k] + moments[k + 3] + moments[k + 5] + 1e-14);
    }
  }
  const usual = Math.exp(logs / count);
  const breaks = breaksOnCells(grid, breaklines);
  const out = new Float64Array(6 * count);
  const level = Float64Array.of(1, 0, 0, 1, 0, 1);
  for (let k = 0; k < count; k++) {
    const expected =
      moments === null
        ? level.slice()
        : spectralFunction3(
            moments.subarray(6 * k, 6 * k + 6),
            (value) => realPower(Math.max(0, value) / usual, POWER) + FLOOR,
          );
    for (const [nx, ny] of breaks.get(k) ?? []) {
      const u = [nx * nx, Math.SQRT2 * nx * ny, ny * ny];
      expected[0] += BREAK * u[0] * u[0];
      expected[1] += BREAK * u[0] * u[1];
      expected[2] += BREAK * u[0] * u[2];
      expected[3] += BREAK * u[1] * u[1];
      expected[4] += BREAK * u[1] * u[2];
      expected[5] += BREAK * u[2] * u[2];
    }
    out.set(inverse3(expected), 6 * k);
  }
  return out;
};

/** A local stiffness of less contrast: its matrices to a power. */
export const softened = (stiffness: Float64Array, power: number): Float64Array => {
  const out = new Float64Array(stiffness.length);
  for (let k = 0; k < out.length; k += 6) {
    const own = spectralFunction3(stiffness.subarray(k, k + 6), (v) =>
      realPower(Math.max(0, v), power),
    );
    out.set(own, k);
  }
  return out;
};
