import { describe, expect, it } from 'vitest';
import type { BreakTable } from '../../src/putt/putt.js';
import { practiceStation } from '../../src/putt/station.js';
import { breakTable, quadrantDirection } from '../../src/putt/table.js';
import { METRES_PER_PACE } from '../../src/units.js';
import { circleRing, plane } from '../surface/analytic.js';

const SETTINGS = { stimp: 3.048, past: 0.3048 };
/** Falls toward the front, so that looking up the fall line is looking up the page. */
const slope = plane(circleRing(10), 0, 0.02);
const HOLE = [0, 0] as const;

describe('a practice station on a plane', () => {
  const station = practiceStation(slope, HOLE, SETTINGS);
  const [below, above, left, right] = station.tees;

  it('has its tees one pace off: below, above, left and right, looking up the fall line', () => {
    const p = METRES_PER_PACE;
    const at = [
      [0, -p],
      [0, p],
      [-p, 0],
      [p, 0],
    ];
    station.tees.forEach(({ tee }, i) => {
      expect(tee[0]).toBeCloseTo(at[i][0], 9);
      expect(tee[1]).toBeCloseTo(at[i][1], 9);
    });
    expect(station.tees.map((tee) => tee.quadrant)).toEqual(['below', 'above', 'left', 'right']);
  });

  it('pictures a level hole farther on uphill and nearer downhill, past the hole by the same pace', () => {
    for (const tee of station.tees) {
      expect(tee.pictured).toBeCloseTo(tee.putt!.pace - 0.3048 - METRES_PER_PACE, 12);
    }
    expect(below.pictured!).toBeGreaterThan(0.2);
    expect(above.pictured!).toBeLessThan(-0.2);
    expect([below, above, left, right].map((tee) => tee.picture)).toEqual([
      'runs past',
      'stops short',
      'over the point above',
      'over the point above',
    ]);
  });

  it('has both side putts aim over one point above the hole', () => {
    // From the left the ball breaks down to its right: the aim is to the left, uphill.
    expect(left.putt!.aimOffset).toBeGreaterThan(0);
    expect(right.putt!.aimOffset).toBeCloseTo(-left.putt!.aimOffset, 4);
    const { at, distance, difference } = station.above!;
    expect(distance).toBeCloseTo(left.putt!.aimOffset, 4);
    expect(at[0]).toBeCloseTo(0, 9);
    expect(at[1]).toBeCloseTo(distance, 9);
    expect(difference).toBeLessThan(1e-3);
  });
});

describe('the quadrants of a table', () => {
  it('turn with the fall', () => {
    // Falls to the right of the page: looking up the fall line one looks left, and left of that is down.
    const [fx, fy] = [1, 0];
    const at = (['below', 'above', 'left', 'right'] as const).map((q) =>
      quadrantDirection(q, [fx, fy]).map((v) => v + 0),
    );
    expect(at).toEqual([
      [1, 0],
      [-1, 0],
      [0, -1],
      [0, 1],
    ]);
  });

  it('hold a cell for each length, in order, with no break straight up or down', () => {
    const table: BreakTable = breakTable(slope, HOLE, [1, 3], SETTINGS);
    expect(table.cells.map((cell) => [cell.quadrant, cell.length])).toEqual(
      (['below', 'above', 'left', 'right'] as const).flatMap((q) => [
        [q, 1],
        [q, 3],
      ]),
    );
    expect(table.grade).toBeCloseTo(0.02, 12);
    const aims = table.cells.map((cell) => cell.putt!.aimOffset);
    for (const aim of aims.slice(0, 4)) expect(Math.abs(aim)).toBeLessThan(1e-4);
    expect(aims[4]).toBeGreaterThan(0.005);
    expect(aims[6]).toBeLessThan(-0.005);
    expect(Math.abs(aims[5])).toBeGreaterThan(Math.abs(aims[4]));
  });
});
