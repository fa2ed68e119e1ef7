import { describe, expect, it } from 'vitest';
import { pointErrorsOf } from '../../src/event/point-errors.js';
import { surfaceChange } from '../../src/event/surface-change.js';
import { boxOf, type Point } from '../../src/geometry.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import type { Survey } from '../../src/survey/survey.js';
import { atDepth } from '../depth.js';
import { type RoverPlan, rover } from './instruments.js';
import { type RoughGreen, roughGreen } from './rough-greens.js';

// @module-tag long
/**
 * How often two surveys of one rough green are said to have moved: of ground that did not, and of ground that sank.
 * Seeds 6001 and 57001 judged it; 46, 47, 47001 and 47002 set the method.
 */
const SEED = 6001;
const PAIRS = atDepth(3, 4, 200);

const fitted = (green: RoughGreen, survey: Survey) => {
  const { surface, report } = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
  return { surface, points: { ...survey, errors: pointErrorsOf(report, survey.kind) } };
};

/** The survey of a green of which a disc sank. */
const sunk = (survey: Survey, middle: Point, radius: number, by: number): Survey => ({
  ...survey,
  z: survey.z.map((z, i) =>
    Math.hypot(survey.x[i] - middle[0], survey.y[i] - middle[1]) < radius ? z - by : z,
  ),
});

interface Rates {
  /** Shares of the pairs that show any movement, and that show it where it was. */
  readonly alarms: number;
  readonly found: number;
}

const ratesOf = (plan: RoverPlan, radius = 0, by = 0): Rates => {
  let [alarms, found] = [0, 0];
  for (let k = 0; k < PAIRS; k++) {
    const green = roughGreen(SEED, k);
    const box = boxOf(green.outline);
    const middle: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
    const older = fitted(green, rover(plan)(green, 100 * SEED + 2 * k));
    const newer = fitted(
      green,
      sunk(rover(plan)(green, 100 * SEED + 2 * k + 1), middle, radius, by),
    );
    const { regions } = surfaceChange(
      older.surface,
      newer.surface,
      newer.points.x.length,
      {},
      { older: older.points, newer: newer.points },
    );
    if (regions.length > 0) alarms++;
    const isThere = regions.some(
      ({ middle: [x, y], meanChange }) =>
        meanChange < 0 && Math.hypot(x - middle[0], y - middle[1]) < radius + 0.5,
    );
    if (isThere) found++;
  }
  return { alarms: alarms / PAIRS, found: found / PAIRS };
};

/** Three standard deviations of a share found in so many pairs. */
const slack = (share: number): number => 3 * Math.sqrt((share * (1 - share)) / PAIRS);

describe('two surveys of one green', () => {
  it('of ground that did not move are said to differ one time in twenty', () => {
    const { alarms } = ratesOf({ spacing: 1, noise: 0.008 });
    expect(alarms).toBeLessThanOrEqual(0.05 + slack(0.05));
  });

  it.each([
    ['drift', { drift: 0.01, over: 120 }],
    ['another session', { jump: 0.015 }],
  ])('do not take the receiver’s %s for movement', (_, errors) => {
    const { alarms } = ratesOf({ spacing: 1, noise: 0.008, ...errors });
    expect(alarms).toBeLessThanOrEqual(0.1 + slack(0.1));
  });

  // A disc of 3 m across holds seven points a survey: at 8 mm no test finds 10 mm there one time in two.
  it('show ground that sank by 10 mm: 6 m across at 8 mm noise, 3 m across at 3 mm', () => {
    expect(ratesOf({ spacing: 1, noise: 0.008 }, 3, 0.01).found).toBeGreaterThanOrEqual(
      0.6 - slack(0.6),
    );
    expect(ratesOf({ spacing: 1, noise: 0.003 }, 1.5, 0.01).found).toBeGreaterThanOrEqual(
      0.95 - slack(0.95),
    );
  });
});
