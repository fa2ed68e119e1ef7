import { distance, type Point } from '../geometry.js';
import type { PuttShot } from './approach.js';
import { HOLE_RADIUS } from './capture.js';
import { rollForSpeed, speedForRoll } from './green-speed.js';
import { type Leg, launchVelocity, rollLeg, velocityInPlan } from './leg.js';
import type { ArrivingPutt, Quadrant } from './putt.js';
import { captureWindows, type Windows } from './windows.js';
import type { PuttGround } from './workspace.js';

/** What one of the four putts keeps when it is played by the marker; shares from 0 to 1. */
export interface MarkedPutt {
  readonly quadrant: Quadrant;
  /** Horizontal velocity that the marker asks for, m/s. */
  readonly velocity: Point;
  /** The length of the level putt with its launch speed, metres. */
  readonly pace: number;
  /** Of the room for error to the nearer side that the putt solved by itself has: of aim, and of pace. */
  readonly aimKept: number;
  readonly paceKept: number;
  /** The lesser of the two. */
  readonly kept: number;
}

/** A place for the marker, and what becomes of the four putts there. */
export interface MarkerPlace {
  readonly at: Point;
  /** Metres uphill of the hole's centre, and to the right of the fall line, looking up it. */
  readonly uphill: number;
  readonly right: number;
  readonly putts: readonly MarkedPutt[];
  /** The least that one of them keeps. */
  readonly least: number;
}

/**
 * The one marker of four putts. 'serves': it lies outside the cup. 'in the cup': on ground so level only a
 * place within the hole serves. 'none': at no place do all four keep enough; the best one is told all the same.
 */
export interface Marker {
  readonly verdict: 'serves' | 'in the cup' | 'none';
  readonly best: MarkerPlace;
  /** How far uphill of the hole pace alone would have it, the mean of above and below, and the aim of the sides. Metres. */
  readonly asks: { readonly pace: number; readonly sides: number };
}

/** The four tees with the putts that are solved from them. */
export interface MarkedStation {
  readonly hole: Point;
  /** Unit vector downhill. */
  readonly fall: Point;
  /** Metres from the hole to each tee. */
  readonly distance: number;
  readonly putts: readonly { readonly quadrant: Quadrant; readonly putt: ArrivingPutt }[];
}

/**
 * Least share of its room for error that each putt must keep. At a stimp of 12 ft and 4 % a strip of less than an inch
 * holds all four by a hair; nobody lays a marker so. Common practice, no source.
 */
const LEAST_KEPT = 0.2;

/** A marker is a disc that a ball rolls over; beside the cup its middle lies so far from the rim, metres. */
const MARKER_RADIUS = 0.012;
/** The least distance of a marker's middle from that of the hole, metres. */
const OUTSIDE_CUP = HOLE_RADIUS + MARKER_RADIUS;

/** A putt as solved, with its room for error. */
interface OwnPutt {
  readonly quadrant: Quadrant;
  readonly shot: PuttShot;
  readonly launchSpeed: number;
  readonly direction: number;
  readonly windows: Windows;
  readonly leg: Leg;
}

const ownPutt = (
  w: PuttGround,
  { quadrant, putt }: MarkedStation['putts'][number],
): OwnPutt | null => {
  const [vx, vy] = launchVelocity(w.surface, putt);
  const shot = { ball: putt.ball, hole: putt.hole, vx, vy };
  const leg = rollLeg(w, shot, 0.8 * putt.time, false);
  if (leg === null) return null;
  const windows = captureWindows(w, shot, leg);
  const own = {
    quadrant,
    shot,
    launchSpeed: putt.launchSpeed,
    direction: Math.atan2(vy, vx),
    windows,
    leg,
  };
  return roomOf(windows.aim) > 0 && roomOf(windows.speed) > 0 ? own : null;
};

/** Room to the nearer edge of a window about its nought. */
const roomOf = ([low, high]: readonly [number, number]): number => Math.min(-low, high);

const turned = (angle: number): number => Math.atan2(Math.sin(angle), Math.cos(angle));

