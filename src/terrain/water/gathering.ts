import { wholePower } from '../../power.js';
import type { Surface } from '../../surface/surface.js';
import { HX, HXX, HXY, HY, HYY } from '../../surface/surface.js';

/**
 * Bend of the contour through a point, 1/m: positive where the fall lines draw together, as in a valley,
 * negative where they part, as on a spur. Zero where the ground is level. (The plan curvature of
 * Zevenbergen & Thorne 1987, divided by the grade.)
 */
export const gathering = (surface: Surface, x: number, y: number, jet: Float64Array): number => {
  surface.at(x, y, jet);
  const hx = jet[HX];
  const hy = jet[HY];
  const cube = wholePower(Math.hypot(hx, hy), 3);
  if (cube < 1e-12) return 0;
  return (jet[HXX] * hy * hy - 2 * jet[HXY] * hx * hy + jet[HYY] * hx * hx) / cube;
};
