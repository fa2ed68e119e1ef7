import type { Surface } from '../surface/surface.js';
import { HX, HXX, HXXX, HXXY, HXY, HXYY, HY, HYY, HYYY, JET_SIZE } from '../surface/surface.js';
import { GRAVITY, ROLLING_GRAVITY } from './green-speed.js';

/** The ground a ball rolls on: a surface, its green speed, and the workspace to ask it. */
export interface RollingGround {
  readonly surface: Surface;
  /** Deceleration on the level, m/s^2. */
  readonly deceleration: number;
  /** Factor on all heights: 1 but for a continuation from flat ground. */
  relief: number;
  readonly jet: Float64Array;
}

export const groundOf = (surface: Surface, deceleration: number): RollingGround => ({
  surface,
  deceleration,
  relief: 1,
  jet: new Float64Array(JET_SIZE),
});

/**
 * Right-hand side of a ball's motion: writes the derivative of `state` to `out`. Both hold
 * x, y, vx, vy, then `columns` tangent vectors of the same four (the variational equations).
 */
export type Derivative = (
  ground: RollingGround,
  state: Float64Array,
  columns: number,
  out: Float64Array,
) => void;

const scaleJet = (jet: Float64Array, relief: number): void => {
  for (let i = 0; i < JET_SIZE; i++) jet[i] *= relief;
};

/**
 * Time derivative of a rolling ball on z = h(x, y), v the horizontal velocity:
 * a = -q ((5/7) g + k) / w - a0 max(0, 1 + k/g) / sqrt(w) v / |(v, q.v)|, with q = grad h, k = v'Hv,
 * w = 1 + |q|^2. Constrained rolling of a solid sphere (5/7 of gravity) with a resistance in proportion
 * to the normal force. Derived, not quoted; energy and the closed form on a plane check it.
 */
export const rolling: Derivative = (ground, state, columns, out) => {
  const jet = ground.jet;
  const vx = state[2];
  const vy = state[3];
  ground.surface.at(state[0], state[1], jet);
  if (ground.relief !== 1) scaleJet(jet, ground.relief);
  const qx = jet[HX];
  const qy = jet[HY];
  const hxx = jet[HXX];
  const hxy = jet[HXY];
  const hyy = jet[HYY];
  const hvx = hxx * vx + hxy * vy;
  const hvy = hxy * vx + hyy * vy;
  const bend = vx * hvx + vy * hvy;
  const climb = qx * vx + qy * vy;
  const inverseW = 1 / (1 + qx * qx + qy * qy);
  const speed = Math.sqrt(vx * vx + vy * vy + climb * climb);
  const pull = (ROLLING_GRAVITY + bend) * inverseW;
  const load = 1 + bend / GRAVITY;
  const inverseSpeed = speed > 0 ? 1 / speed : 0;
  const unit = ground.deceleration * Math.sqrt(inverseW) * inverseSpeed;
  const drag = load > 0 ? load * unit : 0;
  out[0] = vx;
  out[1] = vy;
  out[2] = -qx * pull - drag * vx;
  out[3] = -qy * pull - drag * vy;
  if (columns === 0) return;
  const bendX = jet[HXXX] * vx * vx + 2 * jet[HXXY] * vx * vy + jet[HXYY] * vy * vy;
  const bendY = jet[HXXY] * vx * vx + 2 * jet[HXYY] * vx * vy + jet[HYYY] * vy * vy;
  const dragByBend = load > 0 ? unit / GRAVITY : 0;
  for (let at = 4; at < 4 + 4 * columns; at += 4) {
    const dx = state[at];
    const dy = state[at + 1];
    const dvx = state[at + 2];
    const dvy = state[at + 3];
    const dqx = hxx * dx + hxy * dy;
    const dqy = hxy * dx + hyy * dy;
    const dBend = bendX * dx + bendY * dy + 2 * (hvx * dvx + hvy * dvy);
    const halfDw = qx * dqx + qy * dqy;
    const dPull = (dBend - 2 * pull * halfDw) * inverseW;
    const dClimb = dqx * vx + dqy * vy + qx * dvx + qy * dvy;
    const dSpeed = (vx * dvx + vy * dvy + climb * dClimb) * inverseSpeed;
    const dDrag = dragByBend * dBend - drag * (halfDw * inverseW + dSpeed * inverseSpeed);
    out[at] = dvx;
    out[at + 1] = dvy;
    out[at + 2] = -dqx * pull - qx * dPull - dDrag * vx - drag * dvx;
    out[at + 3] = -dqy * pull - qy * dPull - dDrag * vy - drag * dvy;
  }
};

/** Speed below which the clock of `rollingToRest` slows down, m/s. */
const SLOW = 0.1;

/**
 * The same motion by a clock that slows as the ball does, dt = |v| / sqrt(|v|^2 + SLOW^2) ds. A ball
 * that stops turns ever faster downhill as it does so, a singularity in time; by this clock its speed
 * decays smoothly. State: x, y, vx, vy, time, distance rolled along the ground.
 */
export const rollingToRest: Derivative = (ground, state, _columns, out) => {
  rolling(ground, state, 0, out);
  const vx = state[2];
  const vy = state[3];
  const square = vx * vx + vy * vy;
  const rate = Math.sqrt(square / (square + SLOW * SLOW));
  const climb = ground.jet[HX] * vx + ground.jet[HY] * vy;
  out[0] *= rate;
  out[1] *= rate;
  out[2] *= rate;
  out[3] *= rate;
  out[4] = rate;
  out[5] = rate * Math.sqrt(square + climb * climb);
};

/** Speed along the ground of a horizontal velocity where the gradient is (qx, qy). */
export const groundSpeed = (qx: number, qy: number, vx: number, vy: number): number => {
  const climb = qx * vx + qy * vy;
  return Math.sqrt(vx * vx + vy * vy + climb * climb);
};
