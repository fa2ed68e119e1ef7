import type { Point } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';

/** How the ground falls at a point: grade as a fraction, and the unit vector downhill. */
export interface Fall {
  readonly grade: number;
  readonly toward: Point;
}

/** Ground more level than this has no direction of fall that rounding has not made. */
const LEVEL = 1e-9;

/** The fall at a point. Level ground counts as falling toward the front of the green. */
export const fallAt = (surface: Surface, [x, y]: Point): Fall => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(x, y, jet);
  const grade = Math.hypot(jet[HX], jet[HY]);
  return { grade, toward: grade > LEVEL ? [-jet[HX] / grade, -jet[HY] / grade] : [0, -1] };
};
