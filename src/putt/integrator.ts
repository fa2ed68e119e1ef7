import { realPower } from '../power.js';
import type { Derivative, RollingGround } from './motion.js';

/**
 * Dormand and Prince's embedded Runge-Kutta pair of order 5(4) with its free fourth-order dense output.
 * Sources: Dormand & Prince, J. Comput. Appl. Math. 6 (1980) 19-26; dense output and step control as in
 * Hairer, Norsett & Wanner, Solving Ordinary Differential Equations I, sections II.4 to II.6.
 *
 * A stepper owns all its arrays, so that a step allocates nothing. Only the first `controlled` values
 * of the state steer the step; tangent vectors follow.
 */
export interface Stepper {
  readonly derivative: Derivative;
  readonly columns: number;
  readonly size: number;
  readonly controlled: number;
  /** Time before and after the last step, and the step to try next (signed). */
  from: number;
  time: number;
  next: number;
  /** States at `from` and at `time`. */
  start: Float64Array;
  state: Float64Array;
  trial: Float64Array;
  k1: Float64Array;
  k2: Float64Array;
  k3: Float64Array;
  k4: Float64Array;
  k5: Float64Array;
  k6: Float64Array;
  k7: Float64Array;
  /** Absolute local tolerance, metres and metres a second. */
  tolerance: number;
  /** Longest step over the ground, metres: keeps a step from missing a feature between its stages. */
  stride: number;
}

export const stepperFor = (
  derivative: Derivative,
  size: number,
  columns: number,
  controlled = 4,
): Stepper => ({
  derivative,
  columns,
  size,
  controlled,
  from: 0,
  time: 0,
  next: 0.1,
  start: new Float64Array(size),
  state: new Float64Array(size),
  trial: new Float64Array(size),
  k1: new Float64Array(size),
  k2: new Float64Array(size),
  k3: new Float64Array(size),
  k4: new Float64Array(size),
  k5: new Float64Array(size),
  k6: new Float64Array(size),
  k7: new Float64Array(size),
  tolerance: 1e-6,
  stride: 1,
});

/** Starts a motion from the state already written to `stepper.state`; `step` is signed. */
export const begin = (stepper: Stepper, ground: RollingGround, step: number): void => {
  stepper.from = 0;
  stepper.time = 0;
  stepper.next = step;
  stepper.derivative(ground, stepper.state, stepper.columns, stepper.k7);
};

const A21 = 1 / 5;
const A31 = 3 / 40;
const A32 = 9 / 40;
const A41 = 44 / 45;
const A42 = -56 / 15;
const A43 = 32 / 9;
const A51 = 19372 / 6561;
const A52 = -25360 / 2187;
const A53 = 64448 / 6561;
const A54 = -212 / 729;
const A61 = 9017 / 3168;
const A62 = -355 / 33;
const A63 = 46732 / 5247;
const A64 = 49 / 176;
const A65 = -5103 / 18656;
const A71 = 35 / 384;
const A73 = 500 / 1113;
const A74 = 125 / 192;
const A75 = -2187 / 6784;
const A76 = 11 / 84;
const E1 = 71 / 57600;
const E3 = -71 / 16695;
const E4 = 71 / 1920;
const E5 = -17253 / 339200;
const E6 = 22 / 525;
const E7 = -1 / 40;

