import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../course-data/vellamoor/random.js';
import { trueGreen } from '../../course-data/vellamoor/truth.js';
import { InputFault } from '../../src/fault.js';
import { fitSurface } from '../../src/surface/fit.js';
import { H, HX, HY, JET_SIZE, type Surface } from '../../src/surface/surface.js';
import { atDepth } from '../depth.js';
import { circleRing } from './analytic.js';
import { errorsOf, roverGround, surveyOf } from './demo-ground.js';
import { directionKnown } from './direction-known.js';
import { evenFit, places, survey, type ThinPlateRecord } from './thin-plate.js';

const jetOf = (surface: Surface, x: number, y: number): Float64Array => {
  const jet = new Float64Array(JET_SIZE);
  surface.at(x, y, jet);
  return jet;
};

const ring = circleRing(5, 0, 6, 40);
const pointsOf = (height: (x: number, y: number) => number, noise: number, seed: number) =>
  surveyOf(
    (x, y, jet) => {
      jet.fill(0);
      jet[H] = height(x, y);
    },
    ring,
    seed,
    1,
    noise,
  );

describe('the fit', () => {
  it('is the thin-plate spline that SciPy computes, when its stiffness is even', () => {
    const record = JSON.parse(
      readFileSync(new URL('recorded/scipy-thin-plate.json', import.meta.url), 'utf8'),
    ) as ThinPlateRecord;
    const surface = evenFit(survey, record.smoothing, 0.8);
    let height = 0;
    let slope = 0;
    places.forEach(([x, y], k) => {
      const jet = jetOf(surface, x, y);
      const [h, gx, gy] = record.values[k];
      height += (jet[H] - h) ** 2 / places.length;
      slope += ((jet[HX] - gx) ** 2 + (jet[HY] - gy) ** 2) / places.length;
    });
    // SciPy's spans the whole plane, ours ends at the collar: they part a little near the edge.
    expect(Math.sqrt(height)).toBeLessThan(0.0003);
    expect(Math.sqrt(slope)).toBeLessThan(0.0005);
  });

  it('returns any plane, whatever its height and tilt', { tags: 'deep' }, () => {
    fc.assert(
      fc.property(
        fc.double({ min: -500, max: 3000, noNaN: true }),
        fc.double({ min: -0.2, max: 0.2, noNaN: true }),
        fc.double({ min: -0.2, max: 0.2, noNaN: true }),
        (c, a, b) => {
          const { surface } = fitSurface(pointsOf((x, y) => c + a * x + b * y, 0, 4));
          for (const [x, y] of [
            [0, 6],
            [3, 8],
            [-4, 3],
            [0, -0.5],
          ]) {
            const jet = jetOf(surface, x, y);
            expect(Math.abs(jet[H] - (c + a * x + b * y))).toBeLessThan(1e-6);
            expect(Math.abs(jet[HX] - a)).toBeLessThan(1e-6);
            expect(Math.abs(jet[HY] - b)).toBeLessThan(1e-6);
          }
        },
      ),
      { numRuns: atDepth(6, 15), seed: 8 },
    );
  });

  it('gives the same bits twice', () => {
    const ground = pointsOf((x, y) => 0.02 * y + 0.01 * Math.sin(x), 0.008, 12);
    const [a, b] = [fitSurface(ground), fitSurface(ground)];
    expect(a.report).toEqual(b.report);
    expect(a.stored.coefficients).toEqual(b.stored.coefficients);
    expect(a.surface.trust?.heightSd(1, 7)).toBe(b.surface.trust?.heightSd(1, 7));
  });

  it('tells the noise of a thin survey by the degrees of freedom that the fit leaves', () => {
    const noise = 0.008;
    const reports = [721, 722, 723, 724, 725, 726].map(
      (seed) =>
        fitSurface(
          pointsOf((x, y) => 0.02 * y + 0.03 * Math.sin(x / 2) * Math.cos(y / 2), noise, seed),
        ).report,
    );
    const mean = (of: (report: (typeof reports)[0]) => number): number =>
      reports.reduce((sum, report) => sum + of(report) / reports.length, 0);
    // The fit takes up a sixth of the noise here; what is left is told as if it took up hardly any.
    expect(mean(({ rmsResidual }) => rmsResidual)).toBeLessThan(0.87 * noise);
    expect(mean(({ sigma }) => sigma)).toBeGreaterThan(0.9 * noise);
    expect(mean(({ sigma }) => sigma)).toBeLessThan(1.1 * noise);
  });

  it('lists gross errors with their coordinates and is hardly moved by them', {
    tags: 'deep',
  }, () => {
    const green = trueGreen(atDepth('12', '1'));
    for (const seed of atDepth([3], [3, 4])) {
      const ground = roverGround(green, seed);
      const { surface, report } = fitSurface(ground);
      const listed = report.outliers.map(({ index }) => index);
      expect(ground.gross.length).toBeGreaterThan(1);
      for (const index of ground.gross) expect(listed).toContain(index);
      // Of about 700 sound points one in 16000 lies past four deviations.
      expect(listed.length).toBeLessThanOrEqual(ground.gross.length + 2);
      for (const { index, x, y, z } of report.outliers) {
        expect([x, y, z]).toEqual([ground.x[index], ground.y[index], ground.z[index]]);
      }
      expect(errorsOf(green, green.outline, surface.at).height).toBeLessThan(0.004);
      expect(report.sigma).toBeGreaterThan(0.007);
      expect(report.sigma).toBeLessThan(0.009);
    }
  });

  it.each([null, 0.008])(
    'stands a tenth of gross errors, accuracy stated: %s',
    { tags: 'deep' },
    (statedSigma) => {
      const green = trueGreen(atDepth('12', '17'));
      const points = surveyOf(green.at, green.outline, 611);
      const random = seeded(612);
      const gross: number[] = [];
      points.z.forEach((height, k) => {
        if (random.uniform() > 0.1) return;
        points.z[k] = height + (random.uniform() < 0.5 ? -1 : 1) * random.between(0.06, 0.5);
        gross.push(k);
      });
      const { surface, report } = fitSurface({ ...points, statedSigma });
      expect(gross.length).toBeGreaterThan(atDepth(30, 50));
      expect(new Set(report.outliers.map(({ index }) => index))).toEqual(new Set(gross));
      expect(errorsOf(green, green.outline, surface.at).height).toBeLessThan(0.004);
    },
  );

  it('does not run after gross errors to meet the accuracy that the survey states', {
    tags: 'deep',
  }, () => {
    for (const id of atDepth(['12'], ['10', '17'])) {
      const green = trueGreen(id);
      const ground = roverGround(green, 321);
      const { surface, report } = fitSurface({ ...ground, statedSigma: 0.008 });
      const listed = report.outliers.map(({ index }) => index);
      for (const index of ground.gross) expect(listed).toContain(index);
      expect(errorsOf(green, green.outline, surface.at).height).toBeLessThan(0.004);
    }
  });

  it('does not run after the noise where the survey states less than its points show', {
    tags: 'long',
  }, () => {
    const green = trueGreen(atDepth('12', '6'));
    const ground = roverGround(green, 502);
    const modest = fitSurface({ ...ground, statedSigma: 0.008 });
    for (const statedSigma of atDepth([0.001], [0.004, 0.001])) {
      const { surface, report } = fitSurface({ ...ground, statedSigma });
      expect(report.effectiveDegrees).toBeLessThan(1.2 * modest.report.effectiveDegrees);
      expect(report.sigma).toBeGreaterThan(0.007);
      expect(errorsOf(green, green.outline, surface.at).height).toBeLessThan(0.004);
    }
  });

  it('honours a wall that a breakline gives', { tags: 'long' }, () => {
    // Level ground with a kink along y = 6 where the grade turns from 0 to 20 %.
    const roof = (_x: number, y: number) => 0.2 * Math.max(0, y - 6);
    const line = [-7, -4, -1, 2, 5, 7].map((x): [number, number, number] => [x, 6, 0]);
    const errorNear = (surface: Surface): number => {
      let sum = 0;
      let count = 0;
      for (let x = -3; x <= 3; x += 0.25) {
        for (let y = 5; y <= 7; y += 0.1) {
          sum += (jetOf(surface, x, y)[H] - roof(x, y)) ** 2;
          count++;
        }
      }
      return Math.sqrt(sum / count);
    };
    // The surface is smooth: it rounds the kink over a knot's distance, some millimetres high.
    const seeds = [21, 22, 23, 24, 25, 26].slice(0, atDepth(3, 6));
    const meanOver = (error: (ground: ReturnType<typeof pointsOf>) => number): number =>
      seeds.reduce((sum, seed) => sum + error(pointsOf(roof, 0.008, seed)) / seeds.length, 0);
    const plain = meanOver((ground) => errorNear(fitSurface(ground).surface));
    const kept = meanOver((ground) =>
      errorNear(fitSurface({ ...ground, breaklines: [line] }).surface),
    );
    expect(kept).toBeLessThan(0.008);
    expect(kept).toBeLessThan(0.85 * plain);
  });

  it('smooths more, and trusts less, when the survey states a larger error', () => {
    const ground = pointsOf((x, y) => 0.02 * y + 0.03 * Math.sin(x / 2), 0.008, 30);
    const own = fitSurface({ ...ground, statedSigma: 0.008 });
    const poor = fitSurface({ ...ground, statedSigma: 0.04 });
    expect(poor.report.effectiveDegrees).toBeLessThan(own.report.effectiveDegrees);
    const sd = (fit: typeof own) => fit.surface.trust?.heightSd(0, 6) ?? 0;
    expect(sd(poor)).toBeGreaterThan(1.2 * sd(own));
  });

  it('refuses ground with hardly a point', () => {
    const few = {
      x: Float64Array.of(0, 1, 2),
      y: Float64Array.of(5, 6, 7),
      z: Float64Array.of(0, 0, 0),
    };
    expect(() => fitSurface({ ...few, outline: ring })).toThrow(InputFault);
  });
});