/**
 * How a marker has a putt played: straight at it. From above and below as to a hole on the level there, at the
 * same pace past it; from the sides at the putt's own pace.
 */
const playedAt = (
  w: PuttGround,
  { quadrant, shot: { ball }, launchSpeed }: OwnPutt,
  at: Point,
): { readonly direction: number; readonly speed: number } => {
  const isPaced = quadrant === 'above' || quadrant === 'below';
  return {
    direction: Math.atan2(at[1] - ball[1], at[0] - ball[0]),
    speed: isPaced
      ? speedForRoll(w.deceleration, distance(ball, at) + w.settings.past)
      : launchSpeed,
  };
};

const share = (room: number, own: number): number => Math.max(0, Math.min(1, room / own));

/** What a putt keeps, by its own windows: of aim at its own speed, of speed at its own aim. Costs no motion. */
const keptByOwn = (w: PuttGround, own: OwnPutt, at: Point): number => {
  const { direction, speed } = playedAt(w, own, at);
  const { aim, speed: pace } = own.windows;
  const turn = turned(direction - own.direction);
  const gain = speed - own.launchSpeed;
  const aimShare = Math.min(turn - aim[0], aim[1] - turn) / roomOf(aim);
  const paceShare = Math.min(gain - pace[0], pace[1] - gain) / roomOf(pace);
  // Not held at zero, so that a search knows which way is better.
  return Math.min(1, aimShare, paceShare);
};

/** The same by motions: the windows about what the marker asks for. */
const keptAt = (w: PuttGround, own: OwnPutt, at: Point): MarkedPutt => {
  const { direction, speed } = playedAt(w, own, at);
  const { ball, hole } = own.shot;
  const toward: Point = [Math.cos(direction), Math.sin(direction)];
  const velocity = velocityInPlan(w.surface, ball, toward, speed);
  const { aim, speed: pace } = captureWindows(
    w,
    { ball, hole, vx: velocity[0], vy: velocity[1] },
    own.leg,
  );
  const aimKept = share(roomOf(aim), roomOf(own.windows.aim));
  const paceKept = share(roomOf(pace), roomOf(own.windows.speed));
  return {
    quadrant: own.quadrant,
    velocity,
    pace: rollForSpeed(w.deceleration, speed),
    aimKept,
    paceKept,
    kept: Math.min(aimKept, paceKept),
  };
};

/** A place by metres uphill of the hole and to the right of its fall line. */
const placeAt = ({ hole, fall }: MarkedStation, uphill: number, right: number): Point => [
  hole[0] - fall[0] * uphill - fall[1] * right,
  hole[1] - fall[1] * uphill + fall[0] * right,
];

/** Weight of what the four keep on the mean, which settles a place where the least is alike. */
const BY_MEAN = 0.05;

const worthOf = (kept: readonly number[]): number =>
  Math.min(...kept) + (BY_MEAN / kept.length) * kept.reduce((sum, one) => sum + one, 0);

/** The grid of the first round and of those that close in on its best. */
const ROUNDS = 7;
const FIRST = { up: 40, across: 8 };
const NEXT = { up: 4, across: 4 };

/** The place that is best by `worth`, by a grid that closes in: from so far uphill of the hole to so far. */
const bestPlace = (
  { distance: far }: MarkedStation,
  from: number,
  to: number,
  worth: (uphill: number, right: number) => number,
): readonly [uphill: number, right: number] => {
  let middle: readonly [number, number] = [(from + to) / 2, 0];
  let half: readonly [number, number] = [(to - from) / 2, far / 5];
  let best = -Infinity;
  for (let round = 0; round < ROUNDS; round++) {
    const [mu, mr] = middle;
    const { up, across } = round === 0 ? FIRST : NEXT;
    for (let i = -up; i <= up; i++) {
      for (let j = -across; j <= across; j++) {
        const uphill = Math.min(to, mu + (half[0] * i) / up);
        const right = mr + (half[1] * j) / across;
        if (uphill < from) continue;
        const value = worth(uphill, right);
        if (value > best) {
          best = value;
          middle = [uphill, right];
        }
      }
    }
    half = [(1.5 * half[0]) / up, (1.5 * half[1]) / across];
  }
  return middle;
};

