import { describe, expect, it } from 'vitest';
import { LINE_TURNS, searchOf, triedLines } from '../../src/appraisal/strip-lines.js';
import { stripSteps } from '../../src/appraisal/strip-steps.js';
import type { Ring } from '../../src/geometry.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';

const OUTLINE: Ring = [
  [-9, 0],
  [9, 0],
  [11, 12],
  [8, 25],
  [-8, 25],
  [-11, 12],
];

/** Ground that falls and bends a little, 6 mm noise, points 1 m apart, raised by a step left of a line. */
const pointsWith = (seed: number, angle: number, offset: number, height: number) => {
  const normal = seededNormals(seed);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [x, y] = [new Float64Array(22 * 26), new Float64Array(22 * 26)];
  const z = x.map((_, k) => {
    x[k] = (k % 22) - 10.5 + 0.2 * normal();
    y[k] = Math.floor(k / 22) + 0.2 * normal();
    const ground = 0.02 * y[k] + 0.05 * Math.sin(x[k] / 6) + 0.006 * normal();
    return ground + (x[k] * c + y[k] * s > offset ? height : 0);
  });
  return { x, y, z };
};

/** The clearest of the lines that are so many turns and shifts apart. */
const clearestOf = ({ x, y, z }: ReturnType<typeof pointsWith>, apart: number): number => {
  const search = searchOf({ x, y, z }, OUTLINE);
  let clearest = 0;
  for (let turn = 0; turn < LINE_TURNS; turn += apart) {
    for (const one of triedLines(search, turn, apart, () => true)) {
      if (one.whole) clearest = Math.max(clearest, one.clear);
    }
  }
  return clearest;
};

describe('lines that are looked at for a step between strips', () => {
  it('find those steps, too, that no other line of every other turn shows', () => {
    for (const k of [1, 10, 16, 26, 37]) {
      const angle = (((k * 7) % LINE_TURNS) + 0.5) * (Math.PI / LINE_TURNS);
      const points = pointsWith(222700 + k, angle, 12 * Math.sin(angle), 0.016 + 0.0001 * k);
      const clearest = clearestOf(points, 1);
      expect(clearest).toBeGreaterThan(6);
      expect(clearestOf(points, 2)).toBeLessThan(5);
      const [first] = stripSteps(points.x, points.y, points.z, OUTLINE);
      expect(Math.abs(first.height) / first.sd).toBeGreaterThanOrEqual(clearest);
    }
  });

  it('show none where there is no step', () => {
    const points = pointsWith(222910, 0.7, 12, 0);
    expect(stripSteps(points.x, points.y, points.z, OUTLINE)).toEqual([]);
    expect(clearestOf(points, 1)).toBeLessThan(5.5);
  });
});
