import type { Point } from '../../src/geometry.js';
import { rollLeg } from '../../src/putt/leg.js';
import type { PuttGround } from '../../src/putt/workspace.js';

/** A launch that passes over the hole's centre, found by scanning all launches. */
export interface Pass {
  readonly angle: number;
  readonly speed: number;
  readonly arrivalSpeed: number;
}

/**
 * Whether any launch at all passes over the hole at the asked speed or slower, by scanning every
 * direction and a ladder of launch speeds forward from the ball, and nothing of the solver's: on each rung
 * the directions between which the miss changes sign are bisected to a pass over the centre. Returns the
 * slowest pass of each rung on which there is one.
 */
export const slowestPasses = (
  w: PuttGround,
  ball: Point,
  hole: Point,
  directions: number,
  speeds: readonly number[],
): Pass[] => {
  const { jet } = w.ground;
  const missAt = (angle: number, speed: number) => {
    w.surface.at(ball[0], ball[1], jet);
    const ux = Math.cos(angle);
    const uy = Math.sin(angle);
    const flat = speed / Math.hypot(1, jet[1] * ux + jet[2] * uy);
    return rollLeg(w, ball, hole, flat * ux, flat * uy, 0, false);
  };
  const passes: Pass[] = [];
  for (const speed of speeds) {
    let slowest: Pass | null = null;
    let last = missAt(0, speed);
    for (let i = 1; i <= directions; i++) {
      const high = (2 * Math.PI * i) / directions;
      const next = missAt(high, speed);
      if (last !== null && next !== null && last.miss > 0 !== next.miss > 0) {
        const pass = bisect(missAt, high - (2 * Math.PI) / directions, high, last.miss > 0, speed);
        if (pass !== null && (slowest === null || pass.arrivalSpeed < slowest.arrivalSpeed)) {
          slowest = pass;
        }
      }
      last = next;
    }
    if (slowest !== null) passes.push(slowest);
  }
  return passes;
};

const bisect = (
  missAt: (
    angle: number,
    speed: number,
  ) => { readonly miss: number; readonly speed: number } | null,
  from: number,
  to: number,
  fromPositive: boolean,
  speed: number,
): Pass | null => {
  let [low, high] = [from, to];
  let best: Pass | null = null;
  for (let i = 0; i < 24; i++) {
    const angle = (low + high) / 2;
    const leg = missAt(angle, speed);
    if (leg === null) return null;
    if (Math.abs(leg.miss) < 5e-3) best = { angle, speed, arrivalSpeed: leg.speed };
    if (Math.abs(leg.miss) < 1e-4) break;
    if (leg.miss > 0 === fromPositive) low = angle;
    else high = angle;
  }
  // A sign that changes without a zero is a jump between two closest approaches, not a pass.
  return best;
};
