import type { Surface } from '../../src/surface/surface.js';
import { H } from '../../src/surface/surface.js';
import { plane } from '../surface/analytic.js';
import { roundGreen } from './grounds.js';

/** Standard deviation of each surface's height, metres. */
const SD = 0.004;

const trusted = (surface: Surface): Surface => ({
  ...surface,
  trust: {
    heightSd: () => SD,
    gradientCovariance: (_x, _y, out) => {
      out.fill(0);
    },
    functionalVariance: () => 0,
    heightDraws: (points) => () => new Float64Array(points.length / 2),
  },
});

const green = roundGreen(14);

/** A plane, and the same with waves that rise and sink: many regions of both signs, some at the edge. */
export const calm: Surface = trusted(plane(green, 0.01, -0.015));

export const wavy: Surface = {
  ...calm,
  at: (x, y, jet) => {
    calm.at(x, y, jet);
    jet[H] +=
      0.014 * Math.sin(0.62 * x + 0.4) * Math.cos(0.5 * y) +
      0.011 * Math.sin(0.27 * x - 0.83 * y + 1);
  },
};

/** Places by which the threshold is set. */
export const PLACES = 80;
