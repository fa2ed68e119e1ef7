import type { Polygon } from '../geometry.js';
import { upperTail } from '../surface/normal-distribution.js';
import type { Trust } from '../surface/surface.js';
import type { GroundGrid } from './ground-grid.js';
import { traceIsolines } from './regions/isolines.js';
import { areaCutOff, assembleRegion, clipToOutline } from './regions/region.js';

/**
 * Chance that the true direction of fall lies more than 45 degrees from the fitted one. With the error of
 * the gradient split along the fall (a) and across it (p), that is |p| > grade + a: either of two
 * half-planes at right angles, whose chances are joined as independent (exact for a round error).
 */
export const chanceOfWrongWay = (
  hx: number,
  hy: number,
  xx: number,
  xy: number,
  yy: number,
): number => {
  const grade = Math.hypot(hx, hy);
  if (grade === 0) return 0.75;
  const ux = hx / grade;
  const uy = hy / grade;
  const along = ux * ux * xx + 2 * ux * uy * xy + uy * uy * yy;
  const across = uy * uy * xx - 2 * ux * uy * xy + ux * ux * yy;
  const both = ux * uy * (yy - xx) + (ux * ux - uy * uy) * xy;
  const left = upperTail(grade / Math.sqrt(Math.max(1e-300, along + across - 2 * both)));
  const right = upperTail(grade / Math.sqrt(Math.max(1e-300, along + across + 2 * both)));
  return left + right - left * right;
};

/** The covariance of the gradient changes slowly: it is asked for at every fourth node and interpolated. */
const COARSE = 4;

/** Chance of a direction wrong by more than 45 degrees at every node of the grid; null when the surface is exact. */
export const wrongWayField = (grid: GroundGrid, trust: Trust | null): Float64Array | null => {
  if (trust === null) return null;
  const { columns, rows, originX, originY, step, hx, hy, inside } = grid;
  const wide = Math.ceil((columns - 1) / COARSE) + 1;
  const tall = Math.ceil((rows - 1) / COARSE) + 1;
  const needed = new Uint8Array(wide * tall);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      if (!inside[j * columns + i]) continue;
      // The node's block, and those that a node one step off may lie in.
      const i0 = Math.floor((i - 1) / COARSE);
      const i1 = Math.floor((i + 1) / COARSE) + 1;
      const j0 = Math.floor((j - 1) / COARSE);
      const j1 = Math.floor((j + 1) / COARSE) + 1;
      for (let q = j0; q <= j1; q++) for (let p = i0; p <= i1; p++) needed[q * wide + p] = 1;
    }
  }
  const covariance = [0, 1, 2].map(() => new Float64Array(wide * tall));
  const out = new Float64Array(3);
  const told = (trust.widening ?? 1) ** 2;
  for (let q = 0; q < tall; q++) {
    for (let p = 0; p < wide; p++) {
      const n = q * wide + p;
      if (!needed[n]) continue;
      trust.gradientCovariance(originX + p * COARSE * step, originY + q * COARSE * step, out);
      for (let c = 0; c < 3; c++) covariance[c][n] = told * out[c];
    }
  }
  const chance = new Float64Array(columns * rows);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const n = j * columns + i;
      const p = Math.min(wide - 2, Math.floor(i / COARSE));
      const q = Math.min(tall - 2, Math.floor(j / COARSE));
      const m = q * wide + p;
      if (!(needed[m] && needed[m + 1] && needed[m + wide] && needed[m + wide + 1])) continue;
      const s = i / COARSE - p;
      const t = j / COARSE - q;
      const at = (field: Float64Array): number =>
        (field[m] * (1 - s) + field[m + 1] * s) * (1 - t) +
        (field[m + wide] * (1 - s) + field[m + wide + 1] * s) * t;
      const xx = at(covariance[0]);
      const yy = at(covariance[2]);
      // Past five deviations the chance is below one in a million.
      if (hx[n] * hx[n] + hy[n] * hy[n] > 50 * Math.max(xx, yy)) continue;
      const value = chanceOfWrongWay(hx[n], hy[n], xx, at(covariance[1]), yy);
      chance[n] = Number.isFinite(value) ? value : 1;
    }
  }
  return chance;
};

/** One chance in twenty. */
export const DOUBT = 0.05;

/** Ground where the direction of fall is not known to 45 degrees at 95 %. */
export const doubtfulGround = (
  grid: GroundGrid,
  chance: Float64Array | null,
  minIsland: number,
  area: number,
): Polygon[] => {
  if (chance === null) return [];
  const pieces = clipToOutline(
    grid.outline,
    traceIsolines({ ...grid, value: chance }, DOUBT),
  ).filter((piece) => areaCutOff(grid.outline, piece, area) >= minIsland);
  let doubted = 0;
  for (let n = 0; n < chance.length; n++) if (grid.inside[n] && chance[n] >= DOUBT) doubted++;
  return assembleRegion(grid.outline, pieces, 2 * doubted > grid.insideCount);
};
