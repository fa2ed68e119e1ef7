import { describe, expect, it } from 'vitest';
import { boxOf, growBox, type Point } from '../../src/geometry.js';
import { bendingMatrix } from '../../src/surface/bending.js';
import { boundedKnotGrid } from '../../src/surface/knot-grid.js';
import { observe } from '../../src/surface/observations.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';
import { informationAcross, informationAlone } from '../../src/surface/shared-errors.js';
import { problemOf, solveAt } from '../../src/surface/smoothing.js';
import { straightSearch } from '../../src/surface/straight-search.js';

const outline = Array.from({ length: 40 }, (_, i): Point => {
  const angle = (Math.PI * i) / 20;
  return [7 * Math.cos(angle), 7 + 7 * Math.sin(angle)];
});
const SIGMA = 0.004;
/** A step of 20 mm along a line that lies between all that are tried at first. */
const LINE = { angle: 0.62, offset: 4.13 };
const past = (x: number, y: number): number =>
  Math.cos(LINE.angle) * x + Math.sin(LINE.angle) * y - LINE.offset;

const normal = seededNormals(113_801);
const spots = Array.from({ length: 324 }, (_, k): readonly [number, number, number] => {
  const [x, y] = [(k % 18) - 8.5 + 0.1 * normal(), Math.floor(k / 18) - 1.5 + 0.1 * normal()];
  return [x, y, 0.01 * x + SIGMA * normal() + (past(x, y) > 0 ? 0.02 : 0)];
});
const [x, y, z] = [0, 1, 2].map((c) => Float64Array.from(spots, (spot) => spot[c]));
const box = growBox(boxOf(outline), 2);
const grid = boundedKnotGrid({ outline, collar: 2, box, x }, 1.2);
const obs = observe(grid, x, y, z);
const weights = Float64Array.from({ length: obs.count }, (_, k) => (k % 7 === 0 ? 0.5 : 1));
const problem = problemOf(grid, obs, weights);
const { factor } = solveAt(problem, bendingMatrix(grid, null, 1), 3);
const across = (angle: number, offsets: readonly number[]) => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return informationAcross(problem, factor, (p) => c * x[p] + s * y[p], offsets);
};

describe('straight steps', () => {
  it('tell across one direction what each tells alone', () => {
    const [angle, offsets] = [0.4, [1.2, 3, 4.5, 7]];
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const alone = informationAlone(problem, factor, offsets.length, (p, k) =>
      c * x[p] + s * y[p] > offsets[k] ? 0.5 : -0.5,
    );
    const together = across(angle, offsets);
    offsets.forEach((_, k) => {
      expect(together.information[k]).toBeCloseTo(alone.information[k], 8);
      expect(together.score[k]).toBeCloseTo(alone.score[k], 8);
    });
  });

  it('are found where they lie, though half a metre beside them hardly any of one is left', () => {
    const steps = straightSearch(across, { x, y, source: obs.source }, SIGMA ** 2);
    const best = steps.reduce((most, next) => (next.clear > most.clear ? next : most));
    expect(Math.abs(best.height - 0.02)).toBeLessThan(4 * best.sd);
    // Within half the spacing of the points it divides them as the step does.
    for (const along of [-4, 0, 4]) {
      const px = Math.cos(LINE.angle) * LINE.offset - along * Math.sin(LINE.angle);
      const py = Math.sin(LINE.angle) * LINE.offset + along * Math.cos(LINE.angle);
      const { angle, offset } = best.line!;
      expect(Math.abs(Math.cos(angle) * px + Math.sin(angle) * py - offset)).toBeLessThan(0.5);
    }
    const beside = across(LINE.angle, [LINE.offset + 0.6]);
    expect(Math.abs(beside.score[0]) / Math.sqrt(beside.information[0])).toBeLessThan(
      0.7 * best.clear * SIGMA,
    );
  });
});
