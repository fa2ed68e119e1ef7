import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { aimByContinuation, launchSpeedOf } from '../../src/putt/shoot.js';
import { solvePutt } from '../../src/putt/solve.js';
import { spreadOfPutt } from '../../src/putt/spread.js';
import { breakTable } from '../../src/putt/table.js';
import { paceOf, puttGround } from '../../src/putt/workspace.js';
import type { Surface, Trust } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { circleRing, plane } from '../surface/analytic.js';
import { randomFrom, type Wave, wavySurface } from './grounds.js';

const settings = { stimp: feetToMetres(10), past: inchesToMetres(12) };
const outline = circleRing(10);
const ground = {
  tiltX: 0.012,
  tiltY: 0.02,
  waves: [{ amplitude: 0.04, kx: 0.5, ky: 0.3, phase: 0.4 }],
};

/** A Gaussian by the polar method. Source: Marsaglia & Bray, SIAM Rev. 6 (1964) 260-264. */
const gaussian = (random: () => number): number => {
  for (;;) {
    const u = 2 * random() - 1;
    const v = 2 * random() - 1;
    const s = u * u + v * v;
    if (s > 0 && s < 1) return u * Math.sqrt((-2 * Math.log(s)) / s);
  }
};

/**
 * An uncertain surface whose error is known exactly: independent waves, each with a Gaussian amplitude,
 * so that the variance of any linear functional of the gradient is a sum over the waves.
 */
const random = randomFrom(31);
const SIGMA = 0.0025;
const WAVES: readonly Wave[] = Array.from({ length: 40 }, () => {
  const k = (2 * Math.PI) / (1.5 + 7 * random());
  const direction = 2 * Math.PI * random();
  return {
    amplitude: SIGMA / (k * 3),
    kx: k * Math.cos(direction),
    ky: k * Math.sin(direction),
    phase: 2 * Math.PI * random(),
  };
});

const trust: Trust = {
  heightSd: () => Number.NaN,
  gradientCovariance: () => {},
  heightDraws: (points) => () => new Float64Array(points.length / 2),
  functionalVariance: (quadruples) => {
    let sum = 0;
    for (const { amplitude, kx, ky, phase } of WAVES) {
      let value = 0;
      for (let i = 0; i < quadruples.length; i += 4) {
        const c = Math.cos(kx * quadruples[i] + ky * quadruples[i + 1] + phase);
        value += amplitude * c * (kx * quadruples[i + 2] + ky * quadruples[i + 3]);
      }
      sum += value * value;
    }
    return sum;
  },
};

const uncertain: Surface = { ...wavySurface(ground, outline), trust };

const BALLS: readonly Point[] = [
  [5, 1],
  [-4, 3],
  [1, -6],
  [-1.5, 5],
];

describe("the spread that the survey's uncertainty gives", () => {
  it.each(BALLS.map((ball) => [ball]))(
    'agrees with a Monte Carlo of 400 surfaces, ball %j',
    (ball) => {
      const putt = solvePutt(uncertain, ball, [0, 0], settings);
      const spread = spreadOfPutt(uncertain, putt, settings)!;
      const draws = randomFrom(77);
      const aims: number[] = [];
      const paces: number[] = [];
      for (let k = 0; k < 400; k++) {
        const waves = WAVES.map((wave) => ({
          ...wave,
          amplitude: wave.amplitude * gaussian(draws),
        }));
        const drawn = wavySurface({ ...ground, waves: [...ground.waves, ...waves] }, outline);
        const w = puttGround(drawn, settings);
        const launch = aimByContinuation(w, [0, 0], ball)!;
        const across = -ball[0] * launch.vy + ball[1] * launch.vx;
        const along = -ball[0] * launch.vx - ball[1] * launch.vy;
        aims.push((Math.hypot(...ball) * across) / along);
        paces.push(paceOf(w, launchSpeedOf(w, ball, launch)));
      }
      const sd = (values: readonly number[]): number => {
        const mean = values.reduce((a, b) => a + b) / values.length;
        return Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / (values.length - 1));
      };
      // A sample deviation of 400 is known to 1 / sqrt(800) = 3.5 %; four of those.
      expect(Math.abs(sd(aims) / spread.aimSd - 1)).toBeLessThan(0.14);
      expect(Math.abs(sd(paces) / spread.paceSd - 1)).toBeLessThan(0.14);
      // The case is one that matters: the aim is not known to a tenth of an inch.
      expect(spread.aimSd).toBeGreaterThan(0.003);
    },
  );

  it.each([
    [1, 0],
    [0, 1],
  ])('is what the solver says of a plane that leans a little more, by (%i, %i)', (dx, dy) => {
    const tilted = (e: number) => plane(outline, 0.012 + e * dx, 0.02 + e * dy);
    const leaning: Trust = {
      ...trust,
      functionalVariance: (quadruples) => {
        let sum = 0;
        for (let i = 0; i < quadruples.length; i += 4) {
          sum += quadruples[i + 2] * dx + quadruples[i + 3] * dy;
        }
        return sum * sum;
      },
    };
    const base = tilted(0);
    for (const ball of BALLS) {
      const putt = solvePutt(base, ball, [0, 0], settings);
      const spread = spreadOfPutt({ ...base, trust: leaning }, putt, settings)!;
      const e = 2e-4;
      const [less, more] = [-e, e].map((by) => solvePutt(tilted(by), ball, [0, 0], settings));
      const aim = Math.abs(more.aimOffset - less.aimOffset) / (2 * e);
      const pace = Math.abs(more.pace - less.pace) / (2 * e);
      expect(Math.abs(spread.aimSd - aim)).toBeLessThan(0.004 * aim + 0.02);
      expect(Math.abs(spread.paceSd - pace)).toBeLessThan(0.004 * pace + 0.02);
    }
  });

  it('goes into the tables, and is null on a surface that is exact', () => {
    const cell = breakTable(uncertain, [0, 0], [4], settings).cells[2];
    const alone = spreadOfPutt(uncertain, cell.putt!, settings)!;
    expect(cell.aimSd).toBeCloseTo(alone.aimSd, 5);
    expect(
      breakTable(wavySurface(ground, outline), [0, 0], [4], settings).cells[2].aimSd,
    ).toBeNull();
    expect(spreadOfPutt(wavySurface(ground, outline), cell.putt!, settings)).toBeNull();
  });
});
