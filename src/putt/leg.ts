import type { Point } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HX, HY, JET_SIZE } from '../surface/surface.js';
import { closing, type PuttShot, passing, separation, timeOfSign } from './approach.js';
import { HOLE_RADIUS } from './capture.js';
import type { Stepper } from './integrator.js';
import { advance, begin, stateAt } from './integrator.js';
import { groundSpeed, rolling } from './motion.js';
import type { ArrivingPutt } from './putt.js';
import type { PuttGround } from './workspace.js';
import { isInBounds, MAX_TIME } from './workspace.js';

/** A ball rolled forward from its place to its closest approach to the hole's centre. */
export interface Leg {
  readonly time: number;
  /** Signed miss at the closest approach, metres: positive when it passes on the right of the centre. */
  readonly miss: number;
  /** Speed along the ground at the closest approach, m/s. */
  readonly speed: number;
  /** Horizontal velocity there. */
  readonly velocity: Point;
  /** Where the ball's centre crosses the rim. */
  readonly rim: Point;
  /** Derivatives of miss and speed by launch direction (radian) and launch speed (m/s along the ground). */
  readonly missByAim: number;
  readonly missBySpeed: number;
  readonly speedByAim: number;
  readonly speedBySpeed: number;
  /** Derivatives of the time of closest approach. */
  readonly timeByAim: number;
  readonly timeBySpeed: number;
  readonly path: readonly Point[];
}

/**
 * Local tolerance, metres and metres a second: ten times finer than the solver's first answers, since
 * this motion has the last word and some ground magnifies its errors a hundredfold.
 */
const LEG_TOLERANCE = 2e-7;

/** Spacing of the points of a path, metres at most. */
const PATH_SPACING = 0.25;

const scratch = new Float64Array(12);
const point = new Float64Array(4);

const addPoints = (s: Stepper, until: number, path: Point[]): void => {
  const stretch = Math.hypot(s.state[0] - s.start[0], s.state[1] - s.start[1]);
  const count = Math.max(1, Math.ceil(stretch / PATH_SPACING));
  for (let i = 1; i <= count; i++) {
    stateAt(s, s.from + ((until - s.from) * i) / count, point, 2);
    path.push([point[0], point[1]]);
  }
};

const rimMeasure = (state: Float64Array, target: Point): number =>
  separation(state, target) - HOLE_RADIUS;

/** Writes the tangents by launch direction and launch speed after a launch (vx, vy) from `ball`. */
const placeAtBall = (
  w: PuttGround,
  ball: Point,
  vx: number,
  vy: number,
  state: Float64Array,
): void => {
  w.surface.at(ball[0], ball[1], w.ground.jet);
  const qx = w.ground.jet[HX];
  const qy = w.ground.jet[HY];
  const climb = qx * vx + qy * vy;
  const square = vx * vx + vy * vy + climb * climb;
  // Turning at a constant speed along the ground changes the horizontal speed a little.
  const shrink = (climb * (qy * vx - qx * vy)) / square;
  state.fill(0);
  state[0] = ball[0];
  state[1] = ball[1];
  state[2] = vx;
  state[3] = vy;
  state[6] = -vy - shrink * vx;
  state[7] = vx - shrink * vy;
  const speed = Math.sqrt(square);
  state[10] = vx / speed;
  state[11] = vy / speed;
};

/**
 * Rolls forward with the variational equations. The closest approach sought is the first one after
 * `arm` seconds. Null when the ball leaves the surface's box or comes to a stand before.
 */
export const rollLeg = (
  w: PuttGround,
  { ball, hole, vx, vy }: PuttShot,
  arm: number,
  withPath = true,
): Leg | null => {
  const { forth, ground } = w;
  placeAtBall(w, ball, vx, vy, forth.state);
  forth.tolerance = LEG_TOLERANCE;
  begin(forth, ground, 0.2);
  const path: Point[] = [[ball[0], ball[1]]];
  let armed = false;
  while (forth.time < MAX_TIME) {
    advance(forth, ground, MAX_TIME);
    if (closing(forth.state, hole) < 0) armed = true;
    else if (armed && forth.time >= arm) {
      const t = timeOfSign(forth, closing, hole, [forth.from, forth.time], point);
      return legAt(w, hole, t, path, withPath);
    }
    if (withPath) addPoints(forth, forth.time, path);
    if (!isInBounds(w, forth.state)) return null;
    if (Math.hypot(forth.state[2], forth.state[3]) < 1e-4) return null;
  }
  return null;
};

