import { wholePower } from '../power.js';
import { CELL_ENERGY } from './bending.js';
import { POWERS } from './bspline.js';
import { envelopeOf, ROWS } from './envelope.js';
import { factorOf } from './factor.js';
import type { KnotGrid } from './knot-grid.js';
import type { Surface, Trust } from './surface.js';
import { H, HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY } from './surface.js';

/**
 * Coefficients of all (nx + 3) (ny + 3) basis functions: those of the fit, and for the corners of the
 * box that outline and collar leave free the ones of least thin-plate energy.
 */
export const completeCoefficients = (grid: KnotGrid, fitted: Float64Array): Float64Array => {
  const mx = grid.nx + 3;
  const my = grid.ny + 3;
  const all = new Float64Array(mx * my);
  const free = new Int32Array(mx * my).fill(-1);
  let size = 0;
  const alongX = mx <= my;
  for (let q = 0; q < (alongX ? my : mx); q++) {
    for (let p = 0; p < (alongX ? mx : my); p++) {
      const at = alongX ? q * mx + p : p * mx + q;
      if (grid.unknown[at] >= 0) all[at] = fitted[grid.unknown[at]];
      else free[at] = size++;
    }
  }
  if (size === 0) return all;
  const places = new Int32Array(16);
  const placesOf = (cell: number) => {
    const i = cell % grid.nx;
    const j = (cell - i) / grid.nx;
    for (let m = 0; m < 16; m++) places[m] = (j + (m >> 2)) * mx + i + (m & 3);
  };
  const dead: number[] = [];
  for (let cell = 0; cell < grid.live.length; cell++) if (grid.live[cell] === 0) dead.push(cell);
  const first = Int32Array.from({ length: size }, (_, k) => k);
  for (const cell of dead) {
    placesOf(cell);
    let least = size;
    for (const at of places) if (free[at] >= 0 && free[at] < least) least = free[at];
    for (const at of places) if (free[at] >= 0 && least < first[free[at]]) first[free[at]] = least;
  }
  const envelope = envelopeOf(first);
  const matrix = new Float64Array(envelope.length);
  const right = new Float64Array(size);
  const [e0, , , e3, , e5] = CELL_ENERGY;
  for (const cell of dead) {
    placesOf(cell);
    for (let m = 0; m < 16; m++) {
      const row = free[places[m]];
      if (row < 0) continue;
      for (let n = 0; n < 16; n++) {
        const energy = e0[m * 16 + n] + e3[m * 16 + n] + e5[m * 16 + n];
        const column = free[places[n]];
        if (column < 0) right[row] -= energy * all[places[n]];
        else if (column <= row) matrix[envelope.base[row] + ROWS * column] += energy;
      }
    }
  }
  // Keeps the factor positive where rounding leaves a plane barely held.
  for (let k = 0; k < size; k++) matrix[envelope.base[k] + ROWS * k] *= 1 + 1e-10;
  const factor = factorOf(envelope, (a) => a.set(matrix));
  if (factor === null) return all;
  factor.solve(right);
  for (let at = 0; at < free.length; at++) if (free[at] >= 0) all[at] = right[free[at]];
  return all;
};

/** Cells added on each side, on which the coefficients go on along a straight line. */
const PAD = 2;

/**
 * The field as one bicubic polynomial a cell, so that a jet costs a few dozen multiplications. Two
 * cells past the grid it is exactly straight across the edge, so that the outermost polynomials
 * continue it to any distance with two continuous derivatives.
 */
