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

/** Of a coarse field, between the four nodes from `m` on. */
const between = (field: Float64Array, m: number, wide: number, s: number, t: number): number =>
  (field[m] * (1 - s) + field[m + 1] * s) * (1 - t) +
  (field[m + wide] * (1 - s) + field[m + wide + 1] * s) * t;

/** Marks the coarse nodes about the nodes of a row that are inside. */
const needRow = ({ columns, inside }: GroundGrid, j: number, wide: number, needed: Uint8Array) => {
  const j0 = Math.floor((j - 1) / COARSE);
  const j1 = Math.floor((j + 1) / COARSE) + 1;
  for (let i = 0; i < columns; i++) {
    if (!inside[j * columns + i]) continue;
    // The node's block, and those that a node one step off may lie in.
    const i0 = Math.floor((i - 1) / COARSE);
    const i1 = Math.floor((i + 1) / COARSE) + 1;
    for (let q = j0; q <= j1; q++) for (let p = i0; p <= i1; p++) needed[q * wide + p] = 1;
  }
};

/** The covariance of the gradient at the coarse nodes that are needed. */
interface Coarse {
  readonly needed: Uint8Array;
  readonly wide: number;
  readonly tall: number;
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly yy: Float64Array;
}

/** The chance at the nodes of a row. */
const chancesOfRow = (
  { columns, hx, hy }: GroundGrid,
  { needed, wide, tall, ...covariance }: Coarse,
  j: number,
  chance: Float64Array,
): void => {
  const q = Math.min(tall - 2, Math.floor(j / COARSE));
  const t = j / COARSE - q;
  for (let i = 0; i < columns; i++) {
    const n = j * columns + i;
    const p = Math.min(wide - 2, Math.floor(i / COARSE));
    const m = q * wide + p;
    if (!(needed[m] && needed[m + 1] && needed[m + wide] && needed[m + wide + 1])) continue;
    const s = i / COARSE - p;
    const xx = between(covariance.xx, m, wide, s, t);
    const yy = between(covariance.yy, m, wide, s, t);
    // Past five deviations the chance is below one in a million.
    if (hx[n] * hx[n] + hy[n] * hy[n] > 50 * Math.max(xx, yy)) continue;
    const value = chanceOfWrongWay(hx[n], hy[n], xx, between(covariance.xy, m, wide, s, t), yy);
    chance[n] = Number.isFinite(value) ? value : 1;
  }
};

/** Chance of a direction wrong by more than 45 degrees at every node of the grid; null when the surface is exact. */
export const wrongWayField = (grid: GroundGrid, trust: Trust | null): Float64Array | null => {
  if (trust === null) return null;
  const { columns, rows, originX, originY, step } = grid;
  const wide = Math.ceil((columns - 1) / COARSE) + 1;
  const tall = Math.ceil((rows - 1) / COARSE) + 1;
  const needed = new Uint8Array(wide * tall);
  for (let j = 0; j < rows; j++) needRow(grid, j, wide, needed);
  const [xx, xy, yy] = [0, 1, 2].map(() => new Float64Array(wide * tall));
  const out = new Float64Array(3);
  const told = (trust.widening ?? 1) ** 2;
  for (let q = 0; q < tall; q++) {
    for (let p = 0; p < wide; p++) {
      const n = q * wide + p;
      if (!needed[n]) continue;
      trust.gradientCovariance(originX + p * COARSE * step, originY + q * COARSE * step, out);
      xx[n] = told * out[0];
      xy[n] = told * out[1];
      yy[n] = told * out[2];
    }
  }
  const chance = new Float64Array(columns * rows);
  const coarse = { needed, wide, tall, xx, xy, yy };
  for (let j = 0; j < rows; j++) chancesOfRow(grid, coarse, j, chance);
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
