import { describe, expect, it } from 'vitest';
import { gridNoise } from '../../src/surface/grid-noise.js';
import { upperTail } from '../../src/surface/normal-distribution.js';
import type { Scatter } from '../../src/surface/scatter.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';
import { withoutShared } from '../../src/surface/shared-errors.js';
import { sharedModel } from '../../src/surface/shared-model.js';
import type { SharedFinding } from '../../src/surface/shared-search.js';
import { driftPrecision } from '../../src/surface/walk-drift.js';

/** The parts of shared errors, by figures worked out by hand. */

describe('the upper tail of the normal distribution', () => {
  // Abramowitz & Stegun, Handbook of Mathematical Functions, table 26.1.
  it.each([
    [0, 0.5],
    [1, 0.1586552539],
    [1.96, 0.0249978951],
    [3, 0.001349898],
    [-1, 0.8413447461],
    [-2.5, 0.9937903347],
  ])('at %d is %d', (z, p) => {
    expect(Math.abs(upperTail(z) - p)).toBeLessThan(1.5e-7);
  });
});

describe('heights without shared errors', () => {
  it('lose the shares that each point has of them', () => {
    const shared = {
      count: 2,
      width: 2,
      columns: Int32Array.of(0, 1, 0, -1, 1, -1),
      shares: Float64Array.of(0.5, 0.25, -0.5, 9, 1, 9),
      precision: new Float64Array(4),
    };
    const left = withoutShared(Float64Array.of(1, 2, 3), shared, Float64Array.of(0.2, 0.4));
    expect(Array.from(left)).toEqual([0.8, 2.1, 2.6].map((v) => expect.closeTo(v, 12)));
  });
});

describe('a drift of first order', () => {
  it('has the precision that inverts its covariance', () => {
    // exp(-|t - u| / 2) at the times 0, 1 and 4.
    const times = [0, 1, 4];
    const precision = driftPrecision(Float64Array.from(times), 2);
    times.forEach((_, i) => {
      times.forEach((u, j) => {
        const sum = times.reduce(
          (all, t, k) => all + precision[3 * i + k] * Math.exp(-Math.abs(t - u) / 2),
          0,
        );
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 12);
      });
    });
  });
});

describe('the model of what was found', () => {
  /** Ten points of a walk along x, and two corners of a breakline behind them. */
  const scatter = {
    x: Float64Array.from({ length: 12 }, (_, p) => p),
    y: new Float64Array(12),
  } as unknown as Scatter;
  const walk = { time: null, points: 10 };
  const found = (more: Partial<SharedFinding>): SharedFinding => ({
    drift: null,
    steps: [],
    suspected: null,
    possibleDrift: null,
    power: 0.02,
    ...more,
  });

  it('is none where nothing was found', () => {
    expect(sharedModel(scatter, walk, null, found({}))).toBeNull();
  });

  it('raises the points of the walk from a step on, and lowers the others by half', () => {
    const step = { height: 0.03, sd: 0.003, after: 4, line: null };
    const model = sharedModel(scatter, walk, null, found({ steps: [step] }))!;
    expect(Array.from(model.shares)).toEqual(
      [0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 0, 0].map((over) => over - 0.5),
    );
    // A step is expected to be 0.2 m before it is seen.
    expect(model.precision[0]).toBeCloseTo(1 / 0.2 ** 2, 9);
  });

  it('raises one side of a straight step', () => {
    const step = { height: 0.03, sd: 0.003, after: null, line: { angle: 0, offset: 7.5 } };
    const model = sharedModel(scatter, walk, null, found({ steps: [step] }))!;
    expect(Array.from(model.shares).map((share) => share > 0)).toEqual(
      Array.from(scatter.x, (x) => x > 7.5),
    );
  });

  it('gives a drift its size, and no part in what was not walked', () => {
    const model = sharedModel(scatter, walk, null, found({ drift: { sd: 0.01, lasts: 2 } }))!;
    const unit = driftPrecision(Float64Array.of(0, 9), 2);
    expect(Array.from(model.precision)).toEqual(
      Array.from(unit, (v) => expect.closeTo(v / 0.01 ** 2, 6)),
    );
    expect(Array.from(model.columns.slice(2 * 10))).toEqual([-1, -1, -1, -1]);
    // A third of the way from the first moment to the second.
    expect(Array.from(model.shares.slice(2 * 3, 2 * 4))).toEqual([
      expect.closeTo(2 / 3, 12),
      expect.closeTo(1 / 3, 12),
    ]);
  });

  it('knows sessions apart', () => {
    const session = Int32Array.from({ length: 10 }, (_, p) => (p < 6 ? 0 : 1));
    const model = sharedModel(scatter, walk, session, found({}))!;
    expect(Array.from(model.columns)).toEqual([0, 0, 0, 0, 0, 0, 1, 1, 1, 1, -1, -1]);
    expect(model.precision[0]).toBeCloseTo(1 / 0.03 ** 2, 9);
  });
});

describe('the noise of a grid', () => {
  it('is the same however the grid lies', { tags: 'long' }, () => {
    const normal = seededNormals(48_900);
    const cells = Array.from({ length: 30 * 30 }, (_, k) => [
      0.5 * (k % 30),
      0.5 * Math.floor(k / 30),
    ]);
    const z = Float64Array.from(cells, () => 0.02 * normal());
    const noiseAt = (turn: number) => {
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const x = Float64Array.from(cells, ([u, v]) => c * u - s * v);
      const y = Float64Array.from(cells, ([u, v]) => s * u + c * v);
      return gridNoise(x, y, z, 0.5, turn)!;
    };
    const level = noiseAt(0);
    expect(level.sigma).toBeGreaterThan(0.015);
    const turned = noiseAt(0.5);
    expect(turned.sigma).toBeCloseTo(level.sigma, 9);
    expect(turned.power).toBeCloseTo(level.power, 9);
    expect(turned.length).toBe(level.length);
  });
});
