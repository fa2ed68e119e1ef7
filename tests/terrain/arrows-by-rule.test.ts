import { describe, expect, it } from 'vitest';
import { distance, type Point, type Ring, signedDistanceToRing } from '../../src/geometry.js';
import { fallArrows } from '../../src/terrain/fall-arrows.js';
import { sampleGround } from '../../src/terrain/ground-grid.js';
import type { FallArrow } from '../../src/terrain/reading.js';
import { circleRing, plane, quadric } from '../surface/analytic.js';

/** Where fall arrows stand and how long they are, on ground on which it can be told by hand. */

const SPACING = 2;
const STEP = 0.25;
/** Half the green's width is no multiple of the spacing. */
const round = circleRing(9.3);
const square: Ring = [
  [-9, -9],
  [9, -9],
  [9, 9],
  [-9, 9],
];

const arrowsOf = (
  surface: ReturnType<typeof plane>,
  lines: readonly (readonly [number, number][])[] = [],
  leastGrade = 0.005,
): FallArrow[] =>
  fallArrows(sampleGround(surface, STEP), null, lines, { arrowSpacing: SPACING, leastGrade });

const lengthOf = ({ path }: FallArrow): number =>
  path.slice(1).reduce((sum, at, i) => sum + distance(path[i], at), 0);

describe('a fall arrow', () => {
  it.each([
    [0.01, 0.34],
    [0.02, 0.48],
    [0.04, 0.76],
    [0.05, 0.9],
    [0.09, 0.9],
  ])('at a grade of %f is %f of the spacing long, half of it on either side', (grade, share) => {
    const arrows = arrowsOf(plane(round, 0.6 * grade, -0.8 * grade));
    expect(arrows.length).toBeGreaterThan(20);
    for (const arrow of arrows) {
      expect(lengthOf(arrow)).toBeCloseTo(share * SPACING, 6);
      expect(arrow.grade).toBeCloseTo(grade, 9);
      expect(distance(arrow.path[0], arrow.at)).toBeCloseTo((share * SPACING) / 2, 6);
    }
  });

  it('keeps 0.3 m from the edge with tip and tail', () => {
    const arrows = arrowsOf(plane(round, 0, 0.05));
    for (const { path, toward } of arrows) {
      for (const [end, sign] of [
        [path[path.length - 1], 1],
        [path[0], -1],
      ] as const) {
        const beyond: Point = [
          end[0] + sign * 0.299 * toward[0],
          end[1] + sign * 0.299 * toward[1],
        ];
        expect(signedDistanceToRing(round, ...beyond)).toBeLessThan(0);
      }
    }
    // Near the upper and the lower edge there are some for which it matters.
    const reach = (sign: 1 | -1): number =>
      Math.max(...arrows.map(({ path }) => sign * path[sign > 0 ? 0 : path.length - 1][1]));
    expect(reach(1)).toBeGreaterThan(7.5);
    expect(reach(-1)).toBeGreaterThan(7.5);
  });

  it('keeps 0.3 m from a divide, with all its length', () => {
    const divide: [number, number][] = [
      [-9, -9],
      [9, 9],
    ];
    const arrows = arrowsOf(plane(round, 0.05, 0), [divide]);
    expect(arrows.length).toBeGreaterThan(20);
    for (const { path } of arrows) {
      for (const [x, y] of path) expect(Math.abs(x - y) / Math.SQRT2).toBeGreaterThan(0.29);
    }
  });

  it('stands on no ground more level than the least grade', () => {
    // The grade of a bowl grows by 1 % a metre from its middle.
    const bowl = quadric(round, 0.01, 0.01);
    const nearest = (leastGrade: number): number =>
      Math.min(...arrowsOf(bowl, [], leastGrade).map(({ at }) => Math.hypot(...at)));
    expect(nearest(0.03)).toBeGreaterThan(3);
    expect(nearest(0.03)).toBeLessThan(4.5);
    expect(nearest(0.001)).toBeLessThan(2);
  });

  it('stands between those of another line: they are no rows across the fall', () => {
    const phases = arrowsOf(plane(square, 0, 0.03)).map(
      ({ at: [, y] }) => (((9 - y) % SPACING) + SPACING) % SPACING,
    );
    const near = (phase: number): number =>
      phases.filter((one) => Math.abs(one - phase) < 0.1 * SPACING).length;
    expect(near(SPACING / 2)).toBeGreaterThan(15);
    expect(phases.length - near(SPACING / 2)).toBeGreaterThan(15);
  });

  it.each([0, 1, 2])('is missing nowhere where one has room, fall %i', (k) => {
    const fall: Point = [Math.cos(1 + k), Math.sin(1 + k)];
    const arrows = arrowsOf(plane(round, -0.02 * fall[0], -0.02 * fall[1]));
    // Half an arrow and what it keeps from the edge.
    const room = 0.24 * SPACING + 0.3;
    for (let x = -9; x <= 9; x += 0.25) {
      for (let y = -9; y <= 9; y += 0.25) {
        const ends = [1, -1].map((s): Point => [x + s * room * fall[0], y + s * room * fall[1]]);
        if (ends.some(([px, py]) => signedDistanceToRing(round, px, py) > -0.05)) continue;
        const nearest = Math.min(...arrows.map(({ at }) => distance(at, [x, y])));
        // 1.05 spacings from one of the places that were tried, which lie a fifth of the spacing apart.
        expect(nearest).toBeLessThan(1.05 * SPACING + 0.2 * SPACING);
      }
    }
  });
});
