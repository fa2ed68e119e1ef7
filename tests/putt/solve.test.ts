import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry.js';
import { breakMap } from '../../src/putt/break-map.js';
import { captureReach, HOLE_RADIUS, MAX_CAPTURE_SPEED } from '../../src/putt/capture.js';
import { equalLines } from '../../src/putt/equal-lines.js';
import {
  decelerationOf,
  ROLLING_GRAVITY,
  resistanceCoefficient,
} from '../../src/putt/green-speed.js';
import { launchVelocity } from '../../src/putt/leg.js';
import type { PuttSettings, PuttSolution } from '../../src/putt/putt.js';
import { rollToRest } from '../../src/putt/roll.js';
import { solvePutt } from '../../src/putt/solve.js';
import { practiceStation } from '../../src/putt/station.js';
import { breakTable, tablesAtSpeeds } from '../../src/putt/table.js';
import { puttGround } from '../../src/putt/workspace.js';
import type { Surface } from '../../src/surface/surface.js';
import { feetToMetres, inchesToMetres, metresToFeet, metresToInches } from '../../src/units.js';
import { atDepth } from '../depth.js';
import { circleRing, plane, quadric } from '../surface/analytic.js';
import { randomFrom, randomGround, wavySurface } from './grounds.js';
import { solveAll } from './solve-all.js';

const settings: PuttSettings = { stimp: feetToMetres(10), past: inchesToMetres(12) };
const outline = circleRing(14);

describe('putts whose answer is known', () => {
  it('has the magnitudes worked out for a 2 % plane at 10 ft (facts of the project)', () => {
    const table = breakTable(plane(outline, 0, 0.02), [0, 0], [feetToMetres(10)], settings);
    const [below, above, left, right] = table.cells.map((cell) => cell.putt!);
    expect(metresToInches(left.aimOffset)).toBeCloseTo(11.8, 1);
    expect(metresToFeet(left.pace)).toBeCloseTo(11.0, 1);
    expect(Math.abs(metresToFeet(below.pace) - 13.6)).toBeLessThan(0.06);
    expect(Math.abs(metresToFeet(above.pace) - 8.5)).toBeLessThan(0.06);
    // Looking up the fall line, a ball at the left sees the ground fall to its right.
    expect(left.breakSide).toBe('right');
    expect(left.aimOffset).toBeGreaterThan(0);
    expect(right.breakSide).toBe('left');
    expect(below.breakSide).toBe('straight');
    // It comes in from the high side: past six toward nine, whose side is the left.
    expect(left.entryClock).toBeGreaterThan(6.2);
    expect(left.entryClock).toBeLessThan(7);
    expect(right.entryClock).toBeCloseTo(12 - left.entryClock, 4);
  });

  it('is the length of the putt plus the pace past on the level', () => {
    const putt = solvePutt(plane(outline, 0, 0), [3, -4], [0, 0], settings);
    expect(putt.pace).toBeCloseTo(5 + settings.past, 5);
    expect(Math.abs(putt.wouldRollPast! - settings.past)).toBeLessThan(2e-4);
    expect(Math.abs(putt.aimAngle)).toBeLessThan(1e-8);
    expect(putt.breakSide).toBe('straight');
    expect(putt.entryClock).toBeCloseTo(6, 6);
  });

  it('follows the energy straight up and down a plane: v0^2 = v^2 + 2 (af +- gs) L', () => {
    const grade = 0.03;
    const cos = 1 / Math.hypot(1, grade);
    for (const up of [1, -1]) {
      const putt = solvePutt(plane(outline, 0, up * grade), [0, -6], [0, 0], settings);
      const gs = up * ROLLING_GRAVITY * grade * cos;
      const af = decelerationOf(settings.stimp) * cos;
      const v2 = 2 * decelerationOf(settings.stimp) * settings.past;
      expect(putt.launchSpeed).toBeCloseTo(Math.sqrt(v2 + (2 * (af + gs) * 6) / cos), 5);
      const past = v2 / (2 * (af + gs));
      expect(Math.abs(putt.wouldRollPast! - past)).toBeLessThan(2e-4);
    }
  });
});

/** Whether a launch is holed, rolled forward with nothing of the windows' search. */
const isHoled = (surface: Surface, putt: PuttSolution, turn: number, gain: number): boolean => {
  const w = puttGround(surface, settings);
  const velocity = launchVelocity(surface, {
    ...putt,
    aimAngle: putt.aimAngle + turn,
    launchSpeed: putt.launchSpeed + gain,
  });
  return rollToRest(w, putt.ball, velocity, putt.hole).status === 'holed';
};

