import { describe, expect, it } from 'vitest';
import { type Random, seeded } from '../../course-data/vellamoor/random.js';
import type { Point } from '../../src/geometry.js';
import { insideRing } from '../../src/geometry.js';
import { STIMP_RELEASE_SPEED } from '../../src/putt/green-speed.js';
import { measuredRolls } from '../../src/putt/measured-rolls.js';
import { rollToRest } from '../../src/putt/roll.js';
import type { MeasuredRoll } from '../../src/putt/roll-alone.js';
import { standingApart, studentQuantile } from '../../src/putt/student.js';
import { puttGround } from '../../src/putt/workspace.js';
import { fitSurface, groundOfSurvey } from '../../src/surface/fit.js';
import { seededNormals } from '../../src/surface/seeded-normals.js';
import { HX, HY, type Surface } from '../../src/surface/surface.js';
import { surfaceDraws } from '../../src/surface/surface-draws.js';
import { rover } from '../accuracy/instruments.js';
import { type RoughGreen, roughGreen } from '../accuracy/rough-greens.js';
import { atDepth } from '../depth.js';
import { analyticSurface } from '../surface/analytic.js';
import { wavySurface } from './grounds.js';

const nowhereBare = () => false;

/** What rolls say on the ground that they were rolled on. */
const saidOn = (
  surface: Surface,
  rolls: readonly MeasuredRoll[],
  crossesBare: (path: readonly Point[]) => boolean = nowhereBare,
) => measuredRolls({ surface, drawn: [], rolls, stimp: 3, crossesBare });

/** Where a ball lies that was let go on this ground; null off the green. */
const lies = (
  ground: Surface,
  stimp: number,
  [ball, direction, release]: readonly [Point, number, number],
): Point | null => {
  const jet = new Float64Array(10);
  ground.at(ball[0], ball[1], jet);
  const [ux, uy] = [Math.cos(direction), Math.sin(direction)];
  const flat = release / Math.hypot(1, jet[HX] * ux + jet[HY] * uy);
  const w = puttGround(ground, { stimp, past: 0.3 });
  const { status, end } = rollToRest(w, ball, [flat * ux, flat * uy]);
  return status === 'short' ? end : null;
};

interface Scatter {
  readonly release: number;
  readonly turn: number;
  readonly tape: number;
}
const NONE: Scatter = { release: 0, turn: 0, tape: 0 };

/** So many balls let go here and there, each there and back as one takes a reading, that rest on the green. */
const letGo = (
  ground: Surface,
  stimp: number,
  count: number,
  random: Random,
  { release, turn, tape }: Scatter = NONE,
): MeasuredRoll[] => {
  const rolls: MeasuredRoll[] = [];
  while (rolls.length < count) {
    const [cx, cy] = [random.between(-7, 7), random.between(-7, 7)];
    const middle = ground.outline.reduce((sum, [, y]) => sum + y, 0) / ground.outline.length;
    const direction = random.between(-Math.PI, Math.PI);
    for (const back of [0, Math.PI]) {
      const ball: Point = [cx, cy + middle];
      const sent = direction + back;
      const speed = STIMP_RELEASE_SPEED * (1 + release * random.normal());
      const rest = insideRing(ground.outline, ball[0], ball[1])
        ? lies(ground, stimp, [ball, sent + turn * random.normal(), speed])
        : null;
      if (rest === null || rolls.length === count) continue;
      rolls.push({
        ball,
        direction: sent,
        release: STIMP_RELEASE_SPEED,
        rest: [rest[0] + tape * random.normal(), rest[1] + tape * random.normal()],
      });
    }
  }
  return rolls;
};

const WAVES = [
  { amplitude: 0.03, kx: 0.5, ky: 0.3, phase: 0.4 },
  { amplitude: 0.02, kx: -0.2, ky: 0.6, phase: 2 },
];
const wavy = wavySurface({ tiltX: 0.012, tiltY: -0.018, waves: WAVES });

describe('quantiles of Student and values that stand apart', () => {
  it('has the quantiles of SciPy', () => {
    // scipy.stats.t.isf(p / 2, n), SciPy 1.10.1.
    const known = [
      [0.05, 1, 12.706204736432102],
      [0.05, 2, 4.3026527299112765],
      [0.01, 3, 5.840909299756432],
      [0.05, 5, 2.57058183661474],
      [0.001, 8, 5.041305433388365],
      [0.5, 12, 0.6954828655217116],
      [0.05, 40, 2.021075382995338],
    ];
    for (const [p, n, t] of known)
      expect(Math.abs(studentQuantile(p, n) / t - 1)).toBeLessThan(5e-6);
  });

  it('puts aside what the handbook puts aside', () => {
    // NIST/SEMATECH e-Handbook, 1.3.5.17: scores over 3.5. Data of Tietjen and Moore, of its 1.3.5.17.1: median
    // 201.37, median deviation 1.195, so that 245.57 scores 24.9 and 199.31 scores 1.16.
    const uranium = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    expect(standingApart(uranium)).toEqual([7]);
    expect(standingApart(uranium, 50)).toEqual([]);
    // Median 0, median deviation 1: the limit is 3.5 / 0.6745 = 5.19.
    const beside = (far: number) => standingApart([-1, 1, -1, 1, -1, 1, 0, 0, far]);
    expect(beside(5.2)).toEqual([8]);
    expect(beside(5.18)).toEqual([]);
  });
});

