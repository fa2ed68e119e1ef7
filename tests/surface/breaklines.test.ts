import { describe, expect, it } from 'vitest';
import { withBreaklines } from '../../src/surface/breaklines.js';

describe('the corners of breaklines', () => {
  const points = { x: Float64Array.of(1, 2), y: Float64Array.of(3, 4), z: Float64Array.of(5, 6) };
  const all = ({ x, y, z }: ReturnType<typeof withBreaklines>): number[][] =>
    Array.from(x, (own, k) => [own, y[k], z[k]]);

  it('join the points at their own places, each once; those that are points already do not', () => {
    const joined = withBreaklines(points, [
      [
        [7, 8, 9],
        [2, 4, 6.5],
        [10, 11, 12],
      ],
      [
        [10, 11, 12],
        [13, 14, Number.NaN],
      ],
    ]);
    expect(all(joined)).toEqual([
      [1, 3, 5],
      [2, 4, 6],
      [7, 8, 9],
      [10, 11, 12],
    ]);
  });

  it('leave the points as they are where there are none', () => {
    expect(withBreaklines(points, [])).toBe(points);
  });
});
