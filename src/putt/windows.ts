import { HX, HY } from '../surface/surface.js';
import type { PuttShot } from './approach.js';
import { CAPTURE_REACH, captureReach, HOLE_RADIUS, MAX_CAPTURE_SPEED } from './capture.js';
import type { Leg } from './leg.js';
import { captureMargin } from './roll.js';
import type { PuttGround } from './workspace.js';

export interface Windows {
  /** Offsets of launch direction, radians, and of launch speed, m/s, that still hole the ball. */
  readonly aim: readonly [number, number];
  readonly speed: readonly [number, number];
}

/** Part of the window's half width to which an edge is found. */
const EDGE_TOLERANCE = 5e-3;

/** Margin taken as zero, metres: 0.5 % of the room beside the centre line. */
const CLOSE = 1.5e-4;

/**
 * The edge of a window in one direction from its middle: the offset at which `margin` falls to zero,
 * `reach` being a first estimate of it (signed). Secant within a bracket.
 */
const edgeOf = (margin: (offset: number) => number, middle: number, reach: number): number => {
  let inside = 0;
  let fInside = middle;
  let outside = reach;
  let fOutside = margin(outside);
  for (let i = 0; fOutside > CLOSE && i < 12; i++) {
    const gap = outside - inside;
    const slope = (fInside - fOutside) / gap;
    inside = outside;
    fInside = fOutside;
    const needed = slope * gap > 0 ? (fInside / slope) * 1.02 : gap;
    outside =
      inside +
      Math.sign(reach) *
        Math.min(Math.abs(3 * gap), Math.max(Math.abs(needed), Math.abs(reach) * 0.01));
    fOutside = margin(outside);
  }
  if (fOutside > -CLOSE) return outside;
  // The Illinois rule: an end that stays for a second time counts half.
  let last = 0;
  for (let i = 0; i < 40; i++) {
    const width = outside - inside;
    if (Math.abs(width) <= EDGE_TOLERANCE * Math.abs(inside + width)) break;
    const share = fInside / (fInside - fOutside);
    const probe = inside + width * Math.min(0.98, Math.max(0.02, share));
    const f = margin(probe);
    if (Math.abs(f) < CLOSE) return probe;
    if (f > 0) {
      inside = probe;
      fInside = f;
      if (last > 0) fOutside /= 2;
      last = 1;
    } else {
      outside = probe;
      fOutside = f;
      if (last < 0) fInside /= 2;
      last = -1;
    }
  }
  return inside + (outside - inside) * (fInside / (fInside - fOutside));
};

/**
 * The window of aim (at the solved speed) and of speed (at the solved aim) within which the hole still
 * holds the ball by Holmes's bound, as offsets from the solution. Both ends are 0 when the solved putt
 * itself arrives too fast to be held. Edges are found to 0.5 % of their distance.
 */
export const captureWindows = (
  w: PuttGround,
  { ball, hole, vx, vy }: PuttShot,
  leg: Leg,
): Windows => {
  w.surface.at(ball[0], ball[1], w.ground.jet);
  const qx = w.ground.jet[HX];
  const qy = w.ground.jet[HY];
  const climb = qx * vx + qy * vy;
  const speed = Math.sqrt(vx * vx + vy * vy + climb * climb);
  const arm = 0.5 * leg.time;
  const byAim = (turn: number): number => {
    const c = Math.cos(turn);
    const s = Math.sin(turn);
    const ux = c * vx - s * vy;
    const uy = s * vx + c * vy;
    const up = qx * ux + qy * uy;
    const keep = speed / Math.sqrt(ux * ux + uy * uy + up * up);
    return captureMargin(w, { ball, hole, vx: ux * keep, vy: uy * keep }, arm);
  };
  const bySpeed = (gain: number): number => {
    const keep = 1 + gain / speed;
    return keep > 0
      ? captureMargin(w, { ball, hole, vx: vx * keep, vy: vy * keep }, arm)
      : -CAPTURE_REACH;
  };
  const middle = byAim(0);
  if (!(middle > 0)) return { aim: [0, 0], speed: [0, 0] };
  const room = captureReach(leg.speed);
  const turn = Math.min(0.3, room / Math.max(1e-6, Math.abs(leg.missByAim)));
  const gain = speedGuess(w, leg, speed);
  return {
    aim: [edgeOf(byAim, middle, -turn), edgeOf(byAim, middle, turn)],
    speed: [edgeOf(bySpeed, middle, -gain.slower), edgeOf(bySpeed, middle, gain.faster)],
  };
};

/** First estimates of the speed window, from the sensitivities at the hole. */
const speedGuess = (
  w: PuttGround,
  leg: Leg,
  speed: number,
): { readonly slower: number; readonly faster: number } => {
  const rate = Math.max(1e-3, Math.abs(leg.speedBySpeed));
  const aside = CAPTURE_REACH / Math.max(1e-6, Math.abs(leg.missBySpeed));
  // v^2 at the rim is nearly linear in the launch speed squared; it runs from 0 to Holmes's bound.
  const atRim = leg.speed ** 2 + 2 * w.deceleration * HOLE_RADIUS;
  const share = speed / (leg.speed * rate);
  const slowest = Math.sqrt(Math.max(0.01 * speed * speed, speed * speed - atRim * share));
  const room = Math.max(0, MAX_CAPTURE_SPEED ** 2 - atRim);
  const fastest = Math.sqrt(speed * speed + room * share);
  const within = (gain: number): number => Math.min(aside, Math.max(0.005 * speed, gain));
  return { slower: within(speed - slowest), faster: within(fastest - speed) };
};
