import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import {
  decelerationOf,
  gradeFromRolls,
  levelReading,
  ROLLING_GRAVITY,
  resistanceCoefficient,
} from '../../src/putt/green-speed.js';
import type { Roll } from '../../src/putt/roll.js';
import { rollToRest } from '../../src/putt/roll.js';
import { puttGround } from '../../src/putt/workspace.js';
import { feetToMetres } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { circleRing, plane } from '../surface/analytic.js';
import { randomFrom } from './grounds.js';

/**
 * Closed form on a plane (facts of the project; derived from dv/dt = gs cos(phi) - af and
 * v dphi/dt = -gs sin(phi)): with T = tan(phi/2) and m = af/gs, v(phi) = v0 (T/T0)^m sin(phi0)/sin(phi),
 * and the position by quadrature of v^2 / (gs sin(phi)) along the angle. Here in u = ln T, where the
 * quadrature's nodes crowd at the stop: sin(phi) = 1/cosh(u), cos(phi) = -tanh(u), dphi = sin(phi) du.
 */
interface PlaneRoll {
  /** Along the slope: down the fall line, and across it (to the left of downhill). */
  readonly at: (fraction: number) => { readonly down: number; readonly across: number };
}

const closedForm = (v0: number, phi0: number, gs: number, af: number): PlaneRoll => {
  const m = af / gs;
  const u0 = Math.log(Math.tan(phi0 / 2));
  const scale = (v0 * Math.sin(phi0)) ** 2 / gs;
  // v^2 / gs du, times cos or sin of phi; v = v0 sin(phi0) cosh(u) exp(m (u - u0)).
  const integrand = (u: number, across: boolean): number => {
    const v2 = scale * (Math.cosh(u) * Math.exp(m * (u - u0))) ** 2;
    return v2 * (across ? 1 / Math.cosh(u) : -Math.tanh(u));
  };
  // The integrand falls like exp(2 (m - 1) u) toward the stop at u = -infinity.
  const reach = 34 / (2 * (m - 1));
  const integral = (from: number, to: number, across: boolean): number => {
    const steps = 2 * Math.ceil(Math.max(200, 8 * (m + 1) * (to - from)));
    const h = (to - from) / steps;
    let sum = integrand(from, across) + integrand(to, across);
    for (let i = 1; i < steps; i++) sum += (i % 2 === 1 ? 4 : 2) * integrand(from + i * h, across);
    return (sum * h) / 3;
  };
  return {
    at: (fraction) => {
      const u = fraction >= 1 ? Math.min(u0, 0) - reach : u0 + Math.log(1 - fraction);
      return { down: integral(u, u0, false), across: integral(u, u0, true) };
    },
  };
};

/** On a plane of gradient (0, -grade) a ball rolls down toward +y. */
const rollOn = (grade: number, stimp: number, v0: number, phi0: number): Roll => {
  const w = puttGround(plane(circleRing(400), 0, -grade), { stimp, past: 0.3 });
  const cos = 1 / Math.hypot(1, grade);
  // Across is to the left of downhill seen from above: -x.
  const velocity: Point = [-v0 * Math.sin(phi0), v0 * Math.cos(phi0) * cos];
  return rollToRest(w, [0, 0], velocity, null, { spacing: 0.01, tolerance: 1e-9 });
};

/** The ball leaves a Stimpmeter at 1.83 m/s. Source: Holmes, Am. J. Phys. 54 (1986). */
const RELEASE_SPEED = 1.83;

describe('a ball on a plane', () => {
  it('follows the closed form to 0.1 mm, path and stop, for random launches', {
    tags: 'deep',
  }, () => {
    const random = randomFrom(20);
    let worstStop = 0;
    let worstPath = 0;
    for (let k = 0; k < atDepth(200, 1000); k++) {
      const stimp = feetToMetres(6 + 8 * random());
      const grade = resistanceCoefficient(stimp) * (0.03 + 0.87 * random());
      const v0 = 0.3 + 2.7 * random();
      const phi0 = (0.01 + 0.98 * random()) * Math.PI;
      const cos = 1 / Math.hypot(1, grade);
      const gs = ROLLING_GRAVITY * grade * cos;
      const af = decelerationOf(stimp) * cos;
      const exact = closedForm(v0, phi0, gs, af);
      const roll = rollOn(grade, stimp, v0, phi0);
      expect(roll.status).toBe('short');
      const stop = exact.at(1);
      worstStop = Math.max(
        worstStop,
        Math.hypot(roll.end[0] + stop.across, roll.end[1] - stop.down * cos),
      );
      if (k % 4 !== 0) continue;
      // The path: the exact points' distance from the polyline of the computed ones.
      for (const fraction of [0.1, 0.3, 0.5, 0.8]) {
        const { down, across } = exact.at(fraction);
        worstPath = Math.max(worstPath, distanceToLine([-across, down * cos], roll.path));
      }
    }
    expect(worstStop).toBeLessThan(1e-4);
    expect(worstPath).toBeLessThan(1e-4);
  });

  it('obeys the relation of two rolls to 1e-6 (Brede, USGA Green Section Record 28(6), 1990)', () => {
    for (const feet of [6, 9, 12]) {
      const stimp = feetToMetres(feet);
      for (const share of [0.05, 0.3, 0.6, 0.85]) {
        const grade = share * resistanceCoefficient(stimp);
        const up = rollOn(grade, stimp, RELEASE_SPEED, Math.PI).rolled;
        const down = rollOn(grade, stimp, RELEASE_SPEED, 0).rolled;
        // The rolls see the resistance of the slope, a0 cos(theta).
        const level = stimp * Math.hypot(1, grade);
        expect(Math.abs(levelReading(up, down) / level - 1)).toBeLessThan(1e-6);
        expect(Math.abs(gradeFromRolls(up, down) / grade - 1)).toBeLessThan(1e-5);
      }
    }
  });

  it('no longer stops from the critical slope on, found to 1e-6', () => {
    const stimp = feetToMetres(10);
    // A ball set off at a crawl: a moment's loss of speed brings it to rest, none lets it roll on.
    const stops = (grade: number): boolean => {
      const w = puttGround(plane(circleRing(60), 0, -grade), { stimp, past: 0.3 });
      return (
        rollToRest(w, [0, 0], [0, 5.1e-4], null, { spacing: 1, tolerance: 1e-10 }).status ===
        'short'
      );
    };
    let low = 0.05;
    let high = 0.1;
    while (high - low > 2e-7) {
      const middle = (low + high) / 2;
      if (stops(middle)) low = middle;
      else high = middle;
    }
    expect(Math.abs((low + high) / 2 - resistanceCoefficient(stimp))).toBeLessThan(1e-6);
    // At a stimp of 10 ft: 7.8 %.
    expect(resistanceCoefficient(stimp)).toBeCloseTo(0.078, 3);
  });

  it("reproduces Penner's range of resistance (Can. J. Phys. 80 (2002): 0.065 at 12 ft, 0.196 at 4 ft)", () => {
    expect(resistanceCoefficient(feetToMetres(12))).toBeCloseTo(0.065, 3);
    expect(resistanceCoefficient(feetToMetres(4))).toBeCloseTo(0.196, 3);
  });
});

const distanceToLine = (p: Point, line: readonly Point[]): number => {
  let best = Infinity;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const square = dx * dx + dy * dy;
    const t =
      square === 0
        ? 0
        : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square));
    best = Math.min(best, Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy));
  }
  return best;
};
