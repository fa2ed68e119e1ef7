import type { Point } from '../../src/geometry.js';
import { advance, begin, stateAt, stepperFor } from '../../src/putt/integrator.js';
import type { RollingGround } from '../../src/putt/motion.js';
import { groundSpeed, rollingToRest } from '../../src/putt/motion.js';
import { HX, HY } from '../../src/surface/surface.js';

/** A launch that passes over the hole's centre, found by scanning all launches. */
export interface Pass {
  readonly angle: number;
  readonly speed: number;
  readonly arrivalSpeed: number;
}

interface Approach {
  /** Signed distance by which the ball passes the centre, metres. */
  readonly miss: number;
  readonly speed: number;
}

const stepper = stepperFor(rollingToRest, 6, 0);
stepper.tolerance = 1e-4;
const spot = new Float64Array(4);

/** Rolls a ball to its first closest approach to the hole; null when it stops or is gone before. */
const approach = (
  ground: RollingGround,
  ball: Point,
  hole: Point,
  angle: number,
  speed: number,
): Approach | null => {
  const { surface, jet } = ground;
  const ux = Math.cos(angle);
  const uy = Math.sin(angle);
  surface.at(ball[0], ball[1], jet);
  const flat = speed / groundSpeed(jet[HX], jet[HY], ux, uy);
  stepper.state.set([ball[0], ball[1], flat * ux, flat * uy, 0, 0]);
  begin(stepper, ground, 0.2);
  const closingOf = (s: Float64Array): number => (s[0] - hole[0]) * s[2] + (s[1] - hole[1]) * s[3];
  let nearing = false;
  while (stepper.state[4] < 40) {
    advance(stepper, ground, 2);
    const s = stepper.state;
    if (Math.hypot(s[2], s[3]) < 1e-3 || Math.hypot(s[0], s[1]) > 24) return null;
    if (closingOf(s) < 0) nearing = true;
    else if (nearing) {
      let low = stepper.from;
      let high = stepper.time;
      for (let i = 0; i < 20; i++) {
        const middle = (low + high) / 2;
        stateAt(stepper, middle, spot, 4);
        if (closingOf(spot) < 0) low = middle;
        else high = middle;
      }
      surface.at(spot[0], spot[1], jet);
      const v = Math.hypot(spot[2], spot[3]);
      return {
        miss: ((spot[0] - hole[0]) * spot[3] - (spot[1] - hole[1]) * spot[2]) / v,
        speed: groundSpeed(jet[HX], jet[HY], spot[2], spot[3]),
      };
    }
  }
  return null;
};

/** The pass over the centre between two directions, by bisection; null when the sign jumps there. */
const passBetween = (
  roll: (angle: number) => Approach | null,
  from: number,
  to: number,
  fromPositive: boolean,
  speed: number,
): Pass | null => {
  let low = from;
  let high = to;
  let best: Pass | null = null;
  for (let i = 0; i < 20; i++) {
    const angle = (low + high) / 2;
    const found = roll(angle);
    if (found === null) return null;
    if (Math.abs(found.miss) < 5e-3) {
      best = { angle, speed, arrivalSpeed: found.speed };
      break;
    }
    if (found.miss > 0 === fromPositive) low = angle;
    else high = angle;
  }
  return best;
};

/**
 * What launches pass over the hole, by scanning every direction and a ladder of launch speeds forward
 * from the ball, with nothing of the solver's: on each rung the directions between which the miss
 * changes sign are bisected to a pass over the centre. Returns the slowest pass of each rung that has one.
 */
export const slowestPasses = (
  ground: RollingGround,
  ball: Point,
  hole: Point,
  directions: number,
  speeds: readonly number[],
): Pass[] =>
  speeds.flatMap((speed) => {
    const roll = (angle: number): Approach | null => approach(ground, ball, hole, angle, speed);
    const turn = (2 * Math.PI) / directions;
    let slowest: Pass | null = null;
    let last = roll(0);
    for (let i = 1; i <= directions; i++) {
      const next = roll(i * turn);
      if (last !== null && next !== null && last.miss > 0 !== next.miss > 0) {
        const pass = passBetween(roll, (i - 1) * turn, i * turn, last.miss > 0, speed);
        if (pass !== null && (slowest === null || pass.arrivalSpeed < slowest.arrivalSpeed)) {
          slowest = pass;
        }
      }
      last = next;
    }
    return slowest === null ? [] : [slowest];
  });
