import { beforeAll, describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { insideRing } from '../../src/geometry.js';
import { decelerationOf } from '../../src/putt/green-speed.js';
import { launchVelocity } from '../../src/putt/leg.js';
import { rollToRest } from '../../src/putt/roll.js';
import { solvePutt } from '../../src/putt/solve.js';
import { puttGround } from '../../src/putt/workspace.js';
import type { Surface } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { circleRing, quadric, twoTier } from '../surface/analytic.js';
import type { DemoGreen } from './demo-greens.js';
import { demoGreens } from './demo-greens.js';
import { randomFrom } from './grounds.js';
import type { TimedState } from './reference-motion.js';
import { odexStates } from './reference-motion.js';

/** Half a millimetre against `odex` at 1e-10: where the ball is over the hole, along the way, and at rest. */
const BOUND = 5e-4;
const settings = { stimp: feetToMetres(10), past: inchesToMetres(12) };
const deceleration = decelerationOf(settings.stimp);

/** Greatest distance of a path's points from the reference's polyline. */
const straying = (path: readonly Point[], line: readonly Point[]): number => {
  let worst = 0;
  let from = 1;
  for (const [x, y] of path) {
    let best = Infinity;
    for (let i = Math.max(1, from - 3); i < line.length; i++) {
      const [ax, ay] = line[i - 1];
      const [dx, dy] = [line[i][0] - ax, line[i][1] - ay];
      const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
      const d = Math.hypot(x - ax - t * dx, y - ay - t * dy);
      if (d < best) {
        best = d;
        from = i;
      }
      if (i > from + 24) break;
    }
    worst = Math.max(worst, best);
  }
  return worst;
};

/** The line through timed states, each stretch a cubic by positions and velocities in 8 pieces. */
const smoothLine = (states: readonly TimedState[]): Point[] => {
  const line: Point[] = [[states[0].state[0], states[0].state[1]]];
  for (let i = 1; i < states.length; i++) {
    const [a, b] = [states[i - 1], states[i]];
    const h = b.time - a.time;
    for (let k = 1; k <= 8; k++) {
      const t = k / 8;
      const at = (j: 0 | 1): number =>
        a.state[j] * (1 - 3 * t * t + 2 * t ** 3) +
        b.state[j] * (3 * t * t - 2 * t ** 3) +
        h * (a.state[j + 2] * (t - 2 * t * t + t ** 3) + b.state[j + 2] * (t ** 3 - t * t));
      line.push([at(0), at(1)]);
    }
  }
  return line;
};

/** Solves a putt and rolls it again by the reference; null when the putt is not one that holes. */
const compare = (
  surface: Surface,
  ball: Point,
  hole: Point,
): { readonly atHole: number; readonly speed: number; readonly path: number } | null => {
  const putt = solvePutt(surface, ball, hole, settings);
  if (putt.status !== 'holed') return null;
  const velocity = launchVelocity(surface, putt);
  const states = odexStates(surface, deceleration, ball, velocity, putt.time, 60);
  const end = states[states.length - 1].state;
  const jet = new Float64Array(10);
  surface.at(end[0], end[1], jet);
  return {
    atHole: Math.hypot(end[0] - hole[0], end[1] - hole[1]),
    speed: Math.abs(
      Math.hypot(end[2], end[3], jet[1] * end[2] + jet[2] * end[3]) -
        Math.sqrt(2 * deceleration * settings.past),
    ),
    path: straying(putt.path, smoothLine(states)),
  };
};

const green = circleRing(14);
const CURVED: Readonly<Record<string, Surface>> = {
  bowl: quadric(green, 0.012, 0.008, 1, -1),
  dome: quadric(green, -0.007, -0.005),
  saddle: quadric(green, 0.012, -0.008),
  'trough to one side': quadric(green, 0.02, 0, 2, 0),
  tier: twoTier(green, 0.35, 5, 1.5, 0.008),
  'gentle tier': twoTier(green, 0.5, 0, 3, 0.005),
};

describe('putts on curved ground, against odex at 1e-10', () => {
  it.each(Object.keys(CURVED))('%s: within 0.5 mm', { tags: 'deep' }, (name) => {
    const random = randomFrom(7);
    let solved = 0;
    for (let k = 0; k < atDepth(5, 12); k++) {
      const a = 2 * Math.PI * random();
      const length = 1 + 9 * random();
      const hole: Point = [3 * (random() - 0.5), 3 * (random() - 0.5)];
      const ball: Point = [hole[0] + length * Math.cos(a), hole[1] + length * Math.sin(a)];
      const found = compare(CURVED[name], ball, hole);
      if (found === null) continue;
      solved += 1;
      expect(found.atHole).toBeLessThan(BOUND);
      expect(found.speed).toBeLessThan(5e-4);
      expect(found.path).toBeLessThan(BOUND);
    }
    expect(solved).toBeGreaterThanOrEqual(atDepth(3, 9));
  });

  it.each(Object.keys(CURVED))(
    '%s: a roll to rest ends within 0.5 mm',
    { tags: 'deep' },
    (name) => {
      const surface = CURVED[name];
      const random = randomFrom(11);
      const w = puttGround(surface, settings);
      let stopped = 0;
      for (let k = 0; k < atDepth(4, 8); k++) {
        const a = 2 * Math.PI * random();
        const speed = 0.8 + 1.2 * random();
        const velocity: Point = [speed * Math.cos(a), speed * Math.sin(a)];
        const roll = rollToRest(w, [0, 0], velocity);
        if (roll.status !== 'short') continue;
        stopped += 1;
        // The reference cannot pass the stop itself, where the direction of the resistance is undefined;
        // 5 ms before it the ball has about 10 micrometres to go.
        const states = odexStates(surface, deceleration, [0, 0], velocity, roll.time - 5e-3, 40);
        const end = states[states.length - 1].state;
        expect(Math.hypot(end[0] - roll.end[0], end[1] - roll.end[1])).toBeLessThan(BOUND);
      }
      expect(stopped).toBeGreaterThanOrEqual(atDepth(2, 4));
    },
  );
});

describe('putts on greens of the demo course, against odex at 1e-10', { tags: 'deep' }, () => {
  const IDS = atDepth(['1', '7'], ['1', '3', '7', '13']);
  let greens: DemoGreen[] = [];
  beforeAll(async () => {
    greens = await demoGreens(IDS);
  });

  it.each(IDS)('green %s: within 0.5 mm', (id) => {
    const { surface, locations } = greens.find((one) => one.id === id)!;
    const random = randomFrom(Number(id));
    let solved = 0;
    for (const hole of locations) {
      for (let k = 0; k < atDepth(2, 4); k++) {
        const a = 2 * Math.PI * random();
        const length = 1 + 8 * random();
        const ball: Point = [hole[0] + length * Math.cos(a), hole[1] + length * Math.sin(a)];
        if (!insideRing(surface.outline, ball[0], ball[1])) continue;
        const found = compare(surface, ball, hole);
        if (found === null) continue;
        solved += 1;
        expect(found.atHole).toBeLessThan(BOUND);
        expect(found.path).toBeLessThan(BOUND);
      }
    }
    expect(solved).toBeGreaterThanOrEqual(atDepth(3, 6));
  });
});
