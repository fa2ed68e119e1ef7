import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { launchVelocity } from '../../src/putt/leg.js';
import { rollTo } from './roll-to.js';
import { caseSurface, type ScipyRecord } from './scipy-cases.js';
import { solveAll } from './solve-all.js';

const { cases, version } = JSON.parse(
  readFileSync(new URL('./recorded/scipy-dop853.json', import.meta.url), 'utf8'),
) as ScipyRecord;

/** Recorded by tests/live/putt-scipy.test.ts: SciPy's DOP853 at rtol = atol = 1e-10. */
describe(`putts against ${version} (DOP853 at 1e-10, recorded)`, () => {
  it.each(cases.map((one) => [one.name, one] as const))(
    '%s: within 0.5 mm all along',
    (_name, one) => {
      const surface = caseSurface(one.ground);
      one.times.forEach((time, i) => {
        const state = rollTo(surface, one.deceleration, one.start, time);
        const [x, y] = one.states[i];
        expect(Math.hypot(state[0] - x, state[1] - y)).toBeLessThan(5e-4);
      });
      const last = one.states[one.states.length - 1];
      expect(Math.hypot(last[0] - one.hole[0], last[1] - one.hole[1])).toBeLessThan(5e-4);
    },
  );

  it.each(cases.map((one) => [one.name, one] as const))(
    '%s: the launch is found again',
    (_name, one) => {
      const surface = caseSurface(one.ground);
      const ball: Point = [one.start[0], one.start[1]];
      const all = solveAll(surface, ball, one.hole, { stimp: one.stimp, past: one.past });
      const misses = all.map((putt) => {
        const [vx, vy] = launchVelocity(surface, putt);
        return Math.hypot(vx - one.start[2], vy - one.start[3]);
      });
      expect(Math.min(...misses)).toBeLessThan(2e-4);
    },
  );
});
