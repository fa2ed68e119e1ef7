import type { Point } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';

/** How the ground falls at a point: grade as a fraction, and the unit vector downhill. */
export interface Fall {
  readonly grade: number;
  readonly toward: Point;
}

/** Null where the ground is level. */
export const fallOf = (surface: Surface, x: number, y: number): Fall | null => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(x, y, jet);
  const grade = Math.hypot(jet[HX], jet[HY]);
  return grade > 0 ? { grade, toward: [-jet[HX] / grade, -jet[HY] / grade] } : null;
};
