import { advance, begin, stepperFor } from '../../src/putt/integrator.js';
import { groundOf, rolling } from '../../src/putt/motion.js';
import type { Surface } from '../../src/surface/surface.js';

const stepper = stepperFor(rolling, 4, 0);

/** The state (x, y, vx, vy) of a ball a time after its launch, at the tolerance of a confirmed putt. */
export const rollTo = (
  surface: Surface,
  deceleration: number,
  start: readonly number[],
  time: number,
): Float64Array => {
  const ground = groundOf(surface, deceleration);
  stepper.tolerance = 2e-7;
  stepper.state.set(start);
  begin(stepper, ground, 0.2);
  while (stepper.time < time - 1e-12) advance(stepper, ground, time - stepper.time);
  return Float64Array.from(stepper.state);
};
