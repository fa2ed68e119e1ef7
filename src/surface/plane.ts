import type { KnotGrid } from './knot-grid.js';

/** Height at the origin and slopes: z = a + b x + c y. */
export type Incline = readonly [a: number, b: number, c: number];

/**
 * A plane through the points, only to take the large part off the heights before the fit: the
 * medians of the heights and of the slopes would do as well. Least squares; level through the mean
 * where the points are too few or in one line.
 */
export const planeThrough = (x: Float64Array, y: Float64Array, z: Float64Array): Incline => {
  const n = x.length;
  if (n === 0) return [0, 0, 0];
  let mx = 0;
  let my = 0;
  let mz = 0;
  for (let k = 0; k < n; k++) {
    mx += x[k] / n;
    my += y[k] / n;
    mz += z[k] / n;
  }
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xz = 0;
  let yz = 0;
  for (let k = 0; k < n; k++) {
    const u = x[k] - mx;
    const v = y[k] - my;
    const w = z[k] - mz;
    xx += u * u;
    xy += u * v;
    yy += v * v;
    xz += u * w;
    yz += v * w;
  }
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-9 * (xx + yy) ** 2)) return [mz, 0, 0];
  const b = (yy * xz - xy * yz) / determinant;
  const c = (xx * yz - xy * xz) / determinant;
  return [mz - b * mx - c * my, b, c];
};

/** Adds the plane to the coefficients of all basis functions (each takes its value at its own knot). */
export const addPlane = (grid: KnotGrid, coefficients: Float64Array, plane: Incline): void => {
  const mx = grid.nx + 3;
  for (let at = 0; at < coefficients.length; at++) {
    const i = at % mx;
    const j = (at - i) / mx;
    coefficients[at] +=
      plane[0] +
      plane[1] * (grid.x0 + (i - 1) * grid.step) +
      plane[2] * (grid.y0 + (j - 1) * grid.step);
  }
};