describe('rolls on ground that is known', () => {
  it('give back the green speed, each by itself', () => {
    const random = seeded(61001);
    for (const stimp of [2.4, 3.2, 3.8]) {
      const rolls = letGo(wavy, stimp, 8, random);
      const report = saidOn(wavy, rolls);
      for (const { alone, verdict } of report.rolls) {
        expect(Math.abs((alone.stimp ?? 0) / stimp - 1)).toBeLessThan(2e-4);
        expect(Math.abs(alone.turn ?? 1)).toBeLessThan(1e-3);
        expect(verdict).toBe('as-computed');
      }
      expect(report.stimp?.value).toBeCloseTo(stimp, 2);
    }
  });

  it('say that aim explains balls sent off 2 degrees to the left, and speed does not', () => {
    const off = (2 * Math.PI) / 180;
    const rolls = letGo(wavy, 3, 8, seeded(61002), { release: 0.01, turn: 0.003, tape: 0.01 }).map(
      (roll) => ({ ...roll, direction: roll.direction - off }),
    );
    const { turnOfRamp } = saidOn(wavy, rolls);
    expect(turnOfRamp?.low).toBeGreaterThan(0.6 * off);
    expect(turnOfRamp?.high).toBeLessThan(1.6 * off);
  });

  it('count no slip, nor what lies over ground without points, nor what no speed explains', () => {
    const rolls = letGo(wavy, 3, 9, seeded(61003), { release: 0.01, turn: 0.003, tape: 0.01 });
    const slip = rolls[4];
    const twice = ([x, y]: Point, [bx, by]: Point): Point => [2 * x - bx, 2 * y - by];
    const changed = rolls.map((roll, k) =>
      k === 4
        ? { ...slip, rest: twice(slip.rest, slip.ball) }
        : k === 6
          ? { ...roll, rest: [roll.ball[0] + 0.01, roll.ball[1]] as Point }
          : roll,
    );
    const bare = rolls[2].ball;
    const report = saidOn(wavy, changed, (path) =>
      path.some(([x, y]) => Math.hypot(x - bare[0], y - bare[1]) < 1e-9),
    );
    expect(report.rolls[2].verdict).toBe('unsurveyed');
    expect(report.rolls[4].verdict).toBe('apart');
    expect(report.rolls[6].verdict).toBe('impossible');
    const plain = report.rolls.filter(({ verdict }) => verdict === 'as-computed').length;
    expect(plain).toBeGreaterThanOrEqual(4);
    expect(Math.abs((report.stimp?.value ?? 0) / 3 - 1)).toBeLessThan(0.05);
  });

  it("tell no green speed by putts, and the putter's own turn", () => {
    const rolls = letGo(wavy, 3, 8, seeded(61004)).map((roll) => ({
      ...roll,
      direction: roll.direction + 0.03,
      release: null,
    }));
    const report = saidOn(wavy, rolls);
    expect(report.stimp).toBeNull();
    expect(report.turnOfRamp).toBeNull();
    expect(report.turnOfPutter?.value).toBeCloseTo(-0.03, 2);
    for (const { alone } of report.rolls) expect(alone.release).toBeCloseTo(STIMP_RELEASE_SPEED, 1);
  });
});

describe('rolls on ground that was surveyed', { tags: 'deep' }, () => {
  const grounds = (green: RoughGreen, seed: number) => {
    const survey = rover({ spacing: 1, noise: 0.008 })(green, seed);
    const { surface, stored } = fitSurface({ ...groundOfSurvey(survey), outline: green.outline });
    const draw = surfaceDraws(stored);
    const normal = seededNormals(seed);
    return {
      truth: analyticSurface(green.outline, green.at),
      surface,
      drawn: Array.from({ length: 60 }, () => draw(normal)),
    };
  };

  const greens = atDepth(0, 6, 20);
  it.skipIf(greens === 0)(
    'hold the true green speed in their interval',
    { timeout: 900_000 },
    () => {
      const times = 4;
      const held = new Map<number, number[]>();
      for (let k = 0; k < greens; k++) {
        const { truth, surface, drawn } = grounds(roughGreen(62, k), 62000 + k);
        for (let time = 0; time < times; time++) {
          for (const count of [6, 10, 20]) {
            const random = seeded(62100 + 100 * k + 10 * time + count);
            const stimp = random.between(2.4, 3.9);
            const scatter = { release: 0.015, turn: 0.0087, tape: 0.01 };
            const rolls = letGo(truth, stimp, count, random, scatter);
            const { stimp: told } = measuredRolls({
              surface,
              drawn,
              rolls,
              stimp: 3,
              crossesBare: nowhereBare,
            });
            const is = told !== null && told.low <= stimp && stimp <= told.high;
            // And not by being wide: half a foot either way for ten rolls.
            held.set(count, [...(held.get(count) ?? []), is ? 1 : 0]);
            if (count > 6) expect((told?.high ?? 99) - (told?.low ?? 0)).toBeLessThan(0.2 * stimp);
          }
        }
      }
      for (const [count, all] of held) {
        const share = all.reduce((sum, one) => sum + one, 0) / all.length;
        expect(share, `${count} rolls`).toBeGreaterThanOrEqual(0.9);
      }
    },
  );
});
