import type { Box } from '../geometry.js';
import { growBox } from '../geometry.js';
import type { Surface } from '../surface/surface.js';
import { decelerationOf, rollForSpeed, speedForRoll } from './green-speed.js';
import type { Stepper } from './integrator.js';
import { stepperFor } from './integrator.js';
import type { RollingGround } from './motion.js';
import { groundOf, rolling, rollingToRest } from './motion.js';
import type { OnGreen } from './on-green.js';
import { onGreenOf } from './on-green.js';
import type { PuttSettings } from './putt.js';

/** Everything that putts on one surface at one green speed share; made once, then nothing allocates. */
export interface PuttGround {
  readonly ground: RollingGround;
  readonly surface: Surface;
  readonly settings: PuttSettings;
  /** Motions are followed this far: the surface's box and a little more, so that its rim is covered. */
  readonly bounds: Box;
  readonly onGreen: OnGreen;
  readonly deceleration: number;
  /** Speed over the centre of the hole, along the ground, m/s. */
  readonly arrivalSpeed: number;
  /** Backward from the hole, with the tangent of the arrival direction. */
  readonly back: Stepper;
  /** Forward from the ball, with the tangents of launch direction and launch speed. */
  readonly forth: Stepper;
  /** Forward to rest. */
  readonly rest: Stepper;
  /** Room for interpolated states. */
  readonly spot: Float64Array;
}

/** Local tolerance of the solver's steps, metres and metres a second. */
export const SOLVE_TOLERANCE = 2e-6;

/** Launch speed beyond which no putt is sought, m/s: 100 m of level roll at a stimp of 10 ft. */
export const MAX_LAUNCH_SPEED = 10.5;

/** Longest motion considered, seconds. */
export const MAX_TIME = 60;

export const puttGround = (surface: Surface, settings: PuttSettings): PuttGround => {
  const deceleration = decelerationOf(settings.stimp);
  const withTolerance = (stepper: Stepper): Stepper => {
    stepper.tolerance = SOLVE_TOLERANCE;
    return stepper;
  };
  return {
    ground: groundOf(surface, deceleration),
    surface,
    settings,
    bounds: growBox(surface.box, 1),
    onGreen: onGreenOf(surface.outline),
    deceleration,
    arrivalSpeed: speedForRoll(deceleration, settings.past),
    back: withTolerance(stepperFor(rolling, 8, 1)),
    forth: withTolerance(stepperFor(rolling, 12, 2)),
    rest: withTolerance(stepperFor(rollingToRest, 6, 0)),
    spot: new Float64Array(12),
  };
};

/** Pace: the length of the level putt with this launch speed, metres. */
export const paceOf = (w: PuttGround, launchSpeed: number): number =>
  rollForSpeed(w.deceleration, launchSpeed);

export const isInBounds = (w: PuttGround, state: Float64Array): boolean => {
  const { minX, minY, maxX, maxY } = w.bounds;
  const x = state[0];
  const y = state[1];
  return x > minX && x < maxX && y > minY && y < maxY;
};
