import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { decelerationOf, GRAVITY } from '../../src/putt/green-speed.js';
import type { Stepper } from '../../src/putt/integrator.js';
import { advance, begin, stateAt, stepperFor } from '../../src/putt/integrator.js';
import { groundOf, groundSpeed, type RollingGround, rolling } from '../../src/putt/motion.js';
import type { PuttSolution } from '../../src/putt/putt.js';
import { solvePutt } from '../../src/putt/solve.js';
import { fitSurface } from '../../src/surface/fit.js';
import { H, HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { circleRing } from '../surface/analytic.js';
import { anyGround, mirrored, randomFrom, turned, wavySurface } from './grounds.js';

const settings = { stimp: feetToMetres(10), past: inchesToMetres(12) };

const anyBall = fc
  .record({
    angle: fc.double({ min: 0, max: 6.28, noNaN: true }),
    length: fc.double({ min: 0.5, max: 9, noNaN: true }),
  })
  .map(({ angle, length }): Point => [length * Math.cos(angle), length * Math.sin(angle)]);

const anyVelocity = fc
  .record({
    angle: fc.double({ min: 0, max: 6.28, noNaN: true }),
    speed: fc.double({ min: 0.5, max: 4, noNaN: true }),
  })
  .map(({ angle, speed }): Point => [speed * Math.cos(angle), speed * Math.sin(angle)]);

/** Energy of a rolling sphere per mass: g h + (7/10) v^2, v along the ground. */
const energyOf = (surface: Surface, state: Float64Array): number => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(state[0], state[1], jet);
  return GRAVITY * jet[H] + 0.7 * groundSpeed(jet[HX], jet[HY], state[2], state[3]) ** 2;
};

describe('the motion', () => {
  it('never gains energy (g h + 7/10 v^2, the rolling solid sphere of the textbooks)', () => {
    const stepper = stepperFor(rolling, 4, 0);
    const between = new Float64Array(4);
    fc.assert(
      fc.property(anyGround, anyVelocity, (ground, velocity) => {
        const surface = wavySurface(ground);
        const g = groundOf(surface, decelerationOf(settings.stimp));
        stepper.state.set([0, 0, ...velocity]);
        begin(stepper, g, 0.1);
        let energy = energyOf(surface, stepper.state);
        const start = energy;
        while (stepper.time < 4 && Math.hypot(stepper.state[2], stepper.state[3]) > 0.05) {
          advance(stepper, g, 0.5);
          for (const share of [0.25, 0.5, 0.75, 1]) {
            stateAt(stepper, stepper.from + share * (stepper.time - stepper.from), between, 4);
            const next = energyOf(surface, between);
            expect(next).toBeLessThan(energy + 1e-5);
            energy = next;
          }
        }
        expect(energy).toBeLessThan(start);
      }),
      { numRuns: 300, seed: 1 },
    );
  });

  it('keeps its energy where nothing resists', () => {
    const stepper = stepperFor(rolling, 4, 0);
    stepper.tolerance = 1e-10;
    fc.assert(
      fc.property(anyGround, anyVelocity, (ground, velocity) => {
        const surface = wavySurface(ground);
        const g = groundOf(surface, 0);
        stepper.state.set([0, 0, ...velocity]);
        begin(stepper, g, 0.1);
        const energy = energyOf(surface, stepper.state);
        while (stepper.time < 2) advance(stepper, g, 2 - stepper.time + 1e-12);
        expect(Math.abs(energyOf(surface, stepper.state) - energy)).toBeLessThan(1e-7);
      }),
      { numRuns: 100, seed: 2 },
    );
  });

  it('has tangent vectors that are the derivatives of the motion', { tags: 'deep' }, () => {
    const stepper = stepperFor(rolling, 20, 4);
    const plain = stepperFor(rolling, 4, 0);
    stepper.tolerance = 1e-10;
    plain.tolerance = 1e-12;
    const endOf = (surface: Surface, from: readonly number[]): Float64Array => {
      const g = groundOf(surface, decelerationOf(settings.stimp));
      plain.state.set(from);
      begin(plain, g, 0.1);
      while (plain.time < 1.2 - 1e-12) advance(plain, g, 1.2 - plain.time);
      return Float64Array.from(plain.state);
    };
    fc.assert(
      fc.property(anyGround, anyVelocity, (ground, [vx, vy]) => {
        const surface = wavySurface(ground);
        const g = groundOf(surface, decelerationOf(settings.stimp));
        const scale = 1.5 / Math.hypot(vx, vy) + 0.5;
        const from = [0.3, -0.2, vx * scale, vy * scale];
        stepper.state.fill(0);
        stepper.state.set(from);
        for (let c = 0; c < 4; c++) stepper.state[4 + 5 * c] = 1;
        begin(stepper, g, 0.1);
        while (stepper.time < 1.2 - 1e-12) advance(stepper, g, 1.2 - stepper.time);
        const step = 1e-5;
        for (let c = 0; c < 4; c++) {
          const up = endOf(
            surface,
            from.map((v, i) => (i === c ? v + step : v)),
          );
          const down = endOf(
            surface,
            from.map((v, i) => (i === c ? v - step : v)),
          );
          for (let i = 0; i < 4; i++) {
            const difference = (up[i] - down[i]) / (2 * step);
            expect(Math.abs(stepper.state[4 + 4 * c + i] - difference)).toBeLessThan(2e-5);
          }
        }
      }),
      { numRuns: atDepth(12, 25), seed: 3 },
    );
  });
});