describe('the trust', () => {
  const ground = pointsOf((x, y) => 0.03 * y + 0.002 * x * x, 0.008, 44);
  const { surface } = fitSurface(ground);
  const trust = surface.trust!;

  it('agrees with itself: the variance of one slope is that of the gradient', () => {
    const c = new Float64Array(3);
    fc.assert(
      fc.property(
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: 3, max: 9, noNaN: true }),
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        (x, y, turn) => {
          const [u, v] = [Math.cos(turn), Math.sin(turn)];
          trust.gradientCovariance(x, y, c);
          const want = u * u * c[0] + 2 * u * v * c[1] + v * v * c[2];
          const got = trust.functionalVariance(Float64Array.of(x, y, u, v));
          expect(Math.abs(got / want - 1)).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 100, seed: 2 },
    );
  });

  it('is larger off the points, and without bound past the collar', () => {
    expect(trust.heightSd(0, -0.9)).toBeGreaterThan(trust.heightSd(0, 6));
    expect(trust.heightSd(40, 6)).toBe(Infinity);
    expect(trust.functionalVariance(Float64Array.of(40, 6, 1, 0))).toBe(Infinity);
  });

  it('knows the fall direction on a clear slope and not on level ground', () => {
    expect(directionKnown(surface, 0, 6)).toBe(true);
    const level = fitSurface(pointsOf(() => 0, 0.008, 45)).surface;
    let known = 0;
    let count = 0;
    const random = seeded(1);
    for (let k = 0; k < 100; k++) {
      count++;
      if (directionKnown(level, 6 * random.uniform() - 3, 3 + 6 * random.uniform())) known++;
    }
    expect(known / count).toBeLessThan(0.2);
  });
});
