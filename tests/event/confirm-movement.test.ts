import { describe, expect, it } from 'vitest';
import { changeByPoints, type SurveyPoints } from '../../src/event/confirm-movement.js';
import { leftOver } from '../../src/event/left-over.js';
import { robustSpread } from '../../src/surface/robust-spread.js';
import { nearestNode, nodeX, nodeY, sampleGround } from '../../src/terrain/ground-grid.js';
import { plane } from '../surface/analytic.js';
import { normals, roundGreen } from './grounds.js';

const green = roundGreen(14);
const ground = plane(green, 0.02, -0.01);
const HEIGHT = (x: number, y: number): number => 0.02 * x - 0.01 * y;

/** Points on a jittered grid with noise, on ground that is lifted. */
const survey = (
  seed: number,
  noise: number,
  lift: (x: number, y: number) => number,
): SurveyPoints => {
  const normal = normals(seed);
  const points: [number, number, number][] = [];
  for (let y = -1; y < 29; y++) {
    for (let x = -15; x < 15; x++) {
      const [px, py] = [x + 0.2 * normal(), y + 0.2 * normal()];
      points.push([px, py, HEIGHT(px, py) + lift(px, py) + noise * normal()]);
    }
  }
  const column = (k: 0 | 1 | 2): Float64Array => Float64Array.from(points, (p) => p[k]);
  return { x: column(0), y: column(1), z: column(2) };
};

const square = [
  [
    [-4, 10],
    [4, 10],
    [4, 18],
    [-4, 18],
  ],
] as const;

describe('a change by the points themselves', () => {
  it('is the difference of two means with the error of Welch, whatever the surfaces smoothed away', () => {
    const older = survey(1, 0.006, () => 0);
    const newer = survey(2, 0.003, () => 0.02);
    // Both fits missed the lift altogether.
    const { change, error } = changeByPoints(
      square,
      { older: ground, newer: ground },
      { older, newer },
    )!;
    expect(Math.abs(change - 0.02)).toBeLessThan(3 * error);
    // 64 points each.
    expect(error).toBeGreaterThan(0.8 * Math.hypot(0.006, 0.003) * Math.sqrt(1 / 64));
    expect(error).toBeLessThan(1.2 * Math.hypot(0.006, 0.003) * Math.sqrt(1 / 64));
  });

  it('has the textbook error of two means of four', () => {
    const four = (lift: number): SurveyPoints => {
      const places = [
        [-2, 12],
        [2, 12],
        [2, 16],
        [-2, 16],
      ];
      return {
        x: Float64Array.from(places, ([x]) => x),
        y: Float64Array.from(places, ([, y]) => y),
        z: Float64Array.from(places, ([x, y], k) => HEIGHT(x, y) + lift + (k % 2 ? 0.01 : -0.01)),
      };
    };
    const { change, error } = changeByPoints(
      square,
      { older: ground, newer: ground },
      { older: four(0), newer: four(0.05) },
    )!;
    expect(change).toBeCloseTo(0.05, 12);
    // Each sample's variance is 4 (0.01)^2 / 3, that of its mean a quarter of it (Welch 1947).
    expect(error).toBeCloseTo(Math.sqrt((2 * (4 * 0.01 ** 2)) / 3 / 4), 12);
  });

  it('is not moved by a gross error', () => {
    const older = survey(1, 0.005, () => 0);
    const newer = survey(2, 0.005, () => 0);
    const inside = newer.x.findIndex((x, i) => Math.hypot(x, newer.y[i] - 14) < 1);
    newer.z[inside] += 3;
    const { change, error } = changeByPoints(
      square,
      { older: ground, newer: ground },
      { older, newer },
    )!;
    expect(Math.abs(change)).toBeLessThan(4 * error);
    expect(error).toBeLessThan(0.0015);
  });

  it('is not known where a survey has hardly a point', () => {
    const older = survey(1, 0.005, () => 0);
    const three = { x: older.x.slice(0, 3), y: older.y.slice(0, 3), z: older.z.slice(0, 3) };
    expect(
      changeByPoints(square, { older: ground, newer: ground }, { older, newer: three }),
    ).toBeNull();
  });
});

describe('what a fit left over', () => {
  it('is the bump that it smoothed away, at the error of an average', () => {
    const grid = sampleGround(ground, 0.5);
    const lift = (x: number, y: number): number =>
      0.03 * Math.exp(-(x * x + (y - 14) ** 2) / (2 * 9));
    const noise = 0.006;
    const { mean, error } = leftOver(grid, ground, survey(3, noise, lift));
    const top = nearestNode(grid, 0, 14);
    // A Gaussian of 3 m seen through one of 1.2 m keeps 9 / (9 + 1.44) of its height.
    expect(Math.abs(mean[top] - 0.03 * (9 / 10.44))).toBeLessThan(3 * error[top]);
    const calm = nearestNode(grid, 0, 26);
    expect(Math.abs(mean[calm])).toBeLessThan(4 * error[calm]);
    // Weights of 1.2 m on one point a square metre: 4 pi 1.44 points.
    expect(error[calm] / (noise / Math.sqrt(4 * Math.PI * 1.44))).toBeGreaterThan(0.6);
    expect(error[calm] / (noise / Math.sqrt(4 * Math.PI * 1.44))).toBeLessThan(1.6);
  });

  it('is told from four points of one weight on, each of them counted', () => {
    const grid = sampleGround(ground, 0.5);
    const node = nearestNode(grid, 0, 14);
    const [x, y] = [nodeX(grid, node), nodeY(grid, node)];
    const round = (count: number): SurveyPoints => {
      const turns = Array.from({ length: count }, (_, i) => (2 * Math.PI * i) / count);
      const px = Float64Array.from(turns, (turn) => x + 0.5 * Math.cos(turn));
      const py = Float64Array.from(turns, (turn) => y + 0.5 * Math.sin(turn));
      return { x: px, y: py, z: px.map((own, i) => HEIGHT(own, py[i]) + (i % 2 ? 0.03 : 0.01)) };
    };
    const four = leftOver(grid, ground, round(4));
    expect(four.mean[node]).toBeCloseTo(0.02, 9);
    expect(four.error[node]).toBeCloseTo(Math.sqrt((0.01 ** 2 + 0.03 ** 2) / 2 / 4), 9);
    expect(leftOver(grid, ground, round(3)).mean[node]).toBe(0);
  });
});

describe('the robust spread', () => {
  it('is that of a normal sample, with or without gross errors', () => {
    const normal = normals(4);
    const sample = Array.from({ length: 2001 }, () => 5 + 2 * normal());
    for (const values of [sample, [...sample, 1e6, -1e6, 1e9]]) {
      const { middle, sd } = robustSpread(values);
      expect(middle).toBeCloseTo(5, 0);
      expect(sd).toBeCloseTo(2, 0);
    }
  });
});
