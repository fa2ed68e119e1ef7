import type { Point } from '../geometry.js';
import { degreesToRadians } from '../units.js';
import type { Fan } from './fan.js';
import { isSame, launchesFrom } from './fan-patch.js';
import type { Leg } from './leg.js';
import { rollLeg } from './leg.js';
import type { Launch } from './shoot.js';
import { aimByContinuation, launchSpeedOf } from './shoot.js';
import type { PuttGround } from './workspace.js';

/** A launch and the forward motion that confirms it. */
export interface Candidate {
  readonly launch: Launch;
  readonly launchSpeed: number;
  readonly leg: Leg;
  readonly demand: number;
  /** Whether it sets out toward the hole; a ball can also be sent up a slope that gives it back. */
  readonly toward: boolean;
}

/** What the forward motion may miss by, metres and metres a second. */
const FINE = 1e-4;

/**
 * A player's spread, by which the demands of several solutions are compared: 1 degree of direction and
 * 6 % of speed. Only their ratio matters. Common practice, no source.
 */
const AIM_SPREAD = degreesToRadians(1);
const SPEED_SPREAD = 0.06;

/** Root mean square miss at the hole that a player's spread gives, metres. */
const demandOf = (leg: Leg, launchSpeed: number): number =>
  Math.hypot(leg.missByAim * AIM_SPREAD, leg.missBySpeed * SPEED_SPREAD * launchSpeed);

/**
 * Rolls a launch forward and corrects it by Newton on both sensitivities until it passes over the
 * centre at the asked speed. Null when it does not come to that.
 */
export const confirm = (
  w: PuttGround,
  ball: Point,
  hole: Point,
  launch: Launch,
): Candidate | null => {
  let { vx, vy } = launch;
  for (let round = 0; round < 6; round++) {
    const leg = rollLeg(w, { ball, hole, vx, vy }, 0.8 * launch.time);
    if (leg === null) return null;
    const tooFast = leg.speed - w.arrivalSpeed;
    const det = leg.missByAim * leg.speedBySpeed - leg.missBySpeed * leg.speedByAim;
    const turn = -(leg.miss * leg.speedBySpeed - tooFast * leg.missBySpeed) / det;
    const gain = -(tooFast * leg.missByAim - leg.miss * leg.speedByAim) / det;
    if (!Number.isFinite(turn) || !Number.isFinite(gain) || Math.abs(turn) > 0.5) return null;
    const launchSpeed = launchSpeedOf(w, ball, { ...launch, vx, vy });
    const keep = Math.max(0.3, 1 + gain / launchSpeed);
    const c = Math.cos(turn) * keep;
    const s = Math.sin(turn) * keep;
    [vx, vy] = [c * vx - s * vy, s * vx + c * vy];
    if (Math.abs(leg.miss) < FINE && Math.abs(tooFast) < FINE) {
      // The correction of what is left is taken, too; the path shown is within FINE of it.
      return {
        launch: {
          ...launch,
          vx,
          vy,
          time: leg.time + leg.timeByAim * turn + leg.timeBySpeed * gain,
        },
        launchSpeed: launchSpeed * keep,
        leg,
        demand: demandOf(leg, launchSpeed),
        toward: vx * (hole[0] - ball[0]) + vy * (hole[1] - ball[1]) > 0,
      };
    }
  }
  return null;
};

/** All putts from a place, confirmed, the least demanding first. */
export const candidatesFrom = (w: PuttGround, fan: Fan, ball: Point): Candidate[] => {
  const launches = launchesFrom(fan, ball[0], ball[1]);
  if (launches.length === 0) {
    const direct = aimByContinuation(w, fan.hole, ball);
    if (direct !== null) launches.push(direct);
  }
  const found: Candidate[] = [];
  for (const launch of launches) {
    const candidate = confirm(w, ball, fan.hole, launch);
    if (candidate === null) continue;
    if (!found.some((other) => isSame(other.launch, candidate.launch))) found.push(candidate);
  }
  return found.sort((a, b) => a.demand - b.demand);
};

/** Whether a path never leaves the green. The ball's own place may lie on the edge. */
export const staysOnGreen = (w: PuttGround, path: readonly Point[]): boolean =>
  path.every((at, i) => i === 0 || w.onGreen(at[0], at[1]));

/**
 * The least demanding putt that stays on the green and sets out toward the hole; then one that stays on
 * the green; then one toward the hole; then any.
 */
export const leastDemanding = (
  w: PuttGround,
  candidates: readonly Candidate[],
): Candidate | null => {
  let best: Candidate | null = null;
  let bestRank = -1;
  for (const candidate of candidates) {
    const rank = (staysOnGreen(w, candidate.leg.path) ? 2 : 0) + (candidate.toward ? 1 : 0);
    if (rank > bestRank || (rank === bestRank && candidate.demand < best!.demand)) {
      best = candidate;
      bestRank = rank;
    }
  }
  return best;
};
