import { describe, expect, it } from 'vitest';
import { HALF_A_HOLE, tableChange } from '../../src/event/table-change.js';
import { HOLE_RADIUS } from '../../src/putt/capture.js';
import type { BreakTable } from '../../src/putt/putt.js';
import { breakTable } from '../../src/putt/table.js';
import { feetToMetres } from '../../src/units.js';
import { plane } from '../surface/analytic.js';
import { roundGreen } from './grounds.js';

const green = roundGreen(14);
const LENGTHS = [3, 6, 10, 20].map(feetToMetres);
const SETTINGS = { stimp: feetToMetres(10), past: feetToMetres(1) };
const tableOn = (grade: number): BreakTable =>
  breakTable(plane(green, 0, grade), [0, 14], LENGTHS, SETTINGS);

describe('the tables of two surfaces', () => {
  it('do not change when the ground does not', () => {
    const change = tableChange('A', tableOn(0.02), tableOn(0.02));
    expect(change.changed).toEqual([]);
    expect(change.cells).toBe(16);
  });

  it('are not compared where one survey has no points on the way', () => {
    const [older, newer] = [tableOn(0.02), tableOn(0.024)];
    const cells = newer.cells.map((cell) =>
      cell.quadrant === 'left'
        ? { ...cell, outcome: 'unsurveyed' as const, putt: null, aimSd: null }
        : cell,
    );
    const change = tableChange('A', older, { ...newer, cells });
    expect(change.cells).toBe(12);
    expect(change.changed.some((one) => one.older.quadrant === 'left')).toBe(false);
    expect(change.changed.some((one) => one.older.quadrant === 'right')).toBe(true);
  });

  it('change where the aim does by over half a hole, which is the radius of the hole', () => {
    expect(HALF_A_HOLE).toBe(HOLE_RADIUS);
    const [older, newer] = [tableOn(0.02), tableOn(0.024)];
    const change = tableChange('A', older, newer);
    // By hand, cell by cell.
    const moved = older.cells.flatMap((cell, i) => {
      const by = newer.cells[i].putt!.aimOffset - cell.putt!.aimOffset;
      return Math.abs(by) > 0.054 ? [{ cell: `${cell.quadrant} ${cell.length}`, by }] : [];
    });
    expect(moved.length).toBeGreaterThan(1);
    expect(moved.length).toBeLessThan(8);
    expect(
      change.changed.map((one) => ({
        cell: `${one.older.quadrant} ${one.older.length}`,
        by: one.aimChange,
      })),
    ).toEqual(moved);
    // Straight up and down the fall line nothing changes but the pace.
    expect(change.changed.every(({ older: { quadrant } }) => /left|right/.test(quadrant))).toBe(
      true,
    );
  });

  it('change where a putt comes or goes', () => {
    // 9 % does not hold a ball from above at a speed of 10 ft.
    const { changed } = tableChange('A', tableOn(0.02), tableOn(0.09));
    const gone = changed.filter((one) => one.aimChange === null);
    expect(gone.length).toBeGreaterThan(0);
    expect(gone.every((one) => one.sure && one.older.outcome === 'solved')).toBe(true);
  });

  it('say whether the surveys can tell', () => {
    const withSd = (table: BreakTable, aimSd: number): BreakTable => ({
      ...table,
      cells: table.cells.map((cell) => ({ ...cell, aimSd })),
    });
    const [older, newer] = [tableOn(0.02), tableOn(0.024)];
    const sure = tableChange('A', withSd(older, 0.003), withSd(newer, 0.004)).changed;
    expect(sure[0].sd).toBeCloseTo(0.005, 12);
    expect(sure.every((one) => one.sure)).toBe(true);
    const vague = tableChange('A', withSd(older, 1), withSd(newer, 1)).changed;
    expect(vague.length).toBe(sure.length);
    expect(vague.some((one) => one.sure)).toBe(false);
  });
});
