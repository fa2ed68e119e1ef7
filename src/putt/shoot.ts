import type { Point } from '../geometry.js';
import { HX, HY } from '../surface/surface.js';
import { closing, passing, timeOfSign } from './approach.js';
import { ROLLING_GRAVITY } from './green-speed.js';
import { advance, begin, stateAt } from './integrator.js';
import { groundSpeed, rolling } from './motion.js';
import type { PuttGround } from './workspace.js';
import { isInBounds, MAX_LAUNCH_SPEED, MAX_TIME, SOLVE_TOLERANCE } from './workspace.js';

/** A launch that brings the ball over the hole's centre at the asked pace. */
export interface Launch {
  readonly vx: number;
  readonly vy: number;
  /** Direction of motion over the hole, radians from +x. */
  readonly arrival: number;
  readonly time: number;
}

/**
 * Writes to `state` the ball over the hole at the arrival speed, moving in direction `arrival`, with its
 * tangent by that direction.
 */
export const placeAtHole = (
  w: PuttGround,
  hole: Point,
  arrival: number,
  speed: number,
  state: Float64Array,
): void => {
  const { ground } = w;
  ground.surface.at(hole[0], hole[1], ground.jet);
  const qx = ground.jet[HX] * ground.relief;
  const qy = ground.jet[HY] * ground.relief;
  const ux = Math.cos(arrival);
  const uy = Math.sin(arrival);
  const climb = qx * ux + qy * uy;
  const turn = qy * ux - qx * uy;
  const shrink = 1 / Math.sqrt(1 + climb * climb);
  const flat = speed * shrink;
  const dFlat = -flat * shrink * shrink * climb * turn;
  state[0] = hole[0];
  state[1] = hole[1];
  state[2] = flat * ux;
  state[3] = flat * uy;
  state[4] = 0;
  state[5] = 0;
  state[6] = -flat * uy + dFlat * ux;
  state[7] = flat * ux + dFlat * uy;
};

/** First step of a motion at such a speed, seconds. */
const FIRST_STEP = 0.3;

/**
 * Rolls a ball backward in time from the hole until its closest approach to the ball's place, no sooner
 * than `arm` seconds before arrival. Leaves the state there, tangent included, in `w.spot` and returns
 * its time (negative), or NaN when the motion leaves the surface's box or grows too fast first.
 */
const shootBack = (
  w: PuttGround,
  hole: Point,
  arrival: number,
  ball: Point,
  arm: number,
): number => {
  const { back, ground, spot } = w;
  placeAtHole(w, hole, arrival, w.arrivalSpeed, back.state);
  begin(back, ground, -FIRST_STEP);
  let armed = false;
  while (back.time > -MAX_TIME) {
    advance(back, ground, MAX_TIME);
    const c = closing(back.state, ball);
    if (c > 0) armed = true;
    else if (armed && -back.time >= arm) {
      const t = timeOfSign(back, closing, ball, [back.from, back.time], spot);
      stateAt(back, t, spot, 8);
      return t;
    }
    if (!isInBounds(w, back.state)) return Number.NaN;
    if (Math.hypot(back.state[2], back.state[3]) > MAX_LAUNCH_SPEED) return Number.NaN;
  }
  return Number.NaN;
};

/** Miss below which the last linear correction of Newton leaves some 10 micrometres, metres. */
const CLOSE = 3e-3;
const MAX_TURN = 0.4;
/** Local tolerance of a round that only has to come nearer. */
const ROUGH_TOLERANCE = 1e-4;
/** Miss from which the next round is the last, metres. */
const NEAR = 0.15;

const scratch = new Float64Array(12);

/**
 * Newton's iteration on the arrival direction, the speed over the hole being given: each round rolls
 * back from the hole with the variational equation and corrects the direction by the miss at the ball.
 * Returns null when it does not converge.
 */
