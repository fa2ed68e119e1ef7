import { describe, expect, it } from 'vitest';
import { accumulate, dInfinity } from '../../src/terrain/water/flow-accumulation.js';
import { priorityFlood } from '../../src/terrain/water/priority-flood.js';

/**
 * The rule of D-infinity (Tarboton, Water Resour. Res. 33 (1997) 309-319, equations 3 to 8 and 10): on a plane the
 * direction of flow is that of the plane, and the two neighbours that enclose it take the water by its angle to the other.
 */

const SIDE = 7;
const MIDDLE = 3 * SIDE + 3;

/** Flow over heights of a square of cells whose rim lets all water go. */
const flowOver = (heightOf: (i: number, j: number) => number) => {
  const height = Float64Array.from({ length: SIDE * SIDE }, (_, k) =>
    heightOf(k % SIDE, Math.floor(k / SIDE)),
  );
  const rim = Array.from(height.keys()).filter((k) =>
    [k % SIDE, Math.floor(k / SIDE)].some((at) => at === 0 || at === SIDE - 1),
  );
  const active = new Uint8Array(SIDE * SIDE).fill(1);
  const flood = priorityFlood({ columns: SIDE, rows: SIDE, step: 1, height, active }, rim);
  const shares = dInfinity({ columns: SIDE, rows: SIDE, step: 1, height, active }, flood);
  return { rim, flood, shares };
};

/** Turn from one cell to another, radians. */
const turnTo = (from: number, to: number): number =>
  Math.atan2(Math.floor(to / SIDE) - Math.floor(from / SIDE), (to % SIDE) - (from % SIDE));

/** Of two turns the second less the first, between minus half a turn and half a turn. */
const between = (a: number, b: number): number => Math.atan2(Math.sin(b - a), Math.cos(b - a));

describe('water on a plane', () => {
  // Two directions in each of the eight facets, near a side of it and past its middle.
  it.each(Array.from({ length: 16 }, (_, k) => 45 * (k >> 1) + (k % 2 === 0 ? 9 : 31)))(
    'that falls toward %i degrees is shared by angle',
    (degrees) => {
      const fall = (degrees * Math.PI) / 180;
      const { shares } = flowOver((i, j) => -0.02 * (i * Math.cos(fall) + j * Math.sin(fall)));
      const { first, second, share } = shares;
      const [one, other] = [turnTo(MIDDLE, first[MIDDLE]), turnTo(MIDDLE, second[MIDDLE])];
      expect(Math.abs(between(one, other))).toBeCloseTo(Math.PI / 4, 12);
      expect(share[MIDDLE]).toBeCloseTo(1 - Math.abs(between(one, fall)) / (Math.PI / 4), 9);
      expect(1 - share[MIDDLE]).toBeCloseTo(1 - Math.abs(between(other, fall)) / (Math.PI / 4), 9);
    },
  );

  it.each([0, 45, 90, 135, 180, 225, 270, 315])(
    'that falls toward %i degrees is not shared',
    (degrees) => {
      const fall = (degrees * Math.PI) / 180;
      const [di, dj] = [Math.round(Math.cos(fall)), Math.round(Math.sin(fall))];
      // Whole heights, so that the neighbour in line is steepest exactly.
      const { shares } = flowOver((i, j) => -(i * di + j * dj));
      const to = shares.share[MIDDLE] === 0 ? shares.second : shares.first;
      expect(Math.abs(between(turnTo(MIDDLE, to[MIDDLE]), fall))).toBeCloseTo(0, 12);
      expect([0, 1]).toContain(shares.share[MIDDLE]);
    },
  );

  it('is neither lost nor made', () => {
    const { rim, flood, shares } = flowOver((i, j) => 0.3 * i - 0.11 * j + 0.2 * Math.sin(i * j));
    const own = Float64Array.from({ length: SIDE * SIDE }, (_, k) => 1 + (k % 3));
    const total = accumulate(flood, shares, own);
    const left = rim.reduce((sum, cell) => sum + total[cell], 0);
    expect(left).toBeCloseTo(
      own.reduce((sum, value) => sum + value, 0),
      9,
    );
  });
});
