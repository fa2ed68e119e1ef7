import { describe, expect, it } from 'vitest';
import {
  NEIGHBOUR_DX,
  NEIGHBOUR_DY,
  priorityFlood,
} from '../../src/terrain/water/priority-flood.js';
import { randomFrom } from './random-green.js';

const SIDE = 24;

const neighboursOf = (cell: number): number[] =>
  NEIGHBOUR_DX.flatMap((dx, k) => {
    const i = (cell % SIDE) + dx;
    const j = Math.floor(cell / SIDE) + NEIGHBOUR_DY[k];
    return i < 0 || j < 0 || i >= SIDE || j >= SIDE ? [] : [j * SIDE + i];
  });

/** Height over which water of each cell must go: the least of the greatest heights on any way out, by relaxation. */
const levelsOf = (height: Float64Array, outlets: ReadonlySet<number>): Float64Array => {
  const level = height.map((h, cell) => (outlets.has(cell) ? h : Number.POSITIVE_INFINITY));
  for (let changed = true; changed; ) {
    changed = false;
    for (let cell = 0; cell < level.length; cell++) {
      if (outlets.has(cell)) continue;
      const least = Math.min(...neighboursOf(cell).map((other) => level[other]));
      const next = Math.max(height[cell], least);
      if (next < level[cell]) {
        level[cell] = next;
        changed = true;
      }
    }
  }
  return level;
};

/** Steps from each cell over ground of its own level to where that is left, breadth first. */
const stepsOf = (level: Float64Array, outlets: ReadonlySet<number>): Int32Array => {
  const steps = new Int32Array(level.length).fill(-1);
  let front: number[] = [];
  for (let cell = 0; cell < level.length; cell++) {
    const leaves =
      outlets.has(cell) || neighboursOf(cell).some((other) => level[other] < level[cell]);
    if (!leaves) continue;
    steps[cell] = 0;
    front.push(cell);
  }
  for (let step = 1; front.length > 0; step++) {
    front = front.flatMap((cell) =>
      neighboursOf(cell).filter((other) => {
        if (steps[other] >= 0 || level[other] !== level[cell]) return false;
        steps[other] = step;
        return true;
      }),
    );
  }
  return steps;
};

describe('ground in whole steps, much of it level or a hollow', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('leaves each flat by the fewest cells, seed %i', (seed) => {
    const random = randomFrom(seed);
    const height = Float64Array.from({ length: SIDE * SIDE }, () =>
      Math.floor((1 + (seed % 4)) * random() ** 2),
    );
    const cells = Array.from(height.keys());
    const rim = cells.filter((k) =>
      [k % SIDE, Math.floor(k / SIDE)].some((at) => at === 0 || at === SIDE - 1),
    );
    // A few places of the rim, so that flats are wide.
    const outlets = new Set(rim.filter(() => random() < 0.06).concat(rim[0]));
    const active = new Uint8Array(height.length).fill(1);
    const raster = { columns: SIDE, rows: SIDE, step: 1, height, active };
    const { filled, parent, order } = priorityFlood(raster, outlets);
    const level = levelsOf(height, outlets);
    expect(Array.from(filled)).toEqual(Array.from(level));

    const expected = stepsOf(level, outlets);
    const steps = new Int32Array(height.length);
    for (const cell of order) {
      const to = parent[cell];
      steps[cell] = to < 0 || level[to] < level[cell] ? 0 : steps[to] + 1;
    }
    expect(order).toHaveLength(height.length);
    expect(Math.max(...expected)).toBeGreaterThan(3);
    expect(Array.from(steps)).toEqual(Array.from(expected));
  });
});