const aimFromHole = (
  w: PuttGround,
  hole: Point,
  ball: Point,
  guess: number,
  arm = 0,
): Launch | null => {
  let arrival = guess;
  let last = Infinity;
  w.back.tolerance = ROUGH_TOLERANCE;
  for (let round = 0; round < 14; round++) {
    const t = shootBack(w, hole, arrival, ball, arm);
    if (Number.isNaN(t)) return null;
    const s = w.spot;
    const miss = passing(s, ball);
    const speed = Math.hypot(s[2], s[3]);
    const rate = (s[4] * s[3] - s[5] * s[2]) / speed;
    const turn = -miss / rate;
    if (!Number.isFinite(turn)) return null;
    const wasRough = w.back.tolerance !== SOLVE_TOLERANCE;
    if (Math.abs(miss) < NEAR) w.back.tolerance = SOLVE_TOLERANCE;
    if (!wasRough && Math.abs(miss) < CLOSE && Math.abs(turn) < 0.01) {
      const dt = -(s[4] * s[2] + s[5] * s[3]) * (turn / (speed * speed));
      const [vx, vy, vxTurn, vyTurn] = [s[2], s[3], s[6], s[7]];
      rolling(w.ground, s, 0, scratch);
      return {
        vx: vx + vxTurn * turn + scratch[2] * dt,
        vy: vy + vyTurn * turn + scratch[3] * dt,
        arrival: arrival + turn,
        time: -(t + dt),
      };
    }
    // A miss that grows twice over shows that the guess was outside Newton's basin.
    if (round > 5 && Math.abs(miss) > 2 * last) return null;
    last = Math.abs(miss);
    arrival += Math.max(-MAX_TURN, Math.min(MAX_TURN, turn));
  }
  return null;
};

/**
 * A first arrival direction: the putt over the plane that touches the ground half-way, to first order in
 * its break.
 */
const guessArrival = (w: PuttGround, hole: Point, ball: Point): number => {
  const lx = hole[0] - ball[0];
  const ly = hole[1] - ball[1];
  const length = Math.hypot(lx, ly);
  const { ground } = w;
  ground.surface.at((hole[0] + ball[0]) / 2, (hole[1] + ball[1]) / 2, ground.jet);
  const qx = ground.jet[HX] * ground.relief;
  const qy = ground.jet[HY] * ground.relief;
  const along = ROLLING_GRAVITY * ((qx * lx + qy * ly) / length);
  const across = -ROLLING_GRAVITY * ((qy * lx - qx * ly) / length);
  const v = w.arrivalSpeed;
  const slowing = Math.max(0.1 * w.deceleration, w.deceleration + along);
  const time = (Math.sqrt(v * v + 2 * slowing * length) - v) / slowing;
  const bend = (across * time * time) / (2 * length);
  return Math.atan2(ly, lx) + Math.max(-1, Math.min(1, bend));
};

/** Launch speed along the ground, m/s. */
export const launchSpeedOf = (w: PuttGround, ball: Point, launch: Launch): number => {
  w.surface.at(ball[0], ball[1], w.ground.jet);
  return groundSpeed(w.ground.jet[HX], w.ground.jet[HY], launch.vx, launch.vy);
};

/**
 * Newton from the first guess; when that fails, a continuation that raises the ground from flat (where
 * the putt is straight) to its full relief, halving its pace where Newton loses the way.
 */
export const aimByContinuation = (w: PuttGround, hole: Point, ball: Point): Launch | null => {
  const direct = aimFromHole(w, hole, ball, guessArrival(w, hole, ball));
  if (direct !== null) return direct;
  const { ground } = w;
  let relief = 0;
  let step = 0.25;
  let arrival = Math.atan2(hole[1] - ball[1], hole[0] - ball[0]);
  let slope = 0;
  let found: Launch | null = null;
  while (relief < 1 && step > 1 / 256) {
    const next = Math.min(1, relief + step);
    ground.relief = next;
    found = aimFromHole(w, hole, ball, arrival + slope * (next - relief));
    if (found === null) {
      step /= 2;
      continue;
    }
    slope = (found.arrival - arrival) / (next - relief);
    arrival = found.arrival;
    relief = next;
  }
  ground.relief = 1;
  return relief >= 1 ? found : null;
};