const told = (
  w: PuttGround,
  station: MarkedStation,
  own: readonly OwnPutt[],
  [uphill, right]: readonly [number, number],
): MarkerPlace => {
  const at = placeAt(station, uphill, right);
  const putts = own.map((one) => keptAt(w, one, at));
  return { at, uphill, right, putts, least: Math.min(...putts.map(({ kept }) => kept)) };
};

/** First step of the search by motions, metres, and its halvings. */
const STEP = 0.003;
const HALVINGS = 2;
/** Where windows and motions differ by no more than this share, the place that the windows found is the best. */
const ALIKE = 0.02;

/** Moves a place, by motions, while the least that a putt keeps grows. */
const improved = (
  w: PuttGround,
  station: MarkedStation,
  own: readonly OwnPutt[],
  from: MarkerPlace,
  outside: number,
): MarkerPlace => {
  let best = from;
  let step = STEP;
  for (let halved = 0; halved < HALVINGS; ) {
    const next = [
      [step, 0],
      [-step, 0],
      [0, step],
      [0, -step],
    ]
      .map(([du, dr]) => [best.uphill + du, best.right + dr] as const)
      .filter(([uphill]) => uphill >= outside)
      .map((place) => told(w, station, own, place))
      .reduce((a, b) => (b.least > a.least + 1e-3 ? b : a), best);
    if (next === best) {
      step /= 2;
      halved++;
    } else best = next;
  }
  return best;
};

/** A marker lies well before the tee above, which rolls over it: at most this share of the way to it. */
const FARTHEST = 0.9;

/**
 * The one marker uphill of a hole by which the four putts about it are played: from above rolling over it, from
 * below past the hole to it, from the sides over it. It is where the putt that keeps least of its room for error keeps
 * most. Null where one of the four has no putt that the hole holds.
 *
 * On a plane of grade S, to first order in S, pace has it q D uphill and the aim of the sides
 * q (D - d ln(1 + D / d)) / 2, with q = (5/7) g S / a0, D the distance of the tees and d the pace past the hole: the
 * pace's place is 2 / (1 - (d / D) ln(1 + D / d)) times as far, 3.7 at one pace and 12 in past, whatever slope and
 * speed. Derived, not quoted; tests launch all four.
 */
export const markerOf = (w: PuttGround, station: MarkedStation): Marker | null => {
  const own = station.putts.map((one) => ownPutt(w, one));
  if (own.length !== 4 || !own.every((one) => one !== null)) return null;
  const far = station.distance;
  const to = FARTHEST * far;
  if (to <= OUTSIDE_CUP) return null;
  const roughly = (uphill: number, right: number): number[] => {
    const at = placeAt(station, uphill, right);
    return own.map((one) => keptByOwn(w, one, at));
  };
  const found = (from: number, until: number): MarkerPlace => {
    const rough = bestPlace(station, from, until, (...at) => worthOf(roughly(...at)));
    const place = told(w, station, own, rough);
    return Math.abs(place.least - Math.max(0, Math.min(...roughly(...rough)))) < ALIKE
      ? place
      : improved(w, station, own, place, from);
  };
  const outside = found(OUTSIDE_CUP, to);
  const asks = asksOf(w, station);
  if (outside.least >= LEAST_KEPT) return { verdict: 'serves', best: outside, asks };
  const inside = found(0, OUTSIDE_CUP);
  return inside.least >= LEAST_KEPT
    ? { verdict: 'in the cup', best: inside, asks }
    : { verdict: 'none', best: outside, asks };
};

/** Where pace and where the sides' aim would have the marker, each by itself. */
const asksOf = (w: PuttGround, { putts, distance: far }: MarkedStation): Marker['asks'] => {
  const by = (quadrant: Quadrant): ArrivingPutt =>
    putts.find((one) => one.quadrant === quadrant)!.putt;
  const beyond = (putt: ArrivingPutt): number => putt.pace - w.settings.past - far;
  return {
    pace: (beyond(by('below')) - beyond(by('above'))) / 2,
    sides: (by('left').aimOffset - by('right').aimOffset) / 2,
  };
};