describe('the integrator', () => {
  const surface = wavySurface({
    tiltX: 0.01,
    tiltY: 0.02,
    waves: [{ amplitude: 0.15, kx: 0.5, ky: 0.35, phase: 1 }],
  });
  const ground = groundOf(surface, 0.55);
  /** One step of exactly `h`: any error will do, so that the step is taken as asked. */
  const fixedStep = (s: Stepper, on: RollingGround, h: number): void => {
    s.tolerance = Infinity;
    s.stride = Infinity;
    s.next = h;
    advance(s, on, h);
  };
  const run = (steps: number): { readonly end: Float64Array; readonly middle: Float64Array } => {
    const stepper = stepperFor(rolling, 4, 0);
    stepper.state.set([0, 0, 1.5, 1]);
    begin(stepper, ground, 0.1);
    const middle = new Float64Array(4);
    for (let i = 0; i < steps; i++) {
      fixedStep(stepper, ground, 1.6 / steps);
      if (i === 0) stateAt(stepper, (0.4 * 1.6) / steps, middle, 4);
    }
    return { end: Float64Array.from(stepper.state), middle };
  };
  const exact = run(4096).end;
  const errorOf = (steps: number): number => {
    const { end } = run(steps);
    return Math.hypot(...end.map((v, i) => v - exact[i]));
  };

  it('is of order 5: halving the step divides the error by 32 (Dormand & Prince 1980)', () => {
    const orders = [4, 8, 16].map((n) => Math.log2(errorOf(n) / errorOf(2 * n)));
    for (const order of orders) expect(order).toBeGreaterThan(4.6);
    expect(orders[orders.length - 1]).toBeLessThan(6);
  });

  it('has a dense output of order 4 at least', () => {
    const denseError = (steps: number): number => {
      const fine = stepperFor(rolling, 4, 0);
      fine.state.set([0, 0, 1.5, 1]);
      begin(fine, ground, 0.1);
      for (let i = 0; i < 64; i++) fixedStep(fine, ground, (0.4 * 1.6) / steps / 64);
      return Math.hypot(...run(steps).middle.map((v, i) => v - fine.state[i]));
    };
    // Within one step the error of a fourth-order interpolant falls by 2^5 as the step is halved.
    for (const n of [2, 4, 8]) {
      expect(Math.log2(denseError(n) / denseError(2 * n))).toBeGreaterThan(4.4);
    }
  });
});

const holed = (surface: Surface, ball: Point, hole: Point): PuttSolution | null => {
  const putt = solvePutt(surface, ball, hole, settings);
  return putt.status === 'holed' ? putt : null;
};

