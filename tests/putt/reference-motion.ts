import odex from 'odex';
import type { Point } from '../../src/geometry.js';
import { GRAVITY } from '../../src/putt/green-speed.js';
import { HX, HXX, HXY, HY, HYY, JET_SIZE, type Surface } from '../../src/surface/surface.js';

/**
 * The motion written down anew, in three dimensions, for general-purpose solvers: on the ground's normal
 * n, gravity's tangential part acts by 5/7 (rolling sphere), the path's curvature asks v.n' of normal
 * acceleration, and the resistance is a0/g times the normal force, against the velocity.
 */
export const referenceMotion = (
  surface: Surface,
  deceleration: number,
): ((t: number, y: number[]) => number[]) => {
  const jet = new Float64Array(JET_SIZE);
  return (_t, [x, y, vx, vy]) => {
    surface.at(x, y, jet);
    const root = Math.sqrt(1 + jet[HX] ** 2 + jet[HY] ** 2);
    const n = [-jet[HX] / root, -jet[HY] / root, 1 / root];
    const v = [vx, vy, jet[HX] * vx + jet[HY] * vy];
    const speed = Math.hypot(...v);
    const curving = (vx * vx * jet[HXX] + 2 * vx * vy * jet[HXY] + vy * vy * jet[HYY]) / root;
    const force = Math.max(0, GRAVITY * n[2] + curving);
    const axis = (i: 0 | 1): number => {
      const tangential = -(5 / 7) * GRAVITY * (0 - n[2] * n[i]);
      return tangential + curving * n[i] - ((deceleration / GRAVITY) * force * v[i]) / speed;
    };
    return [vx, vy, axis(0), axis(1)];
  };
};

export interface TimedState {
  readonly time: number;
  readonly state: readonly number[];
}

/**
 * States of the motion at `count` equal times up to `until`, by odex (npm; the extrapolation method of
 * Hairer, Norsett & Wanner), step by step so that each is a solver's own end point.
 */
export const odexStates = (
  surface: Surface,
  deceleration: number,
  ball: Point,
  velocity: Point,
  until: number,
  count: number,
  tolerance = 1e-10,
): TimedState[] => {
  const motion = referenceMotion(surface, deceleration);
  let state = [...ball, ...velocity];
  const states: TimedState[] = [{ time: 0, state }];
  for (let i = 1; i <= count; i++) {
    const solver = new odex.Solver(4);
    solver.absoluteTolerance = tolerance;
    solver.relativeTolerance = tolerance;
    solver.initialStepSize = 1e-3;
    const from = (until * (i - 1)) / count;
    state = solver.solve(motion, from, state, (until * i) / count).y;
    states.push({ time: (until * i) / count, state });
  }
  return states;
};