const legAt = (
  w: PuttGround,
  hole: Point,
  time: number,
  path: Point[],
  withPath: boolean,
): Leg | null => {
  const { forth: s, ground, spot } = w;
  stateAt(s, time, spot, 12);
  const miss = passing(spot, hole);
  const vx = spot[2];
  const vy = spot[3];
  const flat = Math.hypot(vx, vy);
  rolling(ground, spot, 0, scratch);
  const { jet } = ground;
  const speed = groundSpeed(jet[HX], jet[HY], vx, vy);
  const climb = jet[HX] * vx + jet[HY] * vy;
  // Tangents at the moment of closest approach: the time shifts so that (p - hole) . v stays zero.
  const byTangent = (at: number): readonly [number, number, number] => {
    const dt = -(spot[at] * vx + spot[at + 1] * vy) / (flat * flat);
    const dx = spot[at] + vx * dt;
    const dy = spot[at + 1] + vy * dt;
    const dvx = spot[at + 2] + scratch[2] * dt;
    const dvy = spot[at + 3] + scratch[3] * dt;
    const dqx = jet[3] * dx + jet[4] * dy;
    const dqy = jet[4] * dx + jet[5] * dy;
    const dClimb = dqx * vx + dqy * vy + jet[HX] * dvx + jet[HY] * dvy;
    return [(dx * vy - dy * vx) / flat, (vx * dvx + vy * dvy + climb * dClimb) / speed, dt];
  };
  const [missByAim, speedByAim, timeByAim] = byTangent(4);
  const [missBySpeed, speedBySpeed, timeBySpeed] = byTangent(8);
  // The step may hold the rim crossing, or an earlier one did when the closest approach lies early in it.
  const inside = separation(s.start, hole) < HOLE_RADIUS;
  const atRim = inside ? s.from : timeOfSign(s, rimMeasure, hole, [s.from, time], point);
  stateAt(s, atRim, point, 4);
  let rim: Point = [point[0], point[1]];
  if (inside) {
    // Walk back along the straight line to the rim: less than a ball's width.
    const along = Math.sqrt(Math.max(0, HOLE_RADIUS ** 2 - miss * miss));
    rim = [spot[0] - (vx / flat) * along, spot[1] - (vy / flat) * along];
  }
  if (withPath) addPoints(s, time, path);
  return {
    time,
    miss,
    speed,
    velocity: [vx, vy],
    rim,
    missByAim,
    missBySpeed,
    speedByAim,
    speedBySpeed,
    timeByAim,
    timeBySpeed,
    path,
  };
};

/** Horizontal velocity, m/s, of a ball sent off in a direction of plan (unit vector) at a speed along the ground. */
export const velocityInPlan = (
  surface: Surface,
  ball: Point,
  [ux, uy]: Point,
  speed: number,
): Point => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(ball[0], ball[1], jet);
  const flat = speed / groundSpeed(jet[HX], jet[HY], ux, uy);
  return [ux * flat, uy * flat];
};

/** Horizontal velocity with which a solved putt leaves the ball, m/s. */
export const launchVelocity = (
  surface: Surface,
  { ball, hole, length, aimAngle, launchSpeed }: ArrivingPutt,
): Point => {
  const ux = (hole[0] - ball[0]) / length;
  const uy = (hole[1] - ball[1]) / length;
  const [c, s] = [Math.cos(aimAngle), Math.sin(aimAngle)];
  return velocityInPlan(surface, ball, [c * ux - s * uy, s * ux + c * uy], launchSpeed);
};
