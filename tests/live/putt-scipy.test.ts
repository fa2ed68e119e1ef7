import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { boxOf, growBox, type Point } from '../../src/geometry.js';
import { decelerationOf } from '../../src/putt/green-speed.js';
import { launchVelocity } from '../../src/putt/leg.js';
import { solvePutt } from '../../src/putt/solve.js';
import { DEFAULT_COLLAR } from '../../src/surface/fit.js';
import { knotGrid } from '../../src/surface/knot-grid.js';
import { feetToMetres, inchesToMetres } from '../../src/units.js';
import { demoGreens } from '../putt/demo-greens.js';
import { nodeTable } from '../putt/hermite-surface.js';
import { rollTo } from '../putt/roll-to.js';
import {
  type CaseGround,
  caseSurface,
  type ScipyCase,
  type ScipyRecord,
} from '../putt/scipy-cases.js';

/** Set to write tests/putt/recorded anew instead of comparing with it. */
const RECORD = process.env.RUNNEL_RECORD !== undefined;
const recorded = new URL('../putt/recorded/scipy-dop853.json', import.meta.url).pathname;
const script = new URL('./dop853.py', import.meta.url).pathname;

const settings = { stimp: feetToMetres(10), past: inchesToMetres(12) };
const deceleration = decelerationOf(settings.stimp);

const caseOf = (name: string, ground: CaseGround, ball: Point, hole: Point): ScipyCase => {
  const surface = caseSurface(ground);
  const putt = solvePutt(surface, ball, hole, settings);
  const [vx, vy] = launchVelocity(surface, putt);
  return {
    name,
    ground,
    ...settings,
    deceleration,
    hole: [hole[0], hole[1]],
    start: [ball[0], ball[1], vx, vy],
    times: Array.from({ length: 8 }, (_, i) => (putt.time * (i + 1)) / 8),
  };
};

/** Knots of the fit (0.8 m apart) round a putt, so that the table is the fitted surface itself. */
const demoCase = async (id: string, away: Point): Promise<ScipyCase> => {
  const [green] = await demoGreens([id]);
  const { surface, locations } = green;
  const { x0, y0, step } = knotGrid(
    surface.outline,
    DEFAULT_COLLAR,
    growBox(boxOf(surface.outline), DEFAULT_COLLAR),
    0.8,
  );
  const [hx, hy] = locations[0];
  const left = Math.floor((Math.min(hx, hx + away[0]) - 2 - x0) / step);
  const low = Math.floor((Math.min(hy, hy + away[1]) - 2 - y0) / step);
  const table = nodeTable(
    surface,
    x0 + left * step,
    y0 + low * step,
    step,
    Math.ceil((Math.abs(away[0]) + 4) / step) + 2,
    Math.ceil((Math.abs(away[1]) + 4) / step) + 2,
  );
  return caseOf(
    `green ${id} of the demo course`,
    { kind: 'nodes', ...table },
    [hx + away[0], hy + away[1]],
    [hx, hy],
  );
};

describe("putts against SciPy's DOP853 at 1e-10", () => {
  let cases: ScipyCase[] = [];
  let answer: {
    readonly version: string;
    readonly states: number[][][];
    /** Of processor, for all cases. */
    readonly seconds: number;
  };
  beforeAll(async () => {
    const bowl: CaseGround = { kind: 'quadric', kx: 0.012, ky: 0.008, x0: 1, y0: -1 };
    const dome: CaseGround = { kind: 'quadric', kx: -0.007, ky: -0.005, x0: 0, y0: 0 };
    const saddle: CaseGround = { kind: 'quadric', kx: 0.012, ky: -0.008, x0: 0, y0: 0 };
    const tier: CaseGround = { kind: 'tier', rise: 0.35, y0: 5, width: 1.5, tilt: 0.008 };
    cases = [
      caseOf('bowl', bowl, [5, 4], [-1, 0.5]),
      caseOf('bowl, short', bowl, [0.5, 2], [-1, 0.5]),
      caseOf('dome', dome, [-6, 3], [1, 2]),
      caseOf('saddle', saddle, [4, -6], [-0.5, 1]),
      caseOf('tier, up', tier, [1, -2], [-1, 8.5]),
      caseOf('tier, across its foot', tier, [-6, 2.5], [3, 2]),
      caseOf('tier, down', tier, [3, 9], [-1, 0]),
      await demoCase('1', [4, 3]),
      await demoCase('7', [-3, 5]),
      await demoCase('13', [3.5, 4]),
    ];
    answer = JSON.parse(
      execFileSync('python3', [script], {
        input: JSON.stringify(cases),
        maxBuffer: 2 ** 26,
      }).toString(),
    );
  }, 120_000);

  it('takes a small part of its time for the same motions', () => {
    const rounds = 20;
    const surfaces = cases.map(({ ground }) => caseSurface(ground));
    const begun = process.cpuUsage();
    for (let round = 0; round < rounds; round++) {
      cases.forEach(({ deceleration, start, times }, k) => {
        rollTo(surfaces[k], deceleration, start, times[times.length - 1]);
      });
    }
    const { user, system } = process.cpuUsage(begun);
    const ratio = answer.seconds / ((user + system) / 1e6 / rounds);
    process.stdout.write(
      `${answer.version}: ${((1000 * answer.seconds) / cases.length).toFixed(1)} ms a motion, ${ratio.toFixed(0)} times ours\n`,
    );
    expect(ratio).toBeGreaterThan(10);
  });

  it('is within 0.5 mm all along each path, and over the hole', () => {
    cases.forEach((one, k) => {
      const surface = caseSurface(one.ground);
      one.times.forEach((time, i) => {
        const state = rollTo(surface, one.deceleration, one.start, time);
        const [x, y] = answer.states[k][i];
        expect(Math.hypot(state[0] - x, state[1] - y), one.name).toBeLessThan(5e-4);
      });
      const [x, y] = answer.states[k][one.times.length - 1];
      expect(Math.hypot(x - one.hole[0], y - one.hole[1]), one.name).toBeLessThan(5e-4);
    });
  });

  it('is what is recorded for the tests that run without SciPy', () => {
    const record: ScipyRecord = {
      command: 'python3 tests/live/dop853.py',
      version: answer.version,
      cases: cases.map((one, k) => ({ ...one, states: answer.states[k] })),
    };
    if (RECORD) writeFileSync(recorded, `${JSON.stringify(record)}\n`);
    const kept = JSON.parse(readFileSync(recorded, 'utf8')) as ScipyRecord;
    expect(kept.cases.map((one) => one.name)).toEqual(record.cases.map((one) => one.name));
    // The grounds that are given by a formula; a demo green changes with its survey and its fit.
    record.cases.forEach((one, k) => {
      if (one.ground.kind === 'nodes') return;
      one.states.forEach((state, i) => {
        expect(
          Math.hypot(state[0] - kept.cases[k].states[i][0], state[1] - kept.cases[k].states[i][1]),
          one.name,
        ).toBeLessThan(1e-4);
      });
    });
  });
});
