import { describe, expect, test } from 'vitest';
import { heightFrom } from '../../src/course/ground-heights.js';
import type { Survey } from '../../src/survey/survey.js';

const surveyOf = (
  points: readonly (readonly [number, number, number])[],
  cellSize: number | null,
): Survey => ({
  source: 'ground',
  kind: cellSize === null ? 'points' : 'grid',
  x: Float64Array.from(points, (p) => p[0]),
  y: Float64Array.from(points, (p) => p[1]),
  z: Float64Array.from(points, (p) => p[2]),
  statedSigma: null,
  breaklines: [],
  cellSize,
});

const grid = (
  count: number,
  cell: number,
  height: (x: number, y: number) => number,
): [number, number, number][] =>
  Array.from({ length: count * count }, (_, i) => {
    const [x, y] = [500_000 + (i % count) * cell, 4_000_000 + Math.floor(i / count) * cell];
    return [x, y, height(x, y)];
  });

describe('heights from a ground model', () => {
  const slope = (x: number, y: number): number =>
    12 + 0.03 * (x - 500_000) - 0.05 * (y - 4_000_000);

  test('are exact on a plane, between the cells and at their middles', () => {
    const heightAt = heightFrom(surveyOf(grid(30, 5, slope), 5));
    for (let i = 0; i < 200; i++) {
      const at = [500_000 + ((i * 37.7) % 145), 4_000_000 + ((i * 59.3) % 145)] as const;
      expect(heightAt(at)).toBeCloseTo(slope(...at), 6);
    }
  });

  test('of scattered points on a plane', () => {
    const points = Array.from({ length: 900 }, (_, i): [number, number, number] => {
      const [x, y] = [500_000 + ((i * 61.803) % 150), 4_000_000 + ((i * 32.471) % 150)];
      return [x, y, slope(x, y)];
    });
    const heightAt = heightFrom(surveyOf(points, null));
    expect(heightAt([500_070, 4_000_070])).toBeCloseTo(slope(500_070, 4_000_070), 6);
  });

  test('there is none beyond the model', () => {
    const heightAt = heightFrom(surveyOf(grid(10, 5, slope), 5));
    expect(heightAt([500_200, 4_000_010])).toBeNull();
    expect(heightAt([499_000, 3_999_000])).toBeNull();
    // Two cells of 5 m from its edge.
    expect(heightAt([499_990.5, 4_000_010])).toBeCloseTo(slope(499_990.5, 4_000_010), 6);
    expect(heightAt([499_989.5, 4_000_010])).toBeNull();
    expect(heightAt([499_992.5, 3_999_992.5])).toBeNull();
  });

  test('points on one line give their mean, not a wild plane', () => {
    const points = Array.from({ length: 40 }, (_, i): [number, number, number] => [
      500_000 + i,
      4_000_000,
      7,
    ]);
    expect(heightFrom(surveyOf(points, 1))([500_010.4, 4_000_000.3])).toBeCloseTo(7, 9);
  });

  test('half a million points are sorted without trouble', () => {
    const heightAt = heightFrom(surveyOf(grid(720, 1, slope), 1));
    expect(heightAt([500_350.5, 4_000_350.5])).toBeCloseTo(slope(500_350.5, 4_000_350.5), 6);
  });
});
