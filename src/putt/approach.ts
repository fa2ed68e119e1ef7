import { hypotenuse, type Point } from '../geometry.js';
import type { Stepper } from './integrator.js';
import { stateAt } from './integrator.js';

/**
 * (p - target) . v: negative while the ball comes nearer, zero at the closest approach. The sign is for
 * motion forward in time.
 */
export const closing = (state: Float64Array, target: Point): number =>
  (state[0] - target[0]) * state[2] + (state[1] - target[1]) * state[3];

/** Signed distance by which the velocity's line passes the target: positive when it passes on its right. */
export const passing = (state: Float64Array, target: Point): number => {
  const rx = state[0] - target[0];
  const ry = state[1] - target[1];
  return (rx * state[3] - ry * state[2]) / hypotenuse(state[2], state[3]);
};

export const separation = (state: Float64Array, target: Point): number =>
  hypotenuse(state[0] - target[0], state[1] - target[1]);

/** A ball set off from a place toward a hole. */
export interface PuttShot {
  readonly ball: Point;
  readonly hole: Point;
  /** Horizontal velocity, m/s. */
  readonly vx: number;
  readonly vy: number;
}

/**
 * The time within the last step at which `measure` of the dense output changes sign, by the Illinois
 * rule (a bracketed secant). `low` and `high` bracket it.
 */
export const timeOfSign = (
  s: Stepper,
  measure: (state: Float64Array, target: Point) => number,
  target: Point,
  [low, high]: readonly [low: number, high: number],
  spot: Float64Array,
): number => {
  let a = low;
  let b = high;
  stateAt(s, a, spot, 4);
  let fa = measure(spot, target);
  stateAt(s, b, spot, 4);
  let fb = measure(spot, target);
  if (fa === 0) return a;
  if (fb === 0 || fa > 0 === fb > 0) return b;
  for (let i = 0; i < 60; i++) {
    const t = (a * fb - b * fa) / (fb - fa);
    if (Math.abs(b - a) < 1e-12 || t === a || t === b) return t;
    stateAt(s, t, spot, 4);
    const f = measure(spot, target);
    if (f === 0) return t;
    if (f > 0 === fb > 0) {
      // The end that stays for a second time counts half, so that both ends close in.
      fa /= 2;
    } else {
      a = b;
      fa = fb;
    }
    const moved = Math.abs(t - b);
    b = t;
    fb = f;
    if (moved < 1e-9) return t;
  }
  return b;
};
