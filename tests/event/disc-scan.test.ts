import { describe, expect, it } from 'vitest';
import { commonSd, type MovedDisc, scanDiscs } from '../../src/event/disc-scan.js';
import type { PointErrors } from '../../src/event/point-errors.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';
import { sampleGround } from '../../src/terrain/ground-grid.js';
import { atDepth } from '../depth.js';
import { plane } from '../surface/analytic.js';
import { roundGreen } from './grounds.js';

const RADIUS = 11;
const SIGMA = 0.008;
const surface = plane(roundGreen(RADIUS), 0.01, -0.015);
const grid = sampleGround(surface, 0.5);
const ERRORS: PointErrors = { sigma: SIGMA, drift: null, steps: [], walked: true, swathStep: 0 };

type Change = (x: number, y: number, k: number) => number;

/** Points a metre apart, row after row, with their own noise and what changed. */
const surveyOf = (seed: number, change: Change = () => 0, errors = ERRORS) => {
  const normal = seededNormals(seed);
  const [x, y, z]: [number[], number[], number[]] = [[], [], []];
  for (let py = -1; py <= 2 * RADIUS + 1; py++) {
    for (let px = -RADIUS - 1; px <= RADIUS + 1; px++) {
      if (Math.hypot(px, py - RADIUS) > RADIUS + 1.5) continue;
      const jet = new Float64Array(10);
      surface.at(px, py, jet);
      z.push(jet[0] + SIGMA * normal() + change(px, py, x.length));
      x.push(px);
      y.push(py);
    }
  }
  const points = { x: Float64Array.from(x), y: Float64Array.from(y), z: Float64Array.from(z) };
  return { surface, points, errors };
};

const scan = (seed: number, change?: Change, errors = ERRORS): MovedDisc[] =>
  scanDiscs(grid, surveyOf(seed, undefined, errors), surveyOf(seed + 500, change, errors), 0.05);

const inDisc = (x: number, y: number, radius: number): boolean => Math.hypot(x - 2, y - 9) < radius;

/** What a fit may find that points share. */
const CAREFUL: readonly Partial<PointErrors>[] = [
  { drift: { sd: 0.012, lasts: 60 } },
  { steps: [{ height: 0.03, sd: 0.003, after: 200, line: null }] },
  { steps: [{ height: 0.03, sd: 0.003, after: null, line: { angle: 0, offset: -5 } }] },
  { swathStep: 0.04 },
];

describe('the scan of discs', () => {
  it('shows nothing on ground that did not move, nineteen times in twenty', {
    tags: 'deep',
  }, () => {
    const count = atDepth(1, 40);
    const runs = Array.from({ length: count }, (_, k) => scan(48_000 + k));
    const alarms = runs.filter((discs) => discs.length > 0).length;
    // Three standard deviations over the number expected.
    expect(alarms).toBeLessThanOrEqual(0.05 * count + 3 * Math.sqrt(0.0475 * count));
  });

  it('shows where ground sank, by how much, and how large it is', () => {
    const [disc, ...others] = scan(48_100, (x, y) => (inDisc(x, y, 3) ? -0.02 : 0));
    expect(others).toEqual([]);
    expect(Math.hypot(disc.middle[0] - 2, disc.middle[1] - 9)).toBeLessThan(1.2);
    expect(disc.radius).toBeGreaterThan(2);
    expect(disc.radius).toBeLessThan(4);
    expect(Math.abs(disc.change + 0.02)).toBeLessThan(3 * disc.sd);
    // Of means of so many points a metre apart.
    const points = Math.PI * disc.radius ** 2;
    expect(disc.sd / (SIGMA * Math.sqrt(2 / points))).toBeCloseTo(1, 0.7);
  });

  it('takes off what all of the green has in common', { tags: 'long' }, () => {
    expect(scan(48_201, () => 0.03)).toEqual([]);
  });

  it('knows how well the common difference is told: as the difference of two medians', () => {
    const [older, newer] = [surveyOf(48_210), surveyOf(48_211)];
    // Of normal errors a median scatters by the root of pi/2 more than a mean.
    const near = Array.from(older.points.x).filter(
      (x, i) => Math.hypot(x, older.points.y[i] - RADIUS) <= RADIUS + 1,
    ).length;
    const byHand = SIGMA * Math.sqrt(Math.PI / 2) * Math.sqrt(2 / near);
    expect(Math.abs(commonSd(grid, older, newer) / byHand - 1)).toBeLessThan(0.15);
    // A step of one session leaves the level of half of the green in doubt.
    const errors = { ...ERRORS, steps: [{ height: 0.03, sd: 0.003, after: 60, line: null }] };
    expect(commonSd(grid, { ...older, errors }, newer)).toBeGreaterThan(0.01);
  });

  it('takes a step of the walk for another session, not for ground', { tags: 'long' }, () => {
    expect(scan(48_300, (_x, _y, k) => (k > 230 ? 0.015 : 0))).toEqual([]);
    const aside: PointErrors = { ...ERRORS, walked: false };
    expect(scan(48_300, (_x, _y, k) => (k > 230 ? 0.015 : 0), aside).length).toBeGreaterThan(0);
  });

  it('is as careful as a drift, a step or swaths that were found ask for', { tags: 'long' }, () => {
    const sank: Change = (x, y) => (inDisc(x, y, 3) ? -0.012 : 0);
    expect(scan(48_400, sank).length).toBeGreaterThan(0);
    for (const more of CAREFUL.slice(0, atDepth(1, 4))) {
      expect(scan(48_400, sank, { ...ERRORS, ...more })).toEqual([]);
    }
  });
});
