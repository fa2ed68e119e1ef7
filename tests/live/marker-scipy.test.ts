import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { decelerationOf } from '../../src/putt/green-speed.js';
import { practiceStation } from '../../src/putt/station.js';
import { HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres, METRES_PER_PACE } from '../../src/units.js';
import { type CaseGround, caseSurface } from '../putt/scipy-cases.js';

/**
 * The four putts as one marker has them played, rolled by SciPy's DOP853 to the rim, and held there or not by
 * Holmes's bound (Am. J. Phys. 59 (1991) 129-136) as it is written down here.
 */

const script = new URL('./dop853.py', import.meta.url).pathname;
const RIM = 0.108 / 2;
const BALL = 0.04267 / 2;
const PAST = inchesToMetres(12);

interface Shot {
  readonly ground: CaseGround;
  readonly deceleration: number;
  readonly hole: Point;
  readonly rim: number;
  /** x, y, vx, vy at the ball. */
  readonly start: readonly number[];
}

/** Where and how fast each ball comes to the rim; null where it stops before. */
const atRim = (shots: readonly Shot[]): (readonly number[] | null)[] => {
  const { states } = JSON.parse(
    execFileSync('python3', [script], {
      input: JSON.stringify(shots),
      maxBuffer: 2 ** 26,
    }).toString(),
  ) as { readonly states: number[][][] };
  return states.map(([state], k) => {
    const { hole } = shots[k];
    return Math.hypot(state[0] - hole[0], state[1] - hole[1]) < RIM + 1e-4 ? state : null;
  });
};

const jet = new Float64Array(JET_SIZE);

/** Whether the hole holds a ball that comes to its rim so. */
const isHeld = ({ ground, hole }: Shot, state: readonly number[] | null): boolean => {
  if (state === null) return false;
  const [x, y, vx, vy] = state;
  const flat = Math.hypot(vx, vy);
  const off = Math.abs((x - hole[0]) * vy - (y - hole[1]) * vx) / flat;
  if (off >= RIM - BALL) return false;
  caseSurface(ground).at(x, y, jet);
  const speed = Math.hypot(flat, jet[HX] * vx + jet[HY] * vy);
  const way = Math.sqrt(RIM ** 2 - off ** 2) + Math.sqrt((RIM - BALL) ** 2 - off ** 2);
  return speed <= way * Math.sqrt(9.80665 / (2 * BALL));
};

const slope = (tilt: number): CaseGround => ({ kind: 'tier', rise: 0, y0: 0, width: 1, tilt });

/** The shots of a station's marker, from below, above, left and right. */
const markedShots = (ground: CaseGround, hole: Point, stimp: number) => {
  const settings = { stimp, past: PAST };
  const station = practiceStation(caseSurface(ground), hole, settings);
  const { marker, tees } = station;
  if (marker === null) throw new Error('a putt is missing');
  const shots = marker.best.putts.map(({ quadrant, velocity }): Shot => {
    const { tee } = tees.find((one) => one.quadrant === quadrant)!;
    return {
      ground,
      deceleration: decelerationOf(stimp),
      hole,
      rim: RIM,
      start: [...tee, ...velocity],
    };
  });
  return { marker, tees, shots };
};

describe("one marker against SciPy's DOP853", () => {
  const cases: [string, CaseGround, Point, number][] = [
    ['2 % at 10.5 ft', slope(0.02), [0, 0], feetToMetres(10.5)],
    ['3 % at 12 ft', slope(0.03), [0, 0], feetToMetres(12)],
    ['a bowl', { kind: 'quadric', kx: 0.012, ky: 0.008, x0: 1, y0: -1 }, [2.2, 0.4], 3],
    ['a dome', { kind: 'quadric', kx: -0.007, ky: -0.005, x0: 0, y0: 0 }, [2, 3], 3],
    ['a saddle', { kind: 'quadric', kx: 0.012, ky: -0.008, x0: 0, y0: 0 }, [1.2, 1.5], 3],
  ];

  it('holes all four wherever a marker is said to serve', () => {
    let serving = 0;
    for (const [name, ground, hole, stimp] of cases) {
      const { marker, shots } = markedShots(ground, hole, stimp);
      if (marker.verdict !== 'serves') continue;
      serving++;
      const states = atRim(shots);
      shots.forEach((shot, k) => {
        expect(isHeld(shot, states[k]), `${name} ${k}`).toBe(true);
      });
    }
    expect(serving).toBeGreaterThanOrEqual(4);
  });

  it('finds what pace and aim ask for 3.7 times apart, by its own balls', () => {
    const stimp = feetToMetres(10.5);
    const { marker, tees } = markedShots(slope(0.02), [0, 0], stimp);
    expect(marker.asks.pace / marker.asks.sides).toBeCloseTo(3.7, 1);
    // Played as to a hole on the level so far up, and over a point so far up, each ball comes over the centre.
    const v = (pace: number): number => Math.sqrt(2 * decelerationOf(stimp) * pace);
    const along = 1 / Math.hypot(1, 0.02);
    const { pace, sides } = marker.asks;
    const own = tees[2].putt!;
    const aside = own.launchSpeed / Math.hypot(METRES_PER_PACE, sides, 0.02 * sides);
    const starts = [
      [...tees[0].tee, 0, v(METRES_PER_PACE + pace + PAST) * along],
      [...tees[1].tee, 0, -v(METRES_PER_PACE - pace + PAST) * along],
      [...tees[2].tee, aside * METRES_PER_PACE, aside * sides],
    ];
    const shots = starts.map(
      (start): Shot => ({
        ground: slope(0.02),
        deceleration: decelerationOf(stimp),
        hole: [0, 0],
        rim: RIM,
        start,
      }),
    );
    for (const state of atRim(shots)) {
      const [x, y, vx, vy] = state!;
      const off = (x * vy - y * vx) / Math.hypot(vx, vy);
      expect(Math.abs(off)).toBeLessThan(0.003);
    }
  });

  it('holds all four on a strip of an inch at most at 12 ft and 4 %', () => {
    const stimp = feetToMetres(12);
    const { marker, tees } = markedShots(slope(0.04), [0, 0], stimp);
    expect(marker.verdict).toBe('none');
    const v = (pace: number): number => Math.sqrt(2 * decelerationOf(stimp) * pace);
    const along = 1 / Math.hypot(1, 0.04);
    const own = tees[2].putt!;
    const places = Array.from({ length: 49 }, (_, k) => inchesToMetres(k / 4));
    const shots = places.flatMap((up): Shot[] => {
      const aside = own.launchSpeed / Math.hypot(METRES_PER_PACE, up, 0.04 * up);
      return [
        [...tees[0].tee, 0, v(METRES_PER_PACE + up + PAST) * along],
        [...tees[1].tee, 0, -v(METRES_PER_PACE - up + PAST) * along],
        [...tees[2].tee, aside * METRES_PER_PACE, aside * up],
      ].map((start) => ({
        ground: slope(0.04),
        deceleration: decelerationOf(stimp),
        hole: [0, 0],
        rim: RIM,
        start,
      }));
    });
    const states = atRim(shots);
    const held = shots.map((shot, k) => isHeld(shot, states[k]));
    const served = places.filter((_, k) => held.slice(3 * k, 3 * k + 3).every(Boolean));
    expect(served.length).toBeGreaterThan(0);
    expect(served.length).toBeLessThanOrEqual(5);
    expect(Math.min(...served)).toBeGreaterThan(inchesToMetres(6));
    expect(Math.max(...served)).toBeLessThan(inchesToMetres(8));
  });
});
