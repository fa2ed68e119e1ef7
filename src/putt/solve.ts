import type { Point } from '../geometry.js';
import { distance } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import type { Candidate } from './candidates.js';
import { candidatesFrom, leastDemanding, staysOnGreen } from './candidates.js';
import { HOLE_RADIUS } from './capture.js';
import type { Fan } from './fan.js';
import { fanFrom } from './fan.js';
import { speedForRoll } from './green-speed.js';
import type { ArrivingPutt, PuttSettings, PuttSolution, PuttStatus, Side } from './putt.js';
import { rollToRest } from './roll.js';
import { captureWindows } from './windows.js';
import type { PuttGround } from './workspace.js';
import { MAX_LAUNCH_SPEED, paceOf, puttGround } from './workspace.js';

/** Local tolerance of the roll past the hole: it is told to the centimetre. */
const ONWARD_TOLERANCE = 2e-5;

/** Aim beside the hole below which a putt counts as straight, metres: the solver's own accuracy. */
const STRAIGHT = 5e-4;

/** Direction from the straight line to the hole, in (-pi, pi], positive to the left of it. */
const aimAngleOf = (ball: Point, hole: Point, vx: number, vy: number): number => {
  const lx = hole[0] - ball[0];
  const ly = hole[1] - ball[1];
  return Math.atan2(lx * vy - ly * vx, lx * vx + ly * vy);
};

/** Clock hours, 0 < h <= 12, of a place on the rim, seen from the ball: 6 is the front of the hole. */
const entryClockOf = (ball: Point, hole: Point, rim: Point): number => {
  const length = Math.hypot(hole[0] - ball[0], hole[1] - ball[1]);
  const ux = (hole[0] - ball[0]) / length;
  const uy = (hole[1] - ball[1]) / length;
  const px = rim[0] - hole[0];
  const py = rim[1] - hole[1];
  const hours = (Math.atan2(px * uy - py * ux, px * ux + py * uy) * 6) / Math.PI;
  return hours <= 0 ? hours + 12 : hours;
};

/** What a confirmed launch is as a putt. */
export const arrivalOf = (
  w: PuttGround,
  ball: Point,
  hole: Point,
  { launch, launchSpeed, leg }: Candidate,
): ArrivingPutt => {
  const { vx, vy } = launch;
  const length = distance(ball, hole);
  const aimAngle = aimAngleOf(ball, hole, vx, vy);
  const aimOffset = length * Math.tan(aimAngle);
  const breakSide: Side =
    Math.abs(aimOffset) < STRAIGHT ? 'straight' : aimAngle > 0 ? 'right' : 'left';
  const status: PuttStatus = staysOnGreen(w, leg.path) ? 'holed' : 'leaves-green';
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
    time: launch.time,
    path: leg.path,
  };
};

/** The same with its windows and what it would roll past. */
const solutionOf = (
  w: PuttGround,
  ball: Point,
  hole: Point,
  candidate: Candidate,
): PuttSolution => {
  const { launch, leg } = candidate;
  const putt = arrivalOf(w, ball, hole, candidate);
  const windows = captureWindows(w, { ball, hole, vx: launch.vx, vy: launch.vy }, leg);
  const onward = rollToRest(w, hole, leg.velocity, null, {
    spacing: Infinity,
    tolerance: ONWARD_TOLERANCE,
  });
  const { aimAngle, launchSpeed } = putt;
  return {
    ...putt,
    wouldRollPast: onward.status === 'short' ? onward.rolled : null,
    aimWindow: [aimAngle + windows.aim[0], aimAngle + windows.aim[1]],
    speedWindow: [launchSpeed + windows.speed[0], launchSpeed + windows.speed[1]],
  };
};

/**
 * The putt from `ball` over the centre of `hole` at the asked pace past it, the least demanding when
 * there are several. When no pace holds it, the status is not 'holed' and the figures are those of the
 * putt that comes nearest: the one that arrives slowest. A ball inside the rim is a RangeError.
 */
export const solvePutt = (
  surface: Surface,
  ball: Point,
  hole: Point,
  settings: PuttSettings,
): PuttSolution => solveOn(puttGround(surface, settings), ball, hole);

/** How far from the hole a fan reaches for a putt of such a length: room for a path that swings wide, or rolls up and back. */
export const reachOf = (length: number): number => 1.6 * length + 2;

/** A fan for one ball. */
export const fanFor = (w: PuttGround, ball: Point, hole: Point): Fan =>
  fanFrom(w, hole, reachOf(distance(ball, hole)));

/** The same on ground made ready before, by a fan that may serve many balls. */
export const solveOn = (
  w: PuttGround,
  ball: Point,
  hole: Point,
  fan: Fan = fanFor(w, ball, hole),
): PuttSolution => {
  if (!(distance(ball, hole) > HOLE_RADIUS)) throw new RangeError('the ball lies in the hole');
  const best = leastDemanding(w, candidatesFrom(w, fan, ball));
  return best === null ? withoutPace(w, ball, hole) : solutionOf(w, ball, hole, best);
};

/** Steps in which a slowest arrival is sought, and their refinements. */
const FASTER = 1.25;
const REFINEMENTS = 7;
const MAX_ARRIVAL_SPEED = 7;

/**
 * The answer when no pace brings the ball over the hole as slowly as asked: the slowest arrival there
 * is, to about 0.2 %; its status is 'never-stops'. Where nothing reaches the hole at all, the straight
 * putt at the greatest speed and what becomes of it.
 */
const withoutPace = (w: PuttGround, ball: Point, hole: Point): PuttSolution => {
  const at = (past: number): { readonly w: PuttGround; readonly best: Candidate | null } => {
    const faster = puttGround(w.surface, { ...w.settings, past });
    return {
      w: faster,
      best: leastDemanding(faster, candidatesFrom(faster, fanFor(faster, ball, hole), ball)),
    };
  };
  let low = w.settings.past;
  let past = low;
  let found: ReturnType<typeof at> | null = null;
  while (found === null) {
    past *= FASTER;
    if (speedForRoll(w.deceleration, past) > MAX_ARRIVAL_SPEED) return outOfReach(w, ball, hole);
    const trial = at(past);
    if (trial.best !== null) found = trial;
    else low = past;
  }
  for (let i = 0; i < REFINEMENTS; i++) {
    const middle = (low + past) / 2;
    const trial = at(middle);
    if (trial.best === null) low = middle;
    else {
      past = middle;
      found = trial;
    }
  }
  const solution = solutionOf(found.w, ball, hole, found.best as Candidate);
  return { ...solution, status: 'never-stops' };
};

const outOfReach = (w: PuttGround, ball: Point, hole: Point): PuttSolution => {
  const length = distance(ball, hole);
  const velocity: Point = [
    (MAX_LAUNCH_SPEED * (hole[0] - ball[0])) / length,
    (MAX_LAUNCH_SPEED * (hole[1] - ball[1])) / length,
  ];
  const roll = rollToRest(w, ball, velocity);
  return {
    status: roll.status,
    ball,
    hole,
    length,
    launchSpeed: MAX_LAUNCH_SPEED,
    aimAngle: 0,
    aimOffset: 0,
    pace: paceOf(w, MAX_LAUNCH_SPEED),
    arrivalSpeed: 0,
    entryClock: 6,
    breakSide: 'straight',
    time: roll.time,
    wouldRollPast: null,
    aimWindow: [0, 0],
    speedWindow: [MAX_LAUNCH_SPEED, MAX_LAUNCH_SPEED],
    path: roll.path,
  };
};
