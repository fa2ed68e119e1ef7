import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lineMeetsBox } from '../../src/page/labels/box-meeting.js';
import { extentsOf, leftBetween, rightBetween } from '../../src/page/labels/label-extents.js';
import { placeSideLabels, type SideLabel } from '../../src/page/labels/label-gutters.js';
import { stackedTops } from '../../src/page/labels/stacked-tops.js';

describe('the side of a label', () => {
  const cell = { x: 0, y: 0, width: 100, height: 100 };
  const window = { x: 40, y: 0, width: 20, height: 100 };
  const sideWith = (woods: SideLabel['woods'], side: SideLabel['side'] = 'left'): string => {
    const anchors = { left: [50, 50], right: [50, 50] } as const;
    const label = { anchors, width: 10, height: 4, leaderAt: 2, priority: 1, side, woods };
    const [{ side: placed }] = placeSideLabels([label], cell, extentsOf(window, []), {
      gap: 1,
      clear: 1,
    });
    return placed;
  };

  test('is the one that it would rather stand on', () => {
    expect(sideWith({ left: 0, right: 0 })).toBe('left');
    expect(sideWith({ left: 0, right: 0 }, 'right')).toBe('right');
  });

  test('is the other where its leader would run farther through woods', () => {
    expect(sideWith({ left: 4, right: 0 })).toBe('right');
    expect(sideWith({ left: 2, right: 6 }, 'right')).toBe('left');
    expect(sideWith({ left: 4, right: 4 })).toBe('left');
  });
});

describe('labels stacked beside a drawing', () => {
  test('stay where they would rather be when there is room', () => {
    expect(stackedTops([10, 30, 50], [5, 5, 5], 1, 0, 100)).toEqual([10, 30, 50]);
  });

  test('share the way evenly when two want the same place', () => {
    expect(stackedTops([20, 20], [4, 4], 2, 0, 100)).toEqual([17, 23]);
  });

  test('keep their order, their gaps and the range, and no other stack is nearer to the wish', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            want: fc.double({ min: -20, max: 140, noNaN: true }),
            height: fc.double({ min: 1, max: 12, noNaN: true }),
          }),
          { minLength: 1, maxLength: 9 },
        ),
        fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 9, maxLength: 9 }),
        (labels, shake) => {
          const sorted = [...labels].sort((a, b) => a.want - b.want);
          const want = sorted.map((one) => one.want);
          const heights = sorted.map((one) => one.height);
          const [gap, low, high] = [0.9, 0, 130];
          fc.pre(heights.reduce((s, h) => s + h + gap, 0) < high);
          const tops = stackedTops(want, heights, gap, low, high);
          const sound = (stack: readonly number[]): boolean =>
            stack.every(
              (top, i) =>
                top >= low - 1e-9 &&
                top + heights[i] <= high + 1e-9 &&
                (i === 0 || top >= stack[i - 1] + heights[i - 1] + gap - 1e-9),
            );
          expect(sound(tops)).toBe(true);
          const cost = (stack: readonly number[]): number =>
            stack.reduce((s, top, i) => s + (top - want[i]) ** 2, 0);
          // Any sound stack near by is no better: the problem is convex, so none at all is.
          const other = tops.map((top, i) => top + shake[i]);
          if (sound(other)) expect(cost(other)).toBeGreaterThanOrEqual(cost(tops) - 1e-6);
        },
      ),
      { numRuns: 500, seed: 7 },
    );
  });
});

test('the extents of a drawing hold all of its points and no more than its window', () => {
  const window = { x: 20, y: 10, width: 40, height: 60 };
  const extents = extentsOf(window, [
    [
      [30, 15],
      [50, 35],
      [10, 60],
    ],
  ]);
  expect(leftBetween(extents, 15, 15.5)).toBeCloseTo(30, 0);
  expect(rightBetween(extents, 30, 40)).toBeCloseTo(50, 6);
  expect(leftBetween(extents, 55, 60)).toBe(20);
  // Rows beyond the drawing take after its nearest row.
  expect(leftBetween(extents, 10, 11)).toBeCloseTo(30, 0);
});

test('a segment meets a box when a fine walk along it does', () => {
  const box = { x: 2, y: 3, width: 4, height: 2 };
  const coordinate = fc.double({ min: -2, max: 10, noNaN: true });
  fc.assert(
    fc.property(coordinate, coordinate, coordinate, coordinate, (ax, ay, bx, by) => {
      let walked = false;
      for (let k = 0; k <= 400 && !walked; k++) {
        const x = ax + (k / 400) * (bx - ax);
        const y = ay + (k / 400) * (by - ay);
        walked = x >= 2 && x <= 6 && y >= 3 && y <= 5;
      }
      // The walk may step over a corner, never find what is not there.
      if (walked)
        expect(
          lineMeetsBox(
            [
              [ax, ay],
              [bx, by],
            ],
            box,
          ),
        ).toBe(true);
      const away = { x: 2.1, y: 3.1, width: 3.8, height: 1.8 };
      if (
        lineMeetsBox(
          [
            [ax, ay],
            [bx, by],
          ],
          away,
        )
      ) {
        expect(
          lineMeetsBox(
            [
              [ax, ay],
              [bx, by],
            ],
            box,
          ),
        ).toBe(true);
      }
    }),
    { numRuns: 500, seed: 2 },
  );
});