/** The seven stages of one step of size h from `start`, whose derivative is k1. */
const stages = (s: Stepper, ground: RollingGround, h: number): void => {
  const { derivative, columns, size, start: y, trial, state, k1, k2, k3, k4, k5, k6, k7 } = s;
  for (let i = 0; i < size; i++) trial[i] = y[i] + h * A21 * k1[i];
  derivative(ground, trial, columns, k2);
  for (let i = 0; i < size; i++) trial[i] = y[i] + h * (A31 * k1[i] + A32 * k2[i]);
  derivative(ground, trial, columns, k3);
  for (let i = 0; i < size; i++) trial[i] = y[i] + h * (A41 * k1[i] + A42 * k2[i] + A43 * k3[i]);
  derivative(ground, trial, columns, k4);
  for (let i = 0; i < size; i++) {
    trial[i] = y[i] + h * (A51 * k1[i] + A52 * k2[i] + A53 * k3[i] + A54 * k4[i]);
  }
  derivative(ground, trial, columns, k5);
  for (let i = 0; i < size; i++) {
    trial[i] = y[i] + h * (A61 * k1[i] + A62 * k2[i] + A63 * k3[i] + A64 * k4[i] + A65 * k5[i]);
  }
  derivative(ground, trial, columns, k6);
  for (let i = 0; i < size; i++) {
    state[i] = y[i] + h * (A71 * k1[i] + A73 * k3[i] + A74 * k4[i] + A75 * k5[i] + A76 * k6[i]);
  }
  derivative(ground, state, columns, k7);
};

/** Root mean square of the embedded error over the tolerance. */
const errorOf = (s: Stepper, h: number): number => {
  const { k1, k3, k4, k5, k6, k7 } = s;
  let sum = 0;
  for (let i = 0; i < s.controlled; i++) {
    const e = E1 * k1[i] + E3 * k3[i] + E4 * k4[i] + E5 * k5[i] + E6 * k6[i] + E7 * k7[i];
    sum += e * e;
  }
  return (Math.abs(h) * Math.sqrt(sum / s.controlled)) / s.tolerance;
};

const startStep = (s: Stepper): void => {
  const { start, k1 } = s;
  s.start = s.state;
  s.state = start;
  s.k1 = s.k7;
  s.k7 = k1;
  s.from = s.time;
};

/**
 * Smallest step, seconds; it is accepted whatever its error. Reached only where a ball stops in time's
 * own clock: there the direction of the resistance has no limit, and a step of this size ends the roll.
 */
const LEAST_STEP = 1e-5;

/** Advances by one accepted step, no longer than `most` (positive) in time. */
export const advance = (s: Stepper, ground: RollingGround, most: number): void => {
  startStep(s);
  const sign = s.next < 0 ? -1 : 1;
  const pace = Math.hypot(s.k1[0], s.k1[1]);
  let h = Math.min(Math.abs(s.next), most, pace > 0 ? s.stride / pace : most);
  for (;;) {
    stages(s, ground, sign * h);
    const error = errorOf(s, h);
    // A step of NaN counts as one that failed.
    if (error <= 1 || h <= LEAST_STEP) {
      s.time = s.from + sign * h;
      s.next =
        sign * h * (error > 0 ? Math.min(4, Math.max(0.3, 0.9 * realPower(error, -0.2))) : 4);
      return;
    }
    h = Math.max(
      LEAST_STEP,
      h * (error < Infinity ? Math.max(0.15, 0.9 * realPower(error, -0.2)) : 0.15),
    );
  }
};

const D1 = -12715105075 / 11282082432;
const D3 = 87487479700 / 32700410799;
const D4 = -10690763975 / 1880347072;
const D5 = 701980252875 / 199316789632;
const D6 = -1453857185 / 822651844;
const D7 = 69997945 / 29380423;

/** Writes the first `count` values of the state at a time within the last step (fourth order). */
export const stateAt = (s: Stepper, time: number, out: Float64Array, count: number): void => {
  const { start, state, k1, k3, k4, k5, k6, k7 } = s;
  const h = s.time - s.from;
  const a = (time - s.from) / h;
  const b = 1 - a;
  for (let i = 0; i < count; i++) {
    const rise = state[i] - start[i];
    const bulge = h * k1[i] - rise;
    const last = h * (D1 * k1[i] + D3 * k3[i] + D4 * k4[i] + D5 * k5[i] + D6 * k6[i] + D7 * k7[i]);
    out[i] = start[i] + a * (rise + b * (bulge + a * (rise - h * k7[i] - bulge + b * last)));
  }
};
