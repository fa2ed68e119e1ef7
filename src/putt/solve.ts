import type { Point } from '../geometry.js';
import { insideRing } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { HOLE_RADIUS } from './capture.js';
import type { Leg } from './leg.js';
import { rollLeg } from './leg.js';
import type { PuttSettings, PuttSolution, PuttStatus, Side } from './putt.js';
import { rollToRest } from './roll.js';
import type { Launch } from './shoot.js';
import { aimByContinuation, launchSpeedOf } from './shoot.js';
import { captureWindows } from './windows.js';
import type { PuttGround } from './workspace.js';
import { paceOf, puttGround } from './workspace.js';

/** Aim beside the hole below which a putt counts as straight, metres: the solver's own accuracy. */
const STRAIGHT = 5e-4;

/** Direction from the straight line to the hole, in (-pi, pi], positive to the left of it. */
const aimAngleOf = (ball: Point, hole: Point, vx: number, vy: number): number => {
  const lx = hole[0] - ball[0];
  const ly = hole[1] - ball[1];
  return Math.atan2(lx * vy - ly * vx, lx * vx + ly * vy);
};

/** Clock hours, 0 < h <= 12, of a place on the rim, seen from the ball: 6 is the front of the hole. */
export const entryClockOf = (ball: Point, hole: Point, rim: Point): number => {
  const length = Math.hypot(hole[0] - ball[0], hole[1] - ball[1]);
  const ux = (hole[0] - ball[0]) / length;
  const uy = (hole[1] - ball[1]) / length;
  const px = rim[0] - hole[0];
  const py = rim[1] - hole[1];
  const hours = (Math.atan2(px * uy - py * ux, px * ux + py * uy) * 6) / Math.PI;
  return hours <= 0 ? hours + 12 : hours;
};

/** What a path does that never leaves the green, or does. The ball's own place may lie on the edge. */
const staysOnGreen = (surface: Surface, path: readonly Point[]): boolean =>
  path.every(([x, y], i) => i === 0 || insideRing(surface.outline, x, y));

/** Turns a launch and its leg to a solution; the ball's path is the leg's. */
export const solutionOf = (
  w: PuttGround,
  ball: Point,
  hole: Point,
  launch: Launch,
  leg: Leg,
): PuttSolution => {
  const { vx, vy } = launch;
  const length = Math.hypot(hole[0] - ball[0], hole[1] - ball[1]);
  const launchSpeed = launchSpeedOf(w, ball, launch);
  const aimAngle = aimAngleOf(ball, hole, vx, vy);
  const aimOffset = length * Math.tan(aimAngle);
  const windows = captureWindows(w, ball, hole, vx, vy, leg);
  const onward = rollToRest(w, hole, leg.velocity);
  const breakSide: Side =
    Math.abs(aimOffset) < STRAIGHT ? 'straight' : aimAngle > 0 ? 'right' : 'left';
  const status: PuttStatus = staysOnGreen(w.surface, leg.path) ? 'holed' : 'leaves-green';
  return {
    status,
    ball,
    hole,
    length,
    launchSpeed,
    aimAngle,
    aimOffset,
    pace: paceOf(w, launchSpeed),
    arrivalSpeed: leg.speed,
    entryClock: entryClockOf(ball, hole, leg.rim),
    breakSide,
    time: leg.time,
    wouldRollPast: onward.status === 'short' ? onward.rolled : null,
    aimWindow: [aimAngle + windows.aim[0], aimAngle + windows.aim[1]],
    speedWindow: [launchSpeed + windows.speed[0], launchSpeed + windows.speed[1]],
    path: leg.path,
  };
};

/**
 * The putt from `ball` over the centre of `hole` at the asked pace past it. A ball inside the hole's
 * rim has no putt: RangeError.
 */
export const solvePutt = (
  surface: Surface,
  ball: Point,
  hole: Point,
  settings: PuttSettings,
): PuttSolution => solveOn(puttGround(surface, settings), ball, hole);

/** The same on ground made ready before, for many putts. */
export const solveOn = (w: PuttGround, ball: Point, hole: Point): PuttSolution => {
  const length = Math.hypot(hole[0] - ball[0], hole[1] - ball[1]);
  if (!(length > HOLE_RADIUS)) throw new RangeError('the ball lies in the hole');
  const launch = aimByContinuation(w, hole, ball);
  const leg =
    launch === null ? null : rollLeg(w, ball, hole, launch.vx, launch.vy, 0.8 * launch.time);
  if (launch === null || leg === null) return withoutPace(w, ball, hole, length);
  return solutionOf(w, ball, hole, launch, leg);
};

/** The answer when no pace brings the ball over the hole as slowly as asked. */
const withoutPace = (_w: PuttGround, ball: Point, hole: Point, length: number): PuttSolution => ({
  status: 'never-stops',
  ball,
  hole,
  length,
  launchSpeed: 0,
  aimAngle: 0,
  aimOffset: 0,
  pace: 0,
  arrivalSpeed: 0,
  entryClock: 6,
  breakSide: 'straight',
  time: 0,
  wouldRollPast: null,
  aimWindow: [0, 0],
  speedWindow: [0, 0],
  path: [ball],
});