describe("the windows by Holmes's bound", () => {
  it('end where the ball is no longer holed, to 1 % of their width', () => {
    const random = randomFrom(5);
    let checked = 0;
    for (let k = 0; k < 40; k++) {
      const surface = wavySurface(randomGround(random, 0.03, 0.04), outline);
      const a = 2 * Math.PI * random();
      const length = 0.8 + 8 * random();
      const putt = solvePutt(
        surface,
        [length * Math.cos(a), length * Math.sin(a)],
        [0, 0],
        settings,
      );
      if (putt.status !== 'holed') continue;
      checked += 1;
      const aim = putt.aimWindow.map((angle) => angle - putt.aimAngle);
      const speed = putt.speedWindow.map((v) => v - putt.launchSpeed);
      for (const [low, high] of [aim, speed]) {
        expect(low).toBeLessThan(0);
        expect(high).toBeGreaterThan(0);
      }
      for (const [i, edge] of aim.entries()) {
        const room = 0.012 * (aim[1] - aim[0]) * (i === 0 ? 1 : -1);
        expect(isHoled(surface, putt, edge + room, 0)).toBe(true);
        expect(isHoled(surface, putt, edge - room, 0)).toBe(false);
      }
      for (const [i, edge] of speed.entries()) {
        const room = 0.012 * (speed[1] - speed[0]) * (i === 0 ? 1 : -1);
        expect(isHoled(surface, putt, 0, edge + room)).toBe(true);
        expect(isHoled(surface, putt, 0, edge - room)).toBe(false);
      }
    }
    expect(checked).toBeGreaterThan(30);
  });

  it('is the reach of the bound over the length, for a straight putt on the level', () => {
    const putt = solvePutt(plane(outline, 0, 0), [0, -4], [0, 0], settings);
    const reach = captureReach(putt.arrivalSpeed);
    // The rim is met a hole's radius before the centre.
    expect(putt.aimWindow[1]).toBeCloseTo(Math.asin(reach / 4), 3);
    // At most the speed that still is Holmes's 1.31 m/s at the rim.
    const a = decelerationOf(settings.stimp);
    const fastest = Math.sqrt(MAX_CAPTURE_SPEED ** 2 + 2 * a * (4 - HOLE_RADIUS));
    expect(putt.speedWindow[1]).toBeCloseTo(fastest, 2);
    const slowest = Math.sqrt(2 * a * (4 - HOLE_RADIUS));
    expect(putt.speedWindow[0]).toBeCloseTo(slowest, 2);
  });
});

describe('strange ground', () => {
  it('finds several putts and chooses the least demanding', { tags: 'long' }, () => {
    // A deep trough: a ball on its floor may go straight along it, or swing from side to side.
    const trough = quadric(circleRing(40), 0.09, 0.0001);
    const all = solveAll(trough, [0, -12], [0, 0], settings);
    expect(all.length).toBeGreaterThan(2);
    for (const putt of all) {
      const w = puttGround(trough, settings);
      expect(rollToRest(w, putt.ball, launchVelocity(trough, putt), putt.hole).status).toBe(
        'holed',
      );
    }
    const chosen = solvePutt(trough, [0, -12], [0, 0], settings);
    expect(chosen.aimAngle).toBeCloseTo(all[0].aimAngle, 6);
    expect(new Set(all.map((putt) => putt.aimAngle.toFixed(4))).size).toBe(all.length);
  });

  it('answers that no pace holds the putt down a slope past the critical grade', {
    tags: 'long',
  }, () => {
    const grade = 1.3 * resistanceCoefficient(settings.stimp);
    const surface = plane(circleRing(40), 0, grade);
    const putt = solvePutt(surface, [0, 6], [0, 0], settings);
    expect(putt.status).toBe('never-stops');
    // The slowest arrival is that of a ball let go at rest: v^2 = 2 (gs - af) L.
    const cos = 1 / Math.hypot(1, grade);
    const gain = ROLLING_GRAVITY * grade * cos - decelerationOf(settings.stimp) * cos;
    expect(putt.arrivalSpeed).toBeGreaterThan(Math.sqrt((2 * gain * 6) / cos) * 0.999);
    expect(putt.arrivalSpeed).toBeLessThan(Math.sqrt((2 * gain * 6) / cos) * 1.03);
    expect(putt.wouldRollPast).toBeNull();
    const table = breakTable(surface, [0, 0], [2, 6], settings);
    expect(table.cells.filter((cell) => cell.quadrant === 'above').map((c) => c.outcome)).toEqual([
      'no-pace',
      'no-pace',
    ]);
  });

  it('tells a ball off the green and a path that leaves it', () => {
    const table = breakTable(plane(circleRing(5), 0, 0.03), [0, -4.6], [1, 3, 4, 12], settings);
    const outcomes = (quadrant: string) =>
      table.cells.filter((cell) => cell.quadrant === quadrant).map((cell) => cell.outcome);
    expect(outcomes('below')).toEqual(['off-green', 'off-green', 'off-green', 'off-green']);
    expect(outcomes('above')).toEqual(['solved', 'solved', 'solved', 'off-green']);
    // A hole by the edge of a crescent: the straight way crosses the bay.
    const bay = [
      [-6, -6],
      [6, -6],
      [6, 6],
      [3, 6],
      [3, -3],
      [-3, -3],
      [-3, 6],
      [-6, 6],
    ] as const;
    expect(solvePutt(plane(bay, 0, 0.001), [-4.5, 3], [4.5, 3], settings).status).toBe(
      'leaves-green',
    );
  });

  it('refuses a ball in the hole', () => {
    expect(() => solvePutt(plane(outline, 0, 0), [0.01, 0], [0, 0], settings)).toThrow(RangeError);
    expect(() => breakTable(plane(outline, 0, 0), [0, 0], [0.01], settings)).toThrow(RangeError);
  });
});

