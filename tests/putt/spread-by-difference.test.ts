import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { aimByContinuation, launchSpeedOf } from '../../src/putt/shoot.js';
import { solvePutt } from '../../src/putt/solve.js';
import { spreadOfPutt } from '../../src/putt/spread.js';
import { paceOf, puttGround } from '../../src/putt/workspace.js';
import type { Trust } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { circleRing } from '../surface/analytic.js';
import { type Wave, wavySurface } from './grounds.js';

/**
 * Linear propagation held against plain differences: ground that is uncertain by one wave of known shape
 * has a spread that is the slope of the putt by that wave's amplitude.
 */

const settings = { stimp: feetToMetres(10), past: inchesToMetres(12) };
const outline = circleRing(12);
const HOLE: Point = [0, 0];
/** Steep and bent, so that every term of the propagation counts. */
const ground = {
  tiltX: 0.02,
  tiltY: 0.035,
  waves: [{ amplitude: 0.06, kx: 0.45, ky: 0.25, phase: 0.4 }],
};
/** Metres. */
const AMPLITUDE = 1e-4;

const oneWave = ({ kx, ky, phase }: Wave): Trust => ({
  heightSd: () => Number.NaN,
  gradientCovariance: () => {},
  heightDraws: (points) => () => new Float64Array(points.length / 2),
  functionalVariance: (q) => {
    let value = 0;
    for (let i = 0; i < q.length; i += 4) {
      const c = AMPLITUDE * Math.cos(kx * q[i] + ky * q[i + 1] + phase);
      value += c * (kx * q[i + 2] + ky * q[i + 3]);
    }
    return value * value;
  },
});

/** Aim offset and pace of the putt over the ground with one wave more, metres. */
const puttOver = (wave: Wave, ball: Point): { readonly aim: number; readonly pace: number } => {
  const w = puttGround(
    wavySurface({ ...ground, waves: [...ground.waves, wave] }, outline),
    settings,
  );
  const launch = aimByContinuation(w, HOLE, ball)!;
  const across = -ball[0] * launch.vy + ball[1] * launch.vx;
  const along = -ball[0] * launch.vx - ball[1] * launch.vy;
  return {
    aim: (Math.hypot(...ball) * across) / along,
    pace: paceOf(w, launchSpeedOf(w, ball, launch)),
  };
};

const WAVES: readonly Omit<Wave, 'amplitude'>[] = [
  { kx: 0.9, ky: 0.2, phase: 0.3 },
  { kx: -0.3, ky: 0.8, phase: 1.1 },
  { kx: 0.5, ky: 0.6, phase: 2.2 },
  { kx: 0.05, ky: -0.4, phase: 0.1 },
  { kx: 0.7, ky: -0.7, phase: -0.9 },
];

/** What is left of the spacing of the places where the ground is weighed, 0.2 m. */
const errorAllowed = (value: number): number => 0.005 * value + 0.08 * AMPLITUDE;

const BALLS: readonly Point[] = [
  [5, 1],
  [-4, 3],
  [1, -6],
  [-1.5, 5],
  [2.5, 2],
  [7, -3],
];

describe('the spread by one wave of the ground', () => {
  it.each(BALLS.map((ball) => [ball]))('is the slope by its amplitude, ball %j', (ball) => {
    const exact = wavySurface(ground, outline);
    for (const shape of WAVES) {
      const wave = { ...shape, amplitude: AMPLITUDE };
      const surface = { ...exact, trust: oneWave(wave) };
      const putt = solvePutt(surface, ball, HOLE, settings);
      const spread = spreadOfPutt(surface, putt, settings)!;
      const high = puttOver(wave, ball);
      const low = puttOver({ ...wave, amplitude: -AMPLITUDE }, ball);
      const aim = Math.abs(high.aim - low.aim) / 2;
      const pace = Math.abs(high.pace - low.pace) / 2;
      expect(Math.abs(spread.aimSd - aim), `aim, ${shape.phase}`).toBeLessThan(errorAllowed(aim));
      expect(Math.abs(spread.paceSd - pace), `pace, ${shape.phase}`).toBeLessThan(
        errorAllowed(pace),
      );
    }
  });

  it('counts the lean of the speed on the ground at the hole', () => {
    // Long past the hole on steep ground: there it makes two thirds of a per cent.
    const fast = { stimp: settings.stimp, past: 1.2 };
    const steep = { ...ground, tiltY: 0.08 };
    const ball: Point = [0.3, -2];
    const wave = { kx: 0.05, ky: -0.4, phase: 0.1, amplitude: AMPLITUDE };
    const surface = { ...wavySurface(steep, outline), trust: oneWave(wave) };
    const { paceSd } = spreadOfPutt(surface, solvePutt(surface, ball, HOLE, fast), fast)!;
    const paceWith = (amplitude: number): number => {
      const waves = [...steep.waves, { ...wave, amplitude }];
      const w = puttGround(wavySurface({ ...steep, waves }, outline), fast);
      return paceOf(w, launchSpeedOf(w, ball, aimByContinuation(w, HOLE, ball)!));
    };
    const pace = Math.abs(paceWith(AMPLITUDE) - paceWith(-AMPLITUDE)) / 2;
    expect(Math.abs(paceSd / pace - 1)).toBeLessThan(0.003);
  });
});
