import type { Point } from '../geometry.js';
import { HX, HY } from '../surface/surface.js';
import { closing, type PuttShot, passing, separation, timeOfSign } from './approach.js';
import { captureReach, HOLE_RADIUS } from './capture.js';
import { ROLLING_GRAVITY } from './green-speed.js';
import type { Stepper } from './integrator.js';
import { advance, begin, stateAt } from './integrator.js';
import { groundSpeed } from './motion.js';
import type { PuttStatus } from './putt.js';
import type { PuttGround } from './workspace.js';
import { isInBounds, MAX_TIME, SOLVE_TOLERANCE } from './workspace.js';

/** Speed at which a ball on ground that holds it is taken to be at rest, m/s: less than a micrometre to go. */
const REST_SPEED = 5e-4;

const spot = new Float64Array(6);

/** Local tolerance of the motions that only ask whether the hole holds them: 0.1 mm of the window. */
const WINDOW_TOLERANCE = 2e-5;

const place = (w: PuttGround, from: Point, vx: number, vy: number, tolerance: number): Stepper => {
  const { rest } = w;
  rest.tolerance = tolerance;
  rest.state.fill(0);
  rest.state[0] = from[0];
  rest.state[1] = from[1];
  rest.state[2] = vx;
  rest.state[3] = vy;
  begin(rest, w.ground, 0.2);
  return rest;
};

/**
 * Whether a ball that has all but stopped stays: resistance against the pull down the slope. When it
 * does not stay it is sent off straight down, since a ball that stops uphill turns there.
 */
const standsOrTurns = (w: PuttGround, s: Stepper): boolean => {
  const { jet } = w.ground;
  w.surface.at(s.state[0], s.state[1], jet);
  const grade = Math.hypot(jet[HX], jet[HY]);
  if (ROLLING_GRAVITY * grade <= w.deceleration) return true;
  const speed = 2 * REST_SPEED;
  s.state[2] = (-jet[HX] / grade) * speed;
  s.state[3] = (-jet[HY] / grade) * speed;
  s.derivative(w.ground, s.state, 0, s.k7);
  return false;
};

export interface Roll {
  readonly status: PuttStatus;
  readonly end: Point;
  readonly time: number;
  /** Distance rolled along the ground, metres. */
  readonly rolled: number;
  readonly path: readonly Point[];
}

const rimMeasure = (state: Float64Array, target: Point): number =>
  separation(state, target) - HOLE_RADIUS;

/** How finely a roll is computed and told, metres. */
export interface RollDetail {
  /** Between the points of its path. */
  readonly spacing?: number;
  /** Local error of a step. */
  readonly tolerance?: number;
}

/**
 * Rolls a ball until it rests ('short'), falls ('holed', by Holmes's bound; no hole given, no fall),
 * leaves the green slowing down ('leaves-green') or gaining speed ('never-stops', also when it still
 * rolls after a minute). The launch is a horizontal velocity, m/s.
 */
export const rollToRest = (
  w: PuttGround,
  from: Point,
  velocity: Point,
  hole: Point | null = null,
  { spacing = 0.25, tolerance = SOLVE_TOLERANCE }: RollDetail = {},
): Roll => {
  const s = place(w, from, velocity[0], velocity[1], tolerance);
  const path: Point[] = [[from[0], from[1]]];
  // A ball may start on the collar; it has left the green only once it was on it.
  let wasOn = w.onGreen(from[0], from[1]);
  const ended = (status: PuttStatus, at: number): Roll => {
    stateAt(s, at, spot, 6);
    path.push([spot[0], spot[1]]);
    return { status, end: [spot[0], spot[1]], time: spot[4], rolled: spot[5], path };
  };
  while (s.state[4] < MAX_TIME) {
    advance(s, w.ground, 1);
    if (hole !== null) {
      const at = rimCrossing(s, hole);
      if (at !== null && isHeld(w, hole, at, s)) return ended('holed', at);
    }
    const isOn = w.onGreen(s.state[0], s.state[1]);
    if (wasOn && !isOn) {
      return ended(isGaining(w, s) ? 'never-stops' : 'leaves-green', edgeCrossing(w, s));
    }
    wasOn = isOn;
    if (!isInBounds(w, s.state)) return ended('leaves-green', s.time);
    const count = Math.ceil((s.state[5] - s.start[5]) / spacing);
    for (let i = 1; i < count; i++) {
      stateAt(s, s.from + ((s.time - s.from) * i) / count, spot, 2);
      path.push([spot[0], spot[1]]);
    }
    if (Math.hypot(s.state[2], s.state[3]) < REST_SPEED && standsOrTurns(w, s)) {
      return ended('short', s.time);
    }
    path.push([s.state[0], s.state[1]]);
  }
  return ended('never-stops', s.time);
};

