import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraisal/appraise.js';
import { stripSteps } from '../../src/appraisal/strip-steps.js';
import { InputFault } from '../../src/fault.js';
import type { Point } from '../../src/geometry.js';
import type { Survey } from '../../src/survey/survey.js';
import { atDepth } from '../depth.js';
import { circleRing } from '../surface/analytic.js';
import { CENTRE, madeUpSurvey, type Plan } from './made-up-survey.js';

const RADIUS = 6;
const outline = circleRing(RADIUS, CENTRE[0], CENTRE[1]);

const judge = (survey: Survey, ring: typeof outline | null = outline) =>
  appraise(survey, {
    outline: ring,
    drains: [],
    length: (m) => `${m.toFixed(1)} m`,
    small: (m) => `${(1000 * m).toFixed(0)} mm`,
  });

const tilted = (x: number, y: number): number => 0.02 * x + 0.008 * y + 0.0004 * x * y;

const GOOD: Plan = { ground: tilted, spacing: 0.8, noise: 0.006, seed: 1, reach: 8.4 };

const local = ([x, y]: Point): Point => [x - CENTRE[0], y - CENTRE[1]];

describe('a survey is judged', () => {
  it('a good one is fit for break tables, and its figures are those it was made with', () => {
    const a = judge(madeUpSurvey(GOOD));
    expect(a.verdict.use).toBe('break-tables');
    expect(a.spacing.coverage).toBe(1);
    expect(a.spacing.mean).toBeCloseTo(0.8, 1);
    expect(a.area).toBeCloseTo(Math.PI * RADIUS ** 2, -1);
    expect(Math.abs(a.noise! - 0.006)).toBeLessThan(0.0008);
    expect(a.steps).toEqual([]);
    expect(a.hollows).toEqual([]);
    expect(a.outliers.length).toBeLessThan(4);
  });

  it('a thin one is fit for fall arrows only, a thinner one for the outline only', () => {
    const thin = judge(madeUpSurvey({ ...GOOD, spacing: 2.6, noise: 0.02, seed: 2 }));
    expect(thin.verdict.use).toBe('fall-arrows');
    expect(thin.verdict.line).toMatch(
      /^fit for fall arrows only \(asked: points no more than 2\.2 m/,
    );
    const thinner = judge(madeUpSurvey({ ...GOOD, spacing: 5.5, noise: 0.02, seed: 3 }));
    expect(thinner.verdict.use).toBe('outline');
  });

  it('two points are fit for the outline only, and not a fault', () => {
    const survey = madeUpSurvey({ ...GOOD, spacing: 9 });
    const a = judge(survey);
    expect(a.noise).toBeNull();
    expect(a.verdict.use).toBe('outline');
  });

  it('a rough one does not know where the ground falls', () => {
    const level = (x: number): number => 0.011 * x;
    const a = judge(madeUpSurvey({ ...GOOD, ground: level, spacing: 1.5, noise: 0.4, seed: 4 }));
    expect(a.quality.directionKnown).toBeLessThan(0.75);
    expect(a.verdict.use).toBe('outline');
  });

  it('lists outliers at their places, and does not drop them', { tags: 'long' }, () => {
    const spoil = [
      [3.2, -1.4, 0.3],
      [-5.1, 4.4, -0.22],
      [0.3, 7, 0.15],
    ] as const;
    const a = judge(madeUpSurvey({ ...GOOD, spoil, seed: 5 }));
    const worst = a.outliers.slice(0, 3);
    spoil.forEach(([x, y, off], k) => {
      expect(worst[k].x - CENTRE[0]).toBeCloseTo(x, 6);
      expect(worst[k].y - CENTRE[1]).toBeCloseTo(y, 6);
      expect(Math.abs(worst[k].residual - off)).toBeLessThan(0.02);
    });
    expect(a.points).toBe(madeUpSurvey({ ...GOOD, spoil, seed: 5 }).x.length);
  });

  it('sees ground that is not surveyed', { tags: 'long' }, () => {
    const a = judge(madeUpSurvey({ ...GOOD, skip: (x, y) => x > 0 && y > 0, seed: 6 }));
    // A quarter of the circle, less the two metres along its edges that points reach.
    const bare = (Math.PI * (RADIUS - 2 * Math.SQRT2) ** 2) / 4 / (Math.PI * RADIUS ** 2);
    expect(1 - a.spacing.coverage).toBeGreaterThan(bare * 0.8);
    expect(1 - a.spacing.coverage).toBeLessThan(0.25);
    expect(a.verdict.use).not.toBe('break-tables');
    const [gx, gy] = local(a.spacing.gapAt);
    expect(gx > 2 && gy > 2).toBe(true);
  });

  it('measures the ground under 0.9 %: a dome is so flat within 0.009 / curvature of its top', {
    tags: 'long',
  }, () => {
    const curvature = 0.003;
    const dome = (x: number, y: number): number => (-curvature / 2) * (x * x + y * y);
    const a = judge(madeUpSurvey({ ...GOOD, ground: dome, noise: 0.003, seed: 7 }));
    expect(a.quality.level).toBeCloseTo((0.009 / curvature / RADIUS) ** 2, 1);
  });

  it('lists a closed hollow', { tags: 'long' }, () => {
    const pit = (x: number, y: number): number =>
      tilted(x, y) - 0.2 * Math.exp(-((x - 2) ** 2 + (y + 3) ** 2) / 8);
    const a = judge(madeUpSurvey({ ...GOOD, ground: pit, spacing: 0.6, seed: 8 }));
    expect(a.hollows.length).toBe(1);
    const [hx, hy] = local(a.hollows[0].at);
    expect(Math.hypot(hx - 2, hy + 3)).toBeLessThan(1);
    expect(a.hollows[0].depth).toBeGreaterThan(0.03);
  });

  it('trusts a stated error over a smaller one that the points show', { tags: 'long' }, () => {
    const survey = madeUpSurvey(GOOD);
    const plain = judge(survey);
    const stated = judge({ ...survey, statedSigma: 0.05 });
    expect(stated.quality.gradeSd).toBeGreaterThan(5 * plain.quality.gradeSd);
    expect(stated.verdict.use).not.toBe('break-tables');
  });

  it('counts the scatter that the points show over a smaller error stated, and says so', () => {
    const survey = madeUpSurvey({ ...GOOD, noise: 0.012 });
    const plain = judge(survey);
    const stated = judge({ ...survey, statedSigma: 0.003 });
    expect(stated.quality.gradeSd / plain.quality.gradeSd).toBeGreaterThan(0.8);
    expect(stated.quality.gradeSd / plain.quality.gradeSd).toBeLessThan(1.25);
    expect(stated.notes.join()).toMatch(/points scatter by .* more than the .* survey states/);
    expect(judge({ ...survey, statedSigma: 0.012 }).notes.join()).not.toMatch(/scatter/);
  });

  it('says when the heights look like feet taken for metres', () => {
    const a = judge(madeUpSurvey({ ...GOOD, ground: (x, y) => tilted(x, y) / 0.3048 }));
    expect(a.notes.join()).toMatch(/half the ground is steeper than [67]\.\d %.*vertical unit/);
  });

  it('without an outline judges the hull of a green, or a square of a course', {
    tags: 'long',
  }, () => {
    const green = judge(madeUpSurvey(GOOD), null);
    expect(green.ground).toBe('hull');
    const wide = judge(madeUpSurvey({ ...GOOD, reach: 45, spacing: 4 }), null);
    expect(wide.ground).toBe('square');
    expect(wide.area).toBeCloseTo(900, 0);
    expect(wide.notes[0]).toContain('square of 30 m');
  });

  it('refuses points on one spot in one line', () => {
    const spot: Survey = {
      ...madeUpSurvey(GOOD),
      x: new Float64Array(20).fill(3),
      y: new Float64Array(20).fill(4),
      z: new Float64Array(20),
    };
    expect(() => judge(spot, null)).toThrow(InputFault);
  });
});

describe('steps between strips', () => {
  const ring = circleRing(13);
  const seeds = [11, 12, 13, 14, 15, 16, 17, 18];
  const make = (ground: Plan['ground'], seed: number) => {
    const s = madeUpSurvey({ ground, spacing: 1, noise: 0.008, seed, reach: 16 });
    return stripSteps(
      s.x.map((v) => v - CENTRE[0]),
      s.y.map((v) => v - CENTRE[1]),
      s.z,
      ring,
    );
  };

  it.each(seeds.slice(0, atDepth(2, seeds.length)))(
    'finds one of 40 mm under 8 mm of noise, seed %i',
    { tags: 'deep' },
    (seed) => {
      const angle = seed;
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
      const found = make((x, y) => tilted(x, y) + (cos * x + sin * y > 2 ? 0.04 : 0), seed);
      expect(found.length).toBeGreaterThan(0);
      const [{ from, to, height }] = found;
      for (const [x, y] of [from, to]) expect(Math.abs(cos * x + sin * y - 2)).toBeLessThan(1.5);
      expect(Math.abs(Math.abs(height) - 0.04)).toBeLessThan(0.014);
      // The left side of the way from `from` to `to` is the higher one when the height is positive.
      const left: Point = [-(to[1] - from[1]), to[0] - from[0]];
      expect(left[0] * cos + left[1] * sin > 0).toBe(height > 0);
    },
  );

  it('does not take a tier for one, however it lies: faces 1.5 to 4 m wide, and rolling ground', {
    tags: 'deep',
  }, () => {
    for (const seed of seeds.slice(0, atDepth(1, seeds.length))) {
      const [cos, sin] = [Math.cos(seed), Math.sin(seed)];
      for (const width of [0.4, 0.6, 1]) {
        // tanh(v / width): nine tenths of the rise over 3 widths and more.
        const tier = (x: number, y: number): number =>
          tilted(x, y) + 0.15 * Math.tanh((cos * x + sin * y) / width);
        expect(make(tier, seed)).toEqual([]);
      }
      const rolling = (x: number, y: number): number =>
        tilted(x, y) + 0.1 * Math.sin(x / 3 + seed) * Math.cos(y / 4);
      expect(make(rolling, seed)).toEqual([]);
    }
  });
});

it('finds a step beside gross errors and a hollow', () => {
  const ground = (x: number, y: number): number =>
    tilted(x, y) -
    0.2 * Math.exp(-((x - 5) ** 2 + (y + 6) ** 2) / 8) +
    (0.6 * x + 0.8 * y > 3 ? 0.03 : 0);
  const spoil = [
    [3, 4, 0.3],
    [-4, 7.5, -0.2],
  ] as const;
  const s = madeUpSurvey({ ground, spacing: 1, noise: 0.006, seed: 9, reach: 16, spoil });
  const found = stripSteps(
    s.x.map((v) => v - CENTRE[0]),
    s.y.map((v) => v - CENTRE[1]),
    s.z,
    circleRing(13),
  );
  expect(found.length).toBe(1);
  expect(Math.abs(Math.abs(found[0].height) - 0.03)).toBeLessThan(0.008);
});
