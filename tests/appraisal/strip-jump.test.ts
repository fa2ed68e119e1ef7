import { describe, expect, it } from 'vitest';
import { jumpOf, jumpRoom } from '../../src/appraisal/strip-jump.js';

/** A band of 5 m by 4 m, 30 mm higher where v > 0, its points 2 mm off up and down by turns, one of them 12 mm. */
const bandWith = (gross: number | null) => {
  const places = Array.from({ length: 60 }, (_, k) => ({
    u: ((k * 7) % 20) / 4 + 0.1,
    v: -2 + (4 * (k + 0.5)) / 60,
    off: k === 21 ? 0.012 : k % 2 === 0 ? 0.002 : -0.002,
  }));
  if (gross !== null) places.push({ u: 2.3, v: 0.7, off: gross });
  const heights = places.map(({ v, off }) => (v > 0 ? 0.03 : 0) + off);
  return {
    u: Float64Array.from(places, ({ u }) => u),
    v: Float64Array.from(places, ({ v }) => v),
    z: Float64Array.from(heights),
    count: places.length,
  };
};

describe('the jump across a line', () => {
  it('leaves a gross error out, and keeps a point that is six times as far off as half of the others', () => {
    const [plain, spoilt] = [null, 0.2].map((gross) =>
      jumpOf(bandWith(gross), 0, 5, jumpRoom(61, 5)),
    );
    expect(spoilt?.height).toBeCloseTo(plain?.height ?? NaN, 10);
    expect(spoilt?.sd).toBeCloseTo(plain?.sd ?? NaN, 10);
    expect(plain?.height).toBeCloseTo(0.03, 2);
  });
});
