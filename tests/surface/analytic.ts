import type { Box, Ring } from '../../src/geometry.js';
import { boxOf, growBox } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';
import { H, HX, HXX, HY, HYY, HYYY } from '../../src/surface/surface.js';

/** Derivative-order coefficients of a formula, filled in by the caller. */
export type JetFormula = (x: number, y: number, jet: Float64Array) => void;

/** A surface given by a formula; its trust is null since it is exact. */
export const analyticSurface = (outline: Ring, formula: JetFormula, collar = 3): Surface => {
  const box: Box = growBox(boxOf(outline), collar);
  return { outline, collar, box, at: formula, trust: null };
};

/** h = c + a x + b y. */
export const plane = (outline: Ring, a: number, b: number, c = 0): Surface =>
  analyticSurface(outline, (x, y, jet) => {
    jet.fill(0);
    jet[H] = c + a * x + b * y;
    jet[HX] = a;
    jet[HY] = b;
  });

/** h = (kx (x - x0)^2 + ky (y - y0)^2) / 2: a bowl, a dome or a saddle by the signs of kx, ky (1/m). */
export const quadric = (outline: Ring, kx: number, ky: number, x0 = 0, y0 = 0): Surface =>
  analyticSurface(outline, (x, y, jet) => {
    jet.fill(0);
    const u = x - x0;
    const v = y - y0;
    jet[H] = (kx * u * u + ky * v * v) / 2;
    jet[HX] = kx * u;
    jet[HY] = ky * v;
    jet[HXX] = kx;
    jet[HYY] = ky;
  });

/** Two levels joined by a smooth face: h = rise/2 (1 + tanh((y - y0) / width)) + tilt y. */
export const twoTier = (
  outline: Ring,
  rise: number,
  y0: number,
  width: number,
  tilt = 0,
): Surface =>
  analyticSurface(outline, (_x, y, jet) => {
    jet.fill(0);
    const t = Math.tanh((y - y0) / width);
    const s = 1 - t * t;
    jet[H] = (rise / 2) * (1 + t) + tilt * y;
    jet[HY] = ((rise / 2) * s) / width + tilt;
    jet[HYY] = (-rise * t * s) / (width * width);
    jet[HYYY] = ((rise * s) / width ** 3) * (2 * t * t - s);
  });

/** A circle as a ring of n points, counter-clockwise. */
export const circleRing = (radius: number, cx = 0, cy = 0, n = 96): Ring =>
  Array.from({ length: n }, (_, i) => {
    const a = (2 * Math.PI * i) / n;
    return [cx + radius * Math.cos(a), cy + radius * Math.sin(a)] as const;
  });
