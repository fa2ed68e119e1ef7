import { describe, expect, it } from 'vitest';
import { distance, type Point } from '../../src/geometry.js';
import { groundWeight, rollingAdjoint } from '../../src/putt/adjoint.js';
import { FIELDS, fanFrom } from '../../src/putt/fan.js';
import { groundOf, groundSpeed, rolling, rollingToRest } from '../../src/putt/motion.js';
import { rollToRest } from '../../src/putt/roll.js';
import { puttGround } from '../../src/putt/workspace.js';
import { HX, HXX, HXY, HY, HYY, type Surface } from '../../src/surface/surface.js';
import { circleRing, plane } from '../surface/analytic.js';
import { randomFrom, wavySurface } from './grounds.js';

const settings = { stimp: 3.048, past: 0.3048 };
const wavy = wavySurface({
  tiltX: 0.012,
  tiltY: -0.02,
  waves: [
    { amplitude: 0.05, kx: 0.9, ky: 0.5, phase: 0.4 },
    { amplitude: 0.03, kx: -0.4, ky: 1.1, phase: 2 },
  ],
});
const random = randomFrom(12);
const some = (n: number, most: number): number[] =>
  Array.from({ length: n }, () => (2 * random() - 1) * most);

describe('the motion of a ball', () => {
  it('has an adjoint: what it weighs of a tangent stays the same along the way', () => {
    const ground = groundOf(wavy, 0.55);
    for (let k = 0; k < 20; k++) {
      const here = [...some(2, 5), ...some(2, 2)];
      const [tangent, adjoint] = [some(4, 1), some(4, 1)];
      const [forth, back] = [new Float64Array(8), new Float64Array(8)];
      rolling(ground, Float64Array.of(...here, ...tangent), 1, forth);
      rollingAdjoint(ground, Float64Array.of(...here, ...adjoint), 0, back);
      for (let i = 0; i < 4; i++) expect(back[i]).toBeCloseTo(forth[i], 12);
      let change = 0;
      for (let i = 0; i < 4; i++) change += adjoint[i] * forth[4 + i] + back[4 + i] * tangent[i];
      expect(Math.abs(change)).toBeLessThan(1e-10);
    }
  });

  it('weighs a change of the gradient and of the bend under the ball by central differences', () => {
    for (let k = 0; k < 20; k++) {
      const [hx, hy, hxx, hxy, hyy] = [...some(2, 0.06), ...some(3, 0.05)];
      const [vx, vy, lx, ly] = [...some(2, 2), ...some(2, 1)];
      const state = Float64Array.of(0, 0, vx, vy, 0, 0, lx, ly);
      /** The pull of the adjoint on the acceleration, the ground changed a little. */
      const pull = (dx: number, dy: number, bend: number): number => {
        const square = vx * vx + vy * vy;
        const surface = {
          ...wavy,
          at: (_x: number, _y: number, jet: Float64Array): void => {
            jet.fill(0);
            jet[HX] = hx + dx;
            jet[HY] = hy + dy;
            jet[HXX] = hxx + bend / square;
            jet[HXY] = hxy;
            jet[HYY] = hyy + bend / square;
          },
        } satisfies Surface;
        const ground = groundOf(surface, 0.55);
        const out = new Float64Array(8);
        rolling(ground, state, 0, out);
        Object.assign(weight, groundWeight(ground, state));
        return lx * out[2] + ly * out[3];
      };
      const weight = { byGradientX: 0, byGradientY: 0, byBend: 0 };
      const e = 1e-5;
      const byX = (pull(e, 0, 0) - pull(-e, 0, 0)) / (2 * e);
      const byY = (pull(0, e, 0) - pull(0, -e, 0)) / (2 * e);
      const byBend = (pull(0, 0, e) - pull(0, 0, -e)) / (2 * e);
      pull(0, 0, 0);
      expect(weight.byGradientX).toBeCloseTo(byX, 6);
      expect(weight.byGradientY).toBeCloseTo(byY, 6);
      expect(weight.byBend).toBeCloseTo(byBend, 6);
    }
  });

  it('counts the distance rolled along the ground, whatever its clock', () => {
    const ground = groundOf(wavy, 0.55);
    for (let k = 0; k < 20; k++) {
      const state = Float64Array.of(...some(2, 5), ...some(2, 2), 0, 0);
      const out = new Float64Array(6);
      rollingToRest(ground, state, 0, out);
      const { jet } = ground;
      const speed = groundSpeed(jet[HX], jet[HY], state[2], state[3]);
      expect(out[5] / out[4]).toBeCloseTo(speed, 12);
    }
  });
});

describe('a ball that rolls off the green', () => {
  const centre: Point = [3, -2];
  const on = (grade: number) => puttGround(plane(circleRing(6, ...centre), 0, grade), settings);

  it.each([
    ['on the level', 0, [3, 2], 'leaves-green'],
    ['up a steep slope', 0.12, [0.5, 4.6], 'leaves-green'],
    ['down a steep slope, ever faster', 0.12, [0.3, -0.5], 'never-stops'],
    ['down a slope that slows it', 0.03, [0.5, -3], 'leaves-green'],
  ] as const)('%s', (_what, grade, velocity, status) => {
    const roll = rollToRest(on(grade), [3.5, -2.5], velocity as unknown as Point);
    expect(roll.status).toBe(status);
    // The ring has corners.
    expect(distance(roll.end, centre)).toBeGreaterThan(5.98);
    expect(distance(roll.end, centre)).toBeLessThan(6.001);
  });
});

describe('the fan of a hole', () => {
  it('keeps each patch in a box: its corners, and a fifth of the larger side round them', () => {
    const { rays, patches } = fanFrom(puttGround(wavy, settings), [0.5, 1], 4);
    expect(patches.count).toBeGreaterThan(100);
    for (let k = 0; k < patches.count; k++) {
      const corners = [0, 1].flatMap((side) =>
        [0, 1].map((end) => {
          const at = (patches.sample[k] + end) * FIELDS;
          const { samples } = rays[patches.ray[k] + side];
          return [samples[at], samples[at + 1]] as const;
        }),
      );
      const [xs, ys] = [0, 1].map((axis) => corners.map((corner) => corner[axis]));
      const [left, low, right, high] = [
        Math.min(...xs),
        Math.min(...ys),
        Math.max(...xs),
        Math.max(...ys),
      ];
      const room = 0.2 * Math.max(right - left, high - low);
      const asked = [left - room, low - room, right + room, high + room];
      asked.forEach((value, i) => {
        expect(patches.boxes[4 * k + i]).toBeCloseTo(value, 12);
      });
    }
  });
});
