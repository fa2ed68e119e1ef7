import { describe, expect, it } from 'vitest';
import { binned } from '../../src/event/binned-points.js';
import { discsOn } from '../../src/event/discs.js';
import { errorDraws, type PointErrors } from '../../src/event/point-errors.js';
import { roundGreen } from './grounds.js';

/** Points put together, by hand. */

const ERRORS: PointErrors = { sigma: 0.01, drift: null, steps: [], walked: true, swathStep: 0 };
const of = (values: readonly number[]): Float64Array => Float64Array.from(values);

/** Points `apart` over a square of `side` metres, row after row; heights by their place. */
const rows = (side: number, apart: number) => {
  const at: (readonly [number, number])[] = [];
  for (let y = apart / 2; y < side; y += apart) {
    for (let x = apart / 2; x < side; x += apart) at.push([x, y]);
  }
  return {
    x: of(at.map(([x]) => x)),
    y: of(at.map(([, y]) => y)),
    z: of(at.map(([x, y]) => x + 10 * y)),
  };
};

describe('points of a dense survey', () => {
  it('are put together by squares of half a metre, a quarter of a square metre each', () => {
    const dense = rows(2, 0.1);
    const { points, count, meanOf } = binned(dense, ERRORS);
    expect(points.x.length).toBe(16);
    expect([...count]).toEqual(Array(16).fill(25));
    expect(points.x[0]).toBeCloseTo(0.25, 12);
    expect(points.y[5]).toBeCloseTo(0.75, 12);
    expect(points.z[5]).toBeCloseTo(0.75 + 7.5, 12);
    expect(meanOf(dense.z)).toEqual(points.z);
  });

  it('keep the moment of a step of their walk', () => {
    // After half of the 400 points: the second half of the squares.
    const step = { height: 0.02, sd: 0.002, after: 200, line: null };
    const { errors } = binned(rows(2, 0.1), { ...ERRORS, steps: [step] });
    expect(errors.steps).toEqual([{ ...step, after: 8 }]);
  });

  it('scatter less as their mean, by the root of how many there are', () => {
    const { points, errors, count } = binned(rows(10, 0.1), ERRORS);
    const draw = errorDraws(points, errors, 7, count)();
    const rms = Math.sqrt(draw.reduce((sum, v) => sum + v * v, 0) / draw.length);
    // 400 draws: their spread is known to 3.5 %.
    expect(Math.abs(rms / (0.01 / 5) - 1)).toBeLessThan(0.12);
  });
});

describe('points of a walk', () => {
  it('stay as they are', () => {
    const walked = rows(10, 1);
    const { points, errors, meanOf } = binned(walked, ERRORS);
    expect(points).toBe(walked);
    expect(errors).toBe(ERRORS);
    expect(meanOf(walked.z)).toBe(walked.z);
  });
});

describe('discs on a green', () => {
  it('tell the mean of one survey’s points less that of the other’s', () => {
    const older = binned(rows(8, 1), ERRORS);
    const newer = binned(rows(8, 0.2), ERRORS);
    const { all, changes } = discsOn(roundGreen(4), older, newer);
    const found = changes(older.points.z, newer.points.z);
    expect(all.length).toBeGreaterThan(100);
    all.forEach(({ middle: [mx, my], radius }, k) => {
      const meanIn = ({ points: { x, y, z }, count }: typeof older): number => {
        let [sum, points] = [0, 0];
        for (let i = 0; i < x.length; i++) {
          if ((x[i] - mx) ** 2 + (y[i] - my) ** 2 > radius * radius) continue;
          sum += count[i] * z[i];
          points += count[i];
        }
        return sum / points;
      };
      expect(found[k]).toBeCloseTo(meanIn(newer) - meanIn(older), 9);
    });
  });
});
