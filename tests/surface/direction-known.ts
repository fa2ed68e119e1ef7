import { HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';

/** 95 % point of chi-squared with two degrees of freedom. */
const CHI2_95 = -2 * Math.log(0.05);

/**
 * Whether the fall direction at (x, y) is known to 45 degrees at 95 %: whether the 95 % ellipse of the
 * gradient lies within the 90-degree wedge about the fitted fall direction. True where the surface
 * is exact and not level.
 */
export const directionKnown = (surface: Surface, x: number, y: number): boolean => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(x, y, jet);
  const gx = jet[HX];
  const gy = jet[HY];
  const grade = Math.hypot(gx, gy);
  if (grade === 0) return false;
  if (surface.trust === null) return true;
  const covariance = new Float64Array(3);
  surface.trust.gradientCovariance(x, y, covariance);
  // The ellipse lies on the inner side of a line n.g = 0 when n.mean >= sqrt(chi2 n'Cn).
  for (const turn of [Math.SQRT1_2, -Math.SQRT1_2]) {
    const nx = Math.SQRT1_2 * gx - turn * gy;
    const ny = turn * gx + Math.SQRT1_2 * gy;
    const mean = nx * gx + ny * gy;
    const spread = nx * nx * covariance[0] + 2 * nx * ny * covariance[1] + ny * ny * covariance[2];
    if (!(mean * mean > CHI2_95 * spread)) return false;
  }
  return true;
};
