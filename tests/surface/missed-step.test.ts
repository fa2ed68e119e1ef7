import { describe, expect, it } from 'vitest';
import { boxOf, growBox, type Point } from '../../src/geometry.js';
import { bendingMatrix } from '../../src/surface/bending.js';
import { boundedKnotGrid } from '../../src/surface/knot-grid.js';
import { linesAcross } from '../../src/surface/lines-across.js';
import { TEN_FEET, tiltLeft } from '../../src/surface/missed-step.js';
import { observe } from '../../src/surface/observations.js';
import { problemOf, solveAt } from '../../src/surface/smoothing.js';
import { completeCoefficients, splineSurface } from '../../src/surface/spline-surface.js';
import { HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';

const outline = Array.from({ length: 40 }, (_, i): Point => {
  const angle = (Math.PI * i) / 20;
  return [6 * Math.cos(angle), 6 + 6 * Math.sin(angle)];
});
const box = growBox(boxOf(outline), 2);
const spots = Array.from({ length: 256 }, (_, k): Point => [(k % 16) - 7.5, (k >> 4) - 1.5]);
const [x, y] = [0, 1].map((c) => Float64Array.from(spots, (spot) => spot[c]));
const grid = boundedKnotGrid({ outline, collar: 2, box, x, y }, 1.2);
const energy = bendingMatrix(grid, null, 1);
/** Ground that falls to one side, a little dished: lines across its fall turn with the place. */
const ground = (px: number, py: number): number => 0.02 * px + 0.01 * py + 0.001 * px * py;

const LINE = { angle: 0.6, offset: 3 };
const heights = (step: number): Float64Array =>
  Float64Array.from(
    spots,
    ([px, py]) =>
      ground(px, py) +
      (Math.cos(LINE.angle) * px + Math.sin(LINE.angle) * py > LINE.offset ? step / 2 : -step / 2),
  );

const fitted = (z: Float64Array) => {
  const obs = observe(grid, x, y, z);
  const problem = problemOf(grid, obs, new Float64Array(obs.count).fill(1));
  const solved = solveAt(problem, energy, 3);
  const coefficients = completeCoefficients(grid, solved.coefficients);
  const surface = splineSurface(grid, coefficients, { outline, collar: 2, box }, null);
  return { problem, factor: solved.factor, surface };
};

const meanSlope = (surface: Surface, slope: Float64Array): number => {
  const jet = new Float64Array(JET_SIZE);
  let sum = 0;
  for (let k = 0; k < slope.length; k += 4) {
    surface.at(slope[k], slope[k + 1], jet);
    sum += slope[k + 2] * jet[HX] + slope[k + 3] * jet[HY];
  }
  return sum;
};

const step = (height: number, sd: number) => ({ height, sd, clear: 0, after: null, line: LINE });

describe('a step that lies hidden in the heights', () => {
  const plain = fitted(heights(0));

  it('tilts four in five putts by as much as a fit of heights with the step does', () => {
    const stepped = fitted(heights(0.02));
    const lines = linesAcross(plain.surface, TEN_FEET);
    const tilts = lines
      .map(({ slope }) =>
        Math.abs(meanSlope(stepped.surface, slope) - meanSlope(plain.surface, slope)),
      )
      .sort((a, b) => a - b);
    const found = tiltLeft(plain, { x, y }, plain.surface, {
      straight: [step(-0.02, 1e-6)],
      explained: false,
    });
    expect(lines.length).toBeGreaterThan(8);
    expect(found).toBeCloseTo(tilts[Math.floor(0.8 * (tilts.length - 1))], 6);
    expect(found).toBeGreaterThan(0.0005);
  });

  const tilt = (straight: readonly ReturnType<typeof step>[], explained = false): number =>
    tiltLeft(plain, { x, y }, plain.surface, { straight, explained });
  const one = tilt([step(1, 1e-6)]);

  it('is as high as the heights allow, and as chance makes it where what stood out is explained', () => {
    // 20 mm are expected before the heights are looked at (prior and points by their precisions); 1.645 and 1.96 are 95 % of
    // a normal number, of one side and of both (standard normal table).
    const sd = 0.004;
    const share = 0.02 ** 2 / (0.02 ** 2 + sd ** 2);
    const own = sd * Math.sqrt(share);
    expect(tilt([step(0.02, sd)])).toBeCloseTo(one * (share * 0.02 + 1.645 * own), 6);
    expect(tilt([step(0, sd)])).toBeCloseTo(one * 1.96 * own, 6);
    expect(tilt([step(0.5, sd)], true)).toBeCloseTo(one * (2 * share * sd + 1.645 * own), 6);
    expect(tilt([])).toBe(Infinity);
  });

  it('is where the heights say, and not along every line', () => {
    const aside = { ...step(0, 0.004), line: { angle: 2.2, offset: -2 } };
    const [here, there] = [tilt([step(0.03, 0.004)]), tilt([aside])];
    expect(tilt([step(0.03, 0.004), aside])).toBeCloseTo(here, 5);
    // Of two that are as likely the higher one counts by half.
    const other = { ...step(0, 0.004), line: aside.line };
    const both = tilt([step(0, 0.004), other]);
    expect(both).toBeLessThanOrEqual(Math.max(tilt([step(0, 0.004)]), there) + 1e-9);
    expect(both).toBeGreaterThanOrEqual(Math.min(tilt([step(0, 0.004)]), there) - 1e-9);
  });
});