const isGaining = (w: PuttGround, s: Stepper): boolean => {
  const { jet } = w.ground;
  w.surface.at(s.state[0], s.state[1], jet);
  const [vx, vy] = [s.state[2], s.state[3]];
  const climb = (jet[HX] * vx + jet[HY] * vy) / groundSpeed(jet[HX], jet[HY], vx, vy);
  return -climb * ROLLING_GRAVITY > w.deceleration;
};

/** The time within the last step at which the ball crosses the edge of the green, by bisection. */
const edgeCrossing = (w: PuttGround, s: Stepper): number => {
  let low = s.from;
  let high = s.time;
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    stateAt(s, middle, spot, 2);
    if (w.onGreen(spot[0], spot[1])) low = middle;
    else high = middle;
  }
  return high;
};

/** The clock's reading in the last step at which the ball's centre crosses the rim inward, or null. */
const rimCrossing = (s: Stepper, hole: Point): number | null => {
  if (separation(s.start, hole) <= HOLE_RADIUS) return null;
  if (separation(s.state, hole) <= HOLE_RADIUS) {
    return timeOfSign(s, rimMeasure, hole, [s.from, s.time], spot);
  }
  if (closing(s.start, hole) >= 0 || closing(s.state, hole) < 0) return null;
  const nearest = timeOfSign(s, closing, hole, [s.from, s.time], spot);
  stateAt(s, nearest, spot, 4);
  if (separation(spot, hole) > HOLE_RADIUS) return null;
  return timeOfSign(s, rimMeasure, hole, [s.from, nearest], spot);
};

const isHeld = (w: PuttGround, hole: Point, at: number, s: Stepper): boolean => {
  stateAt(s, at, spot, 4);
  w.surface.at(spot[0], spot[1], w.ground.jet);
  const speed = groundSpeed(w.ground.jet[HX], w.ground.jet[HY], spot[2], spot[3]);
  return Math.abs(passing(spot, hole)) <= captureReach(speed);
};

/**
 * By how much a launch is held by the hole, metres: positive inside Holmes's bound, zero on it. The
 * least of the room beside the centre line and of the level roll left at the rim; negative by the
 * distance missed when the ball never meets the rim. Only approaches after `arm` seconds count.
 */
export const captureMargin = (
  w: PuttGround,
  { ball, hole, vx, vy }: PuttShot,
  arm: number,
): number => {
  const s = place(w, ball, vx, vy, WINDOW_TOLERANCE);
  while (s.state[4] < MAX_TIME) {
    advance(s, w.ground, 1);
    const late = s.state[4] >= arm;
    if (late && separation(s.start, hole) < HOLE_RADIUS + 2) {
      const at = rimCrossing(s, hole);
      if (at !== null) return marginAtRim(w, hole, s, at);
      if (closing(s.start, hole) < 0 && closing(s.state, hole) >= 0) {
        const nearest = timeOfSign(s, closing, hole, [s.from, s.time], spot);
        stateAt(s, nearest, spot, 4);
        return HOLE_RADIUS - separation(spot, hole) - HOLE_RADIUS / 2;
      }
    }
    if (Math.hypot(s.state[2], s.state[3]) < REST_SPEED && standsOrTurns(w, s)) break;
    if (!isInBounds(w, s.state)) break;
  }
  return HOLE_RADIUS - separation(s.state, hole);
};

const marginAtRim = (w: PuttGround, hole: Point, s: Stepper, at: number): number => {
  stateAt(s, at, spot, 4);
  w.surface.at(spot[0], spot[1], w.ground.jet);
  const speed = groundSpeed(w.ground.jet[HX], w.ground.jet[HY], spot[2], spot[3]);
  const beside = captureReach(speed) - Math.abs(passing(spot, hole));
  return Math.min(beside, (speed * speed) / (2 * w.deceleration));
};