describe('a solved putt', () => {
  it('is mirrored when the green is', { tags: 'deep' }, () => {
    fc.assert(
      fc.property(anyGround, anyBall, (ground, [x, y]) => {
        const putt = holed(wavySurface(ground), [x, y], [0, 0]);
        const other = holed(wavySurface(mirrored(ground)), [-x, y], [0, 0]);
        expect(other === null).toBe(putt === null);
        if (putt === null || other === null) return;
        expect(Math.abs(other.aimAngle + putt.aimAngle)).toBeLessThan(1e-4);
        expect(Math.abs(other.launchSpeed - putt.launchSpeed)).toBeLessThan(1e-4);
        const clocks = other.entryClock + putt.entryClock;
        expect(Math.abs(clocks - 12 * Math.round(clocks / 12))).toBeLessThan(1e-2);
        const sides = { left: 'right', right: 'left', straight: 'straight' } as const;
        if (Math.abs(putt.aimOffset) > 1e-3) expect(other.breakSide).toBe(sides[putt.breakSide]);
      }),
      { numRuns: atDepth(30, 60), seed: 4 },
    );
  });

  it('does not change when the frame is turned', { tags: 'deep' }, () => {
    fc.assert(
      fc.property(
        anyGround,
        anyBall,
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        (ground, [x, y], a) => {
          const c = Math.cos(a);
          const s = Math.sin(a);
          const putt = holed(wavySurface(ground), [x, y], [0, 0]);
          const other = holed(
            wavySurface(turned(ground, a)),
            [c * x - s * y, s * x + c * y],
            [0, 0],
          );
          expect(other === null).toBe(putt === null);
          if (putt === null || other === null) return;
          expect(Math.abs(other.aimAngle - putt.aimAngle)).toBeLessThan(1e-4);
          expect(Math.abs(other.launchSpeed - putt.launchSpeed)).toBeLessThan(1e-4);
          expect(Math.abs(other.entryClock - putt.entryClock)).toBeLessThan(1e-2);
          expect(Math.abs(other.time - putt.time)).toBeLessThan(1e-3);
        },
      ),
      { numRuns: atDepth(30, 60), seed: 5 },
    );
  });

  it('converges as the surface is refined, at the third order of a cubic spline’s slope', {
    tags: 'long',
  }, () => {
    const ground = {
      tiltX: 0.012,
      tiltY: -0.015,
      waves: [{ amplitude: 0.05, kx: 0.55, ky: 0.4, phase: 0.7 }],
    };
    const outline = circleRing(8);
    const truth = wavySurface(ground, outline);
    const jet = new Float64Array(JET_SIZE);
    const random = randomFrom(3);
    const balls = Array.from({ length: 6 }, (): Point => {
      const a = 2 * Math.PI * random();
      const length = 3 + 3 * random();
      return [length * Math.cos(a), length * Math.sin(a)];
    });
    const errorAt = (step: number): number => {
      const x: number[] = [];
      const y: number[] = [];
      const z: number[] = [];
      for (let i = -11; i <= 11; i += step / 2) {
        for (let j = -11; j <= 11; j += step / 2) {
          truth.at(i, j, jet);
          x.push(i);
          y.push(j);
          z.push(jet[H]);
        }
      }
      const fitted = fitSurface(
        { x: Float64Array.from(x), y: Float64Array.from(y), z: Float64Array.from(z), outline },
        { knotStep: step, smoothing: 1e-10 },
      ).surface;
      let square = 0;
      for (const ball of balls) {
        const exact = solvePutt(truth, ball, [0, 0], settings);
        const found = solvePutt(fitted, ball, [0, 0], settings);
        square += (found.aimOffset - exact.aimOffset) ** 2;
      }
      return Math.sqrt(square / balls.length);
    };
    const errors = [3, 1.5, 0.75].map(errorAt);
    expect(Math.log2(errors[0] / errors[1])).toBeGreaterThan(2.5);
    expect(Math.log2(errors[1] / errors[2])).toBeGreaterThan(2.5);
    expect(errors[2]).toBeLessThan(1e-3);
  });
});
