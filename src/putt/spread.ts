import type { Point } from '../geometry.js';
import type { Surface, Trust } from '../surface/surface.js';
import { HX, HXX, HXY, HY, HYY } from '../surface/surface.js';
import { groundWeight, rollingAdjoint } from './adjoint.js';
import { advance, begin, stepperFor } from './integrator.js';
import type { Leg } from './leg.js';
import { launchVelocity, rollLeg } from './leg.js';
import { rolling } from './motion.js';
import type { ArrivingPutt, PuttSettings } from './putt.js';
import type { PuttGround } from './workspace.js';
import { puttGround } from './workspace.js';

/** Metres of path between the places where the ground is weighed. */
const NODE_SPACING = 0.2;
const MAX_NODES = 128;

const adjoint = stepperFor(rollingAdjoint, 8, 0);
adjoint.tolerance = 1e-5;
const scratch = new Float64Array(8);

/**
 * Weights (x, y, wx, wy quadruples) by which a small change of the ground's gradient changes the launch
 * that still arrives at the asked pace: `byMiss` and `bySpeed` tell how the launch answers a miss (to
 * the right, metres) and an excess of speed at the hole. By linear propagation along the path, with
 * the adjoint of the variational equations; changes of curvature are folded into those of the gradient.
 */
const pathWeights = (
  w: PuttGround,
  hole: Point,
  leg: Leg,
  { byMiss, bySpeed }: { readonly byMiss: number; readonly bySpeed: number },
  length: number,
): Float64Array => {
  const { ground } = w;
  const { jet } = ground;
  const [vx, vy] = leg.velocity;
  const s = adjoint.state;
  s[0] = hole[0];
  s[1] = hole[1];
  s[2] = vx;
  s[3] = vy;
  rolling(ground, s, 0, scratch);
  const flat = Math.hypot(vx, vy);
  const climb = jet[HX] * vx + jet[HY] * vy;
  const { speed } = leg;
  const gx = (climb * (jet[HXX] * vx + jet[HXY] * vy)) / speed;
  const gy = (climb * (jet[HXY] * vx + jet[HYY] * vy)) / speed;
  const gvx = (vx + climb * jet[HX]) / speed;
  const gvy = (vy + climb * jet[HY]) / speed;
  const gain = gx * vx + gy * vy + gvx * scratch[2] + gvy * scratch[3];
  s[4] = byMiss * (vy / flat) + bySpeed * (gx - (gain * vx) / (flat * flat));
  s[5] = -byMiss * (vx / flat) + bySpeed * (gy - (gain * vy) / (flat * flat));
  s[6] = bySpeed * gvx;
  s[7] = bySpeed * gvy;
  const steps = Math.min(MAX_NODES, Math.max(8, Math.ceil(length / NODE_SPACING)));
  const dt = leg.time / steps;
  const out = new Float64Array(4 * (steps + 1));
  let lastX = 0;
  let lastY = 0;
  begin(adjoint, ground, -dt);
  for (let i = 0; i <= steps; i++) {
    if (i > 0) {
      while (adjoint.time + dt * i > 1e-9) advance(adjoint, ground, adjoint.time + dt * i);
    }
    const state = adjoint.state;
    ground.surface.at(state[0], state[1], jet);
    const g = groundWeight(ground, state);
    const share = i === 0 || i === steps ? dt / 2 : dt;
    const at = 4 * i;
    out[at] = state[0];
    out[at + 1] = state[1];
    out[at + 2] += share * g.byGradientX;
    out[at + 3] += share * g.byGradientY;
    // The integral of byBend v.d(gradient), node by node: each step adds its mean weight times the
    // difference of the gradients at its ends, the later end (nearer the hole) first.
    const bx = g.byBend * state[2];
    const by = g.byBend * state[3];
    if (i > 0) {
      const mx = (bx + lastX) / 2;
      const my = (by + lastY) / 2;
      out[at - 2] += mx;
      out[at - 1] += my;
      out[at + 2] -= mx;
      out[at + 3] -= my;
    }
    lastX = bx;
    lastY = by;
  }
  // The speed asked over the hole is along the ground: it leans on the gradient there.
  out[2] += bySpeed * (climb / speed) * vx;
  out[3] += bySpeed * (climb / speed) * vy;
  // So does the launch speed at the ball.
  const s0 = adjoint.state;
  const up = jet[HX] * s0[2] + jet[HY] * s0[3];
  const lean = ((s0[6] * s0[2] + s0[7] * s0[3]) * up) / (s0[2] ** 2 + s0[3] ** 2 + up * up);
  out[4 * steps + 2] -= lean * s0[2];
  out[4 * steps + 3] -= lean * s0[3];
  return out;
};

type PuttOfSpread = Pick<ArrivingPutt, 'hole' | 'length' | 'aimAngle' | 'launchSpeed'>;

/** Determinant of what aim and speed do to miss and pace at the hole. */
const determinant = (leg: Leg): number =>
  leg.missByAim * leg.speedBySpeed - leg.missBySpeed * leg.speedByAim;

/** Standard deviation of a solved putt's aim offset by the survey's posterior, metres; as it is told (`Trust.widening`). */
export const aimSdOf = (
  w: PuttGround,
  trust: Trust,
  leg: Leg,
  { hole, length, aimAngle }: PuttOfSpread,
): number => {
  const det = determinant(leg);
  const by = { byMiss: -leg.speedBySpeed / det, bySpeed: leg.missBySpeed / det };
  const angle = Math.sqrt(trust.functionalVariance(pathWeights(w, hole, leg, by, length)));
  return ((trust.widening ?? 1) * angle * length) / Math.cos(aimAngle) ** 2;
};

/** The same of its pace, metres. */
const paceSdOf = (
  w: PuttGround,
  trust: Trust,
  leg: Leg,
  { hole, length, launchSpeed }: PuttOfSpread,
): number => {
  const det = determinant(leg);
  const by = { byMiss: leg.speedByAim / det, bySpeed: -leg.missByAim / det };
  const speed = Math.sqrt(trust.functionalVariance(pathWeights(w, hole, leg, by, length)));
  return ((trust.widening ?? 1) * speed * launchSpeed) / w.deceleration;
};

/**
 * Spread of a putt solved before, as standard deviations of aim offset and pace, metres; null when the
 * surface has no trust or the putt is not one that arrives.
 */
export const spreadOfPutt = (
  surface: Surface,
  putt: ArrivingPutt,
  settings: PuttSettings,
): { readonly aimSd: number; readonly paceSd: number } | null => {
  const { trust } = surface;
  if (trust === null || putt.status === 'short' || putt.arrivalSpeed === 0) return null;
  const w = puttGround(surface, settings);
  const [vx, vy] = launchVelocity(surface, putt);
  const leg = rollLeg(w, { ball: putt.ball, hole: putt.hole, vx, vy }, 0.8 * putt.time, false);
  return leg === null
    ? null
    : { aimSd: aimSdOf(w, trust, leg, putt), paceSd: paceSdOf(w, trust, leg, putt) };
};
