import type { Point } from '../../src/geometry.js';
import { candidatesFrom } from '../../src/putt/candidates.js';
import { fanFrom } from '../../src/putt/fan.js';
import type { ArrivingPutt, PuttSettings } from '../../src/putt/putt.js';
import { arrivalOf } from '../../src/putt/solve.js';
import { puttGround } from '../../src/putt/workspace.js';
import type { Surface } from '../../src/surface/surface.js';

/** All putts that hole the ball at the asked pace, the least demanding first. */
export const solveAll = (
  surface: Surface,
  ball: Point,
  hole: Point,
  settings: PuttSettings,
): ArrivingPutt[] => {
  const w = puttGround(surface, settings);
  return candidatesFrom(w, fanFrom(w, hole), ball).map((c) => arrivalOf(w, ball, hole, c));
};
