import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { trueGreens } from '../../course-data/vellamoor/truth.js';
import {
  centroidOf,
  frameOfGreen,
  locationOfPoint,
  pointOfLocation,
  sidesAt,
} from '../../src/course/frame.js';
import { boxOf, insideRing, type Point, signedDistanceToRing } from '../../src/geometry.js';
import { fromGreenFrame, toGreenFrame } from '../../src/survey/survey.js';
import { METRES_PER_PACE } from '../../src/units.js';
import { circleRing } from '../surface/analytic.js';

describe('the frame of a green', () => {
  test('of a circle approached from the south west: by hand', () => {
    const ring = circleRing(10, 500_100, 4_000_200, 720);
    const frame = frameOfGreen(ring, [500_100 - 100, 4_000_200 - 100]);
    const half = Math.SQRT1_2;
    expect(frame.forward[0]).toBeCloseTo(half, 9);
    expect(frame.forward[1]).toBeCloseTo(half, 9);
    expect(frame.origin[0]).toBeCloseTo(500_100 - 10 * half, 3);
    expect(frame.origin[1]).toBeCloseTo(4_000_200 - 10 * half, 3);
    // The north-west point of the circle lies to the left, level with the middle.
    const [x, y] = toGreenFrame(frame, 500_100 - 10 * half, 4_000_200 + 10 * half);
    expect(x).toBeCloseTo(-10, 3);
    expect(y).toBeCloseTo(10, 3);
  });

  test('moves and turns with the green', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...trueGreens),
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.double({ min: -1e7, max: 1e7, noNaN: true }),
        (green, turn, dx, dy) => {
          const placed = {
            origin: [dx, dy] as Point,
            forward: [Math.cos(turn), Math.sin(turn)] as Point,
          };
          const ring = green.outline.map(([x, y]) => fromGreenFrame(placed, x, y));
          const from = fromGreenFrame(placed, 0, -90);
          const frame = frameOfGreen(ring, from);
          expect(Math.hypot(frame.origin[0] - dx, frame.origin[1] - dy)).toBeLessThan(1e-5);
          expect(frame.forward[0]).toBeCloseTo(placed.forward[0], 6);
          expect(frame.forward[1]).toBeCloseTo(placed.forward[1], 6);
        },
      ),
      { numRuns: 200, seed: 5 },
    );
  });

  test('a hole location may lie half a pace past the middle, no more', () => {
    // Twenty paces wide and deep.
    const half = 10 * METRES_PER_PACE;
    const square: Point[] = [
      [-half, 0],
      [half, 0],
      [half, 2 * half],
      [-half, 2 * half],
    ];
    const at = (paces: number): Point =>
      pointOfLocation(square, { name: 'A', on: 5, in: paces, side: 'right' }, {});
    expect(at(10.4)[0]).toBeCloseTo(-0.4 * METRES_PER_PACE, 9);
    expect(() => at(10.6)).toThrow(/is nearer to the left side; .* write left: 9\.4/);
  });

  test('the centroid of a half disc is at 4 r / 3 pi (textbook)', () => {
    const half: Point[] = Array.from({ length: 721 }, (_, i) => {
      const a = (Math.PI * i) / 720;
      return [1e6 + 12 * Math.cos(a), 12 * Math.sin(a)];
    });
    const [x, y] = centroidOf(half);
    expect(x).toBeCloseTo(1e6, 4);
    expect(y).toBeCloseTo((4 * 12) / (3 * Math.PI), 4);
  });
});

describe('hole locations', () => {
  test('round trip within a hundredth of a pace from 200 points on each demo green', () => {
    for (const green of trueGreens) {
      const box = boxOf(green.outline);
      let tried = 0;
      for (let i = 0; tried < 200; i++) {
        const x = box.minX + ((i * 0.618034) % 1) * (box.maxX - box.minX);
        const y = box.minY + ((i * 0.754878) % 1) * (box.maxY - box.minY);
        if (signedDistanceToRing(green.outline, x, y) > -0.05) continue;
        tried += 1;
        const location = locationOfPoint(green.outline, 'A', [x, y], {});
        const back = pointOfLocation(green.outline, location, {});
        expect(Math.hypot(back[0] - x, back[1] - y) / METRES_PER_PACE).toBeLessThan(0.01);
      }
    }
  });

  test('paces are counted from the front edge and from the nearer side', () => {
    const ring = circleRing(12, 0, 12, 720);
    const at = pointOfLocation(ring, { name: 'A', on: 12, in: 5, side: 'left' }, {});
    const y = 12 * METRES_PER_PACE;
    const half = Math.sqrt(144 - (y - 12) ** 2);
    expect(at[1]).toBeCloseTo(10.9728, 9);
    expect(at[0]).toBeCloseTo(-half + 5 * METRES_PER_PACE, 3);
    expect(sidesAt(ring, 24.1)).toBeNull();
  });

  test('on a kidney, a place between its lobes is off the green', () => {
    const ring: Point[] = [
      [-10, 0],
      [10, 0],
      [10, 20],
      [3, 20],
      [3, 8],
      [-3, 8],
      [-3, 20],
      [-10, 20],
    ];
    expect(insideRing(ring, 0, 15)).toBe(false);
    expect(() =>
      pointOfLocation(ring, { name: 'B', on: 16, in: 10, side: 'left' }, { file: 'f' }),
    ).toThrow(/B \(16 on, 10 from the left\) is off its green/);
    expect(() => locationOfPoint(ring, 'B', [0, 15], { file: 'f' })).toThrow(
      'f: the point lies 3.0 m off the green',
    );
  });
});