describe('the map of the whole green', () => {
  it('gives every ball the putt that the forward solver gives it', { tags: 'long' }, () => {
    const random = randomFrom(9);
    for (let k = 0; k < 3; k++) {
      const surface = wavySurface(randomGround(random, 0.03, 0.04), outline);
      const hole: Point = [1.3, -2.2];
      const map = breakMap(surface, hole, settings);
      let checked = 0;
      for (let node = k; node < map.aim.length; node += atDepth(97, 37)) {
        const ball: Point = [
          map.originX + (node % map.columns) * map.step,
          map.originY + Math.floor(node / map.columns) * map.step,
        ];
        if (Math.hypot(...ball) > 14) continue;
        const putt = solvePutt(surface, ball, hole, settings);
        checked += 1;
        expect(Math.abs(map.aim[node] - putt.aimOffset)).toBeLessThan(5e-3);
        expect(Math.abs(map.pace[node] - putt.pace)).toBeLessThan(5e-3);
      }
      expect(checked).toBeGreaterThan(15);
    }
  });

  it('has a line of no break up and down the fall line, and none where the putt breaks', () => {
    const map = breakMap(plane(outline, 0, 0.02), [0, 0], settings);
    const straight = equalLines(map, map.aim, 1e-9);
    expect(straight.length).toBeGreaterThan(0);
    for (const line of straight) for (const [x] of line) expect(Math.abs(x)).toBeLessThan(1e-3);
    for (const line of equalLines(map, map.aim, inchesToMetres(12))) {
      for (const [x, y] of line) {
        if (Math.hypot(x, y) > 12.5) continue;
        const putt = solvePutt(plane(outline, 0, 0.02), [x, y], [0, 0], settings);
        expect(metresToInches(putt.aimOffset)).toBeCloseTo(12, 0);
      }
    }
  });
});

describe('tables', () => {
  it('stand side by side at several speeds: a faster green breaks more', () => {
    const stimps = [9, 11, 13].map(feetToMetres);
    const tables = tablesAtSpeeds(plane(outline, 0, 0.015), [0, 0], [3], stimps, settings.past);
    const aims = tables.map(
      (table) => table.cells.find((c) => c.quadrant === 'left')!.putt!.aimOffset,
    );
    expect(aims[1]).toBeGreaterThan(aims[0]);
    expect(aims[2]).toBeGreaterThan(aims[1]);
    expect(tables.map((table) => table.settings.stimp)).toEqual(stimps);
  });
});

describe('the practice station', () => {
  it('stands four tees one pace out, and both side putts over one point on a plane', () => {
    const station = practiceStation(plane(outline, 0, 0.02), [1, 2], settings);
    expect(station.distance).toBeCloseTo(0.9144, 10);
    expect(station.tees.map((tee) => tee.quadrant)).toEqual(['below', 'above', 'left', 'right']);
    for (const { tee } of station.tees) {
      expect(Math.hypot(tee[0] - 1, tee[1] - 2)).toBeCloseTo(0.9144, 10);
    }
    const [below, above] = station.tees;
    expect(below.tee[1]).toBeLessThan(2);
    expect(below.pictured).toBeGreaterThan(0);
    expect(above.pictured).toBeLessThan(0);
    expect(station.above!.difference).toBeLessThan(1e-4);
    expect(station.above!.distance).toBeGreaterThan(0);
    expect(station.above!.at[1]).toBeGreaterThan(2);
  });
});
