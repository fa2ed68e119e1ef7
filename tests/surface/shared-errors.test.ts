import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';
import { H, JET_SIZE } from '../../src/surface/surface.js';
import { rover } from '../accuracy/instruments.js';
import { type RoughGreen, roughGreen } from '../accuracy/rough-greens.js';
import { atDepth } from '../depth.js';

const RADIUS = 11;
const outline = Array.from({ length: 60 }, (_, i): Point => {
  const angle = (Math.PI * i) / 30;
  return [RADIUS * Math.cos(angle), RADIUS + RADIUS * Math.sin(angle)];
});

/** A green that falls by 1.5 % to the front, with a swale from back to front through its middle. */
const swale = (depth: number): Pick<RoughGreen, 'at' | 'outline'> => ({
  outline,
  at: (x, y, jet) => {
    jet.fill(0);
    jet[H] = 0.015 * y - depth * Math.exp(-0.5 * (x / 2.5) ** 2);
  },
});

/** Walked along the swale, row by row from the left: the order in which a valley looks like a drift. */
const walkedAlong = (green: Pick<RoughGreen, 'at' | 'outline'>, seed: number) => {
  const normal = seededNormals(seed);
  const jet = new Float64Array(JET_SIZE);
  const spots: [number, number, number][] = [];
  for (let x = -12; x <= 12; x++) {
    for (let y = -1; y <= 2 * RADIUS + 1; y++) {
      if (Math.hypot(x, y - RADIUS) > RADIUS + 1.5) continue;
      green.at(x, y, jet);
      spots.push([x, y, jet[H] + 0.008 * normal()]);
    }
  }
  const [x, y, z] = [0, 1, 2].map((k) => Float64Array.from(spots, (spot) => spot[k]));
  return { x, y, z, outline, kind: 'points' as const };
};

describe('errors that points share', () => {
  it.each([
    [0.05, 40201],
    [0.15, 40202],
  ])('do not hold a swale %d m deep that is walked along', { tags: 'long' }, (depth, seed) => {
    const green = swale(depth);
    const { surface, report } = fitSurface(walkedAlong(green, seed));
    expect(report.shared.drift).toBe(null);
    expect(report.shared.steps).toEqual([]);
    const [want, got] = [new Float64Array(JET_SIZE), new Float64Array(JET_SIZE)];
    for (const y of [4, 8, 12, 16, 20]) {
      green.at(0, y, want);
      surface.at(0, y, got);
      // Four standard deviations of a fit that knows the noise; a drift took 13 to 36 mm of it.
      expect(Math.abs(got[H] - want[H])).toBeLessThan(0.008);
    }
  });

  it('are found where the receiver drifts, and their doubt holds the error', {
    tags: 'deep',
  }, () => {
    let [found, held, count] = [0, 0, 0];
    const greens = atDepth(1, 10);
    for (let k = 0; k < greens; k++) {
      const green = roughGreen(45, k);
      const survey = rover({ spacing: 1, noise: 0.006, drift: 0.015, over: 90 })(green, 45_000 + k);
      const { surface, report } = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
      if (report.shared.drift !== null || report.shared.steps.length > 0) found++;
      const [want, got] = [new Float64Array(JET_SIZE), new Float64Array(JET_SIZE)];
      survey.x.forEach((x, i) => {
        const sd = surface.trust!.heightSd(x, survey.y[i]);
        if (!Number.isFinite(sd)) return;
        green.at(x, survey.y[i], want);
        surface.at(x, survey.y[i], got);
        count++;
        if (Math.abs(got[H] - want[H]) <= 1.96 * sd) held++;
      });
    }
    expect(found).toBeGreaterThanOrEqual(Math.ceil(0.9 * greens));
    expect(held / count).toBeGreaterThan(0.9);
  });
});