const polynomials = (grid: KnotGrid, coefficients: Float64Array): Float64Array => {
  const mx = grid.nx + 3;
  const my = grid.ny + 3;
  const wide = mx + 2 * PAD;
  const high = my + 2 * PAD;
  const padded = new Float64Array(wide * high);
  for (let j = 0; j < my; j++) {
    const row = (j + PAD) * wide + PAD;
    for (let i = 0; i < mx; i++) padded[row + i] = coefficients[j * mx + i];
    for (let k = 1; k <= PAD; k++) {
      padded[row - k] = 2 * padded[row - k + 1] - padded[row - k + 2];
      padded[row + mx - 1 + k] = 2 * padded[row + mx - 2 + k] - padded[row + mx - 3 + k];
    }
  }
  for (let i = 0; i < wide; i++) {
    for (let k = 1; k <= PAD; k++) {
      const low = (PAD - k) * wide + i;
      padded[low] = 2 * padded[low + wide] - padded[low + 2 * wide];
      const up = (PAD + my - 1 + k) * wide + i;
      padded[up] = 2 * padded[up - wide] - padded[up - 2 * wide];
    }
  }
  const cx = grid.nx + 2 * PAD;
  const cy = grid.ny + 2 * PAD;
  const out = new Float64Array(16 * cx * cy);
  const rows = new Float64Array(16);
  const steps = [0, 1, 2, 3].map((k) => wholePower(grid.step, k));
  for (let j = 0; j < cy; j++) {
    for (let i = 0; i < cx; i++) {
      // First along x, then along y: powers of the distance from the cell's corner, in metres.
      for (let b = 0; b < 4; b++) {
        for (let k = 0; k < 4; k++) {
          let s = 0;
          for (let a = 0; a < 4; a++) s += POWERS[a][k] * padded[(j + b) * wide + i + a];
          rows[b * 4 + k] = s / steps[k];
        }
      }
      const at = 16 * (j * cx + i);
      for (let l = 0; l < 4; l++) {
        for (let k = 0; k < 4; k++) {
          let s = 0;
          for (let b = 0; b < 4; b++) s += POWERS[b][l] * rows[b * 4 + k];
          // Straight across the edge, free of the rounding that a far cube would magnify.
          const straight =
            ((i === 0 || i === cx - 1) && k > 1) || ((j === 0 || j === cy - 1) && l > 1);
          out[at + l * 4 + k] = straight ? 0 : s / steps[l];
        }
      }
    }
  }
  return out;
};

/** A surface from the coefficients of all (nx + 3) (ny + 3) basis functions of the grid. */
export const splineSurface = (
  grid: KnotGrid,
  coefficients: Float64Array,
  { outline, collar, box }: Pick<Surface, 'outline' | 'collar' | 'box'>,
  trust: Trust | null,
): Surface => {
  const p = polynomials(grid, coefficients);
  const step = grid.step;
  const perStep = 1 / step;
  const left = grid.x0 - PAD * step;
  const bottom = grid.y0 - PAD * step;
  const cx = grid.nx + 2 * PAD;
  const lastX = cx - 1;
  const lastY = grid.ny + 2 * PAD - 1;
  const at = (x: number, y: number, jet: Float64Array): void => {
    let i = Math.floor((x - left) * perStep);
    let j = Math.floor((y - bottom) * perStep);
    i = Math.max(0, Math.min(i, lastX));
    j = Math.max(0, Math.min(j, lastY));
    const u = x - left - i * step;
    const v = y - bottom - j * step;
    const k = 16 * (j * cx + i);
    const u3 = 3 * u;
    const v3 = 3 * v;
    let c1 = p[k + 1];
    let c2 = p[k + 2];
    let c3 = p[k + 3];
    const f0 = p[k] + u * (c1 + u * (c2 + u * c3));
    const g0 = c1 + u * (2 * c2 + u3 * c3);
    const s0 = 2 * (c2 + u3 * c3);
    const t0 = 6 * c3;
    c1 = p[k + 5];
    c2 = p[k + 6];
    c3 = p[k + 7];
    const f1 = p[k + 4] + u * (c1 + u * (c2 + u * c3));
    const g1 = c1 + u * (2 * c2 + u3 * c3);
    const s1 = 2 * (c2 + u3 * c3);
    const t1 = 6 * c3;
    c1 = p[k + 9];
    c2 = p[k + 10];
    c3 = p[k + 11];
    const f2 = p[k + 8] + u * (c1 + u * (c2 + u * c3));
    const g2 = c1 + u * (2 * c2 + u3 * c3);
    const s2 = 2 * (c2 + u3 * c3);
    const t2 = 6 * c3;
    c1 = p[k + 13];
    c2 = p[k + 14];
    c3 = p[k + 15];
    const f3 = p[k + 12] + u * (c1 + u * (c2 + u * c3));
    const g3 = c1 + u * (2 * c2 + u3 * c3);
    const s3 = 2 * (c2 + u3 * c3);
    const t3 = 6 * c3;
    jet[H] = f0 + v * (f1 + v * (f2 + v * f3));
    jet[HX] = g0 + v * (g1 + v * (g2 + v * g3));
    jet[HY] = f1 + v * (2 * f2 + v3 * f3);
    jet[HXX] = s0 + v * (s1 + v * (s2 + v * s3));
    jet[HXY] = g1 + v * (2 * g2 + v3 * g3);
    jet[HYY] = 2 * (f2 + v3 * f3);
    jet[HXXX] = t0 + v * (t1 + v * (t2 + v * t3));
    jet[HXXY] = s1 + v * (2 * s2 + v3 * s3);
    jet[HXYY] = 2 * (g2 + v3 * g3);
    jet[HYYY] = 6 * f3;
  };
  return { outline, collar, box, at, trust };
};
