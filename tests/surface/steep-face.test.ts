import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import { insideRing } from '../../src/geometry.js';
import { fitSurface } from '../../src/surface/fit.js';
import { H, JET_SIZE } from '../../src/surface/surface.js';
import { atDepth } from '../depth.js';
import { circleRing } from './analytic.js';

/** Half a metre up over a face some 1.8 m wide, surveyed to 3 mm a metre apart: all seen by the points, none told twice. */
const RISE = 0.5;
const FACE = 0.6;
const NOISE = 0.003;
const outline = circleRing(7);

const heightAt = (turn: number, x: number, y: number): number =>
  0.015 * y + (RISE / 2) * Math.tanh((Math.cos(turn) * x + Math.sin(turn) * y) / FACE);

const surveyed = (seed: number) => {
  const random = seeded(seed);
  const turn = Math.PI * random.uniform();
  const points: [number, number, number][] = [];
  for (let j = -9; j <= 9; j++) {
    for (let i = -9; i <= 9; i++) {
      const x = (j % 2 === 0 ? i : -i) + 0.12 * random.normal();
      const y = j + 0.12 * random.normal();
      if (Math.hypot(x, y) < 9) points.push([x, y, heightAt(turn, x, y) + NOISE * random.normal()]);
    }
  }
  const [x, y, z] = [0, 1, 2].map((k) => Float64Array.from(points, (p) => p[k]));
  return { turn, x, y, z };
};

describe('the steep face of a tier', () => {
  it.each([56_001, 56_002, 56_003].slice(0, atDepth(1, 3)))(
    'is neither outliers nor a step or drift of the survey, and is met at its points, seed %i',
    { tags: 'deep' },
    (seed) => {
      const { turn, ...points } = surveyed(seed);
      const { surface, report } = fitSurface({ ...points, outline, kind: 'points' });
      expect(report.outliers.length).toBeLessThanOrEqual(1);
      expect(report.shared.steps).toEqual([]);
      expect(report.shared.drift).toBeNull();
      const jet = new Float64Array(JET_SIZE);
      let [square, count] = [0, 0];
      points.x.forEach((x, k) => {
        const y = points.y[k];
        const across = Math.cos(turn) * x + Math.sin(turn) * y;
        if (Math.abs(across) > 2 * FACE || !insideRing(outline, x, y)) return;
        surface.at(x, y, jet);
        square += (jet[H] - heightAt(turn, x, y)) ** 2;
        count++;
      });
      expect(count).toBeGreaterThan(10);
      expect(Math.sqrt(square / count)).toBeLessThan(0.005);
    },
  );
});
