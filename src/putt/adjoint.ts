import { HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY } from '../surface/surface.js';
import { GRAVITY, ROLLING_GRAVITY } from './green-speed.js';
import type { Derivative, RollingGround } from './motion.js';

/**
 * How an adjoint weighs a change of the ground under the ball: `byGradient` (x, y) for a change of the
 * gradient, `byBend` for a change of k = v'Hv.
 */
export interface GroundWeight {
  byGradientX: number;
  byGradientY: number;
  byBend: number;
}

const weight: GroundWeight = { byGradientX: 0, byGradientY: 0, byBend: 0 };
/** The part of the adjoint's derivative that comes from a change of velocity itself. */
const byVelocity = new Float64Array(2);

/**
 * Weighs the ground at a state (x, y, vx, vy, then the adjoint of the four); the jet must be that of
 * the place. The result is the same record every time.
 */
export const groundWeight = (ground: RollingGround, state: Float64Array): GroundWeight => {
  const { jet } = ground;
  const qx = jet[HX];
  const qy = jet[HY];
  const vx = state[2];
  const vy = state[3];
  const lx = state[6];
  const ly = state[7];
  const bend = vx * vx * jet[HXX] + 2 * vx * vy * jet[HXY] + vy * vy * jet[HYY];
  const climb = qx * vx + qy * vy;
  const w = 1 + qx * qx + qy * qy;
  const square = vx * vx + vy * vy + climb * climb;
  const pull = (ROLLING_GRAVITY + bend) / w;
  const load = 1 + bend / GRAVITY;
  const unit = ground.deceleration / Math.sqrt(w * square);
  const drag = load > 0 ? load * unit : 0;
  const p = lx * qx + ly * qy;
  const q = lx * vx + ly * vy;
  const alongQ = (2 * pull * p + q * drag) / w;
  const alongV = (q * drag * climb) / square;
  weight.byGradientX = -pull * lx + alongQ * qx + alongV * vx;
  weight.byGradientY = -pull * ly + alongQ * qy + alongV * vy;
  weight.byBend = -p / w - (load > 0 ? (q * unit) / GRAVITY : 0);
  byVelocity[0] = -drag * lx + ((q * drag) / square) * (vx + climb * qx);
  byVelocity[1] = -drag * ly + ((q * drag) / square) * (vy + climb * qy);
  return weight;
};

/**
 * The motion together with the adjoint of its variational equations, l' = -A'l. State: x, y, vx, vy and
 * the four adjoint values. Run backward from the hole it tells what a push at any earlier moment, and
 * so a change of the ground there, does to what is asked at the hole.
 */
export const rollingAdjoint: Derivative = (ground, state, _columns, out) => {
  const { jet } = ground;
  ground.surface.at(state[0], state[1], jet);
  const g = groundWeight(ground, state);
  const vx = state[2];
  const vy = state[3];
  const hvx = jet[HXX] * vx + jet[HXY] * vy;
  const hvy = jet[HXY] * vx + jet[HYY] * vy;
  const bend = vx * hvx + vy * hvy;
  const climb = jet[HX] * vx + jet[HY] * vy;
  const w = 1 + jet[HX] * jet[HX] + jet[HY] * jet[HY];
  const pull = (ROLLING_GRAVITY + bend) / w;
  const drag =
    (ground.deceleration * Math.max(0, 1 + bend / GRAVITY)) /
    Math.sqrt(w * (vx * vx + vy * vy + climb * climb));
  const bendX = jet[HXXX] * vx * vx + 2 * jet[HXXY] * vx * vy + jet[HXYY] * vy * vy;
  const bendY = jet[HXXY] * vx * vx + 2 * jet[HXYY] * vx * vy + jet[HYYY] * vy * vy;
  out[0] = vx;
  out[1] = vy;
  out[2] = -jet[HX] * pull - drag * vx;
  out[3] = -jet[HY] * pull - drag * vy;
  out[4] = -(jet[HXX] * g.byGradientX + jet[HXY] * g.byGradientY + g.byBend * bendX);
  out[5] = -(jet[HXY] * g.byGradientX + jet[HYY] * g.byGradientY + g.byBend * bendY);
  out[6] = -(state[4] + byVelocity[0] + 2 * g.byBend * hvx);
  out[7] = -(state[5] + byVelocity[1] + 2 * g.byBend * hvy);
};
