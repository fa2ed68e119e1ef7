import { describe, expect, it } from 'vitest';
import { practiceStation } from '../../src/putt/station.js';
import { stationSetting } from '../../src/putt/station-setting.js';
import { walkRound } from '../../src/putt/walk-round.js';
import type { Stream } from '../../src/terrain/reading.js';
import { circleRing, plane } from '../surface/analytic.js';

const SETTINGS = { stimp: 3.048, past: 0.3048 };
const HOLE = [0, 0] as const;

describe('a walk round a hole on an even slope', () => {
  // Falls to the right of the page: 12 o'clock, uphill, is to the left.
  const slope = plane(circleRing(10), -0.02, 0);
  const round = walkRound(slope, HOLE, SETTINGS, { distance: 1.5, count: 12 });

  it('has its tees by the hours, 12 above the hole and on with the clock', () => {
    const at = (k: number) => round.tees[k].tee;
    expect(round.tees.map(({ clock }) => clock)).toEqual([12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect([at(0)[0], at(0)[1]].map((v) => v.toFixed(6))).toEqual(['-1.500000', '0.000000']);
    expect(at(3)[1]).toBeCloseTo(1.5, 9);
    expect(at(6)[0]).toBeCloseTo(1.5, 9);
    expect(at(9)[1]).toBeCloseTo(-1.5, 9);
  });

  it('breaks to neither side from 12 and 6, most from about 3 and 9, alike on both sides', () => {
    const aims = round.tees.map(({ putt }) => putt!.aimOffset);
    expect(Math.abs(aims[0])).toBeLessThan(1e-4);
    expect(Math.abs(aims[6])).toBeLessThan(1e-4);
    for (const k of [1, 2, 3, 4, 5]) {
      expect(aims[k]).toBeLessThan(0);
      expect(aims[12 - k]).toBeCloseTo(-aims[k], 4);
    }
  });

  it('aims over nearly one point, that of the sides of the station', () => {
    const { above } = practiceStation(slope, HOLE, SETTINGS, 1.5);
    expect(round.over!.uphill).toBeCloseTo(above!.distance, 2);
    expect(Math.abs(round.over!.right)).toBeLessThan(1e-3);
    expect(round.over!.spread).toBeLessThan(0.01);
    expect(round.over!.at[0]).toBeCloseTo(-round.over!.uphill, 6);
  });

  it('leaves out what lies off the green', () => {
    const edge = walkRound(slope, [9.5, 0], SETTINGS, { distance: 1.5, count: 8 });
    expect(edge.tees[4].outcome).toBe('off-green');
    expect(edge.tees[4].putt).toBeNull();
    expect(edge.tees[0].putt).not.toBeNull();
  });
});

describe('where a station lies on its green', () => {
  const stream = (points: Stream['points'], main: boolean): Stream => ({
    order: 1,
    main,
    points,
    area: points.map(() => 1),
    mouth: 'edge',
    valley: 0.1,
    outlet: null,
  });

  it('is told by edge, fall and main stream', () => {
    const outline = [
      [-8, 0],
      [8, 0],
      [8, 20],
      [-8, 20],
    ] as const;
    const setting = stationSetting(
      outline,
      [
        stream(
          [
            [3, 0, 0],
            [3, 20, 1],
          ],
          true,
        ),
        stream(
          [
            [-5.5, 0, 0],
            [-5.5, 20, 1],
          ],
          false,
        ),
      ],
      [-5, 8],
      [-0.7, -0.7],
    );
    expect(setting.edge).toEqual({ at: [-8, 8], distance: 3, toward: 'left' });
    expect(setting.stream).toEqual({ at: [3, 8], distance: 8, toward: 'right' });
    expect(setting.falls).toBe('front left');
    expect(stationSetting(outline, [], [-5, 8], [0, 1])).toMatchObject({
      stream: null,
      falls: 'back',
    });
  });
});
