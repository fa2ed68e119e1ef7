import { describe, expect, it } from 'vitest';
import { distance, type Point, type Ring, signedDistanceToRing } from '../../src/geometry.js';
import type { Surface } from '../../src/surface/surface.js';
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
  surface: Surface,
  {
    lines = [],
    leastGrade = 0.005,
    arrowSpacing = SPACING,
  }: {
    readonly lines?: readonly (readonly [number, number][])[];
    readonly leastGrade?: number;
    readonly arrowSpacing?: number;
  } = {},
): FallArrow[] =>
  fallArrows(sampleGround(surface, STEP), null, lines, { arrowSpacing, leastGrade });

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

  it.each([
    [2, 9.3],
    [1.5, 6.1],
    [2, 5.3],
  ])('keeps 0.3 m from the edge with tip and tail, %f m apart', (arrowSpacing, radius) => {
    const edge = circleRing(radius);
    const arrows = arrowsOf(plane(edge, 0, 0.05), { arrowSpacing });
    for (const { path, toward } of arrows) {
      for (const [end, sign] of [
        [path[path.length - 1], 1],
        [path[0], -1],
      ] as const) {
        const beyond: Point = [
          end[0] + sign * 0.299 * toward[0],
          end[1] + sign * 0.299 * toward[1],
        ];
        expect(signedDistanceToRing(edge, ...beyond)).toBeLessThan(0);
      }
    }
    // Near the upper and the lower edge there are some for which it matters.
    const reach = (sign: 1 | -1): number =>
      Math.max(...arrows.map(({ path }) => sign * path[sign > 0 ? 0 : path.length - 1][1]));
    expect(reach(1)).toBeGreaterThan(radius - 1.8);
    expect(reach(-1)).toBeGreaterThan(radius - 1.8);
  });

  it('keeps 0.3 m from a divide, with all its length', () => {
    const divide: [number, number][] = [
      [-9, -9],
      [9, 9],
    ];
    const arrows = arrowsOf(plane(round, 0.05, 0), { lines: [divide] });
    expect(arrows.length).toBeGreaterThan(20);
    for (const { path } of arrows) {
      for (const [x, y] of path) expect(Math.abs(x - y) / Math.SQRT2).toBeGreaterThan(0.29);
    }
  });

  it('stands on no ground more level than the least grade', () => {
    // The grade of a bowl grows by 1 % a metre from its middle.
    const bowl = quadric(round, 0.01, 0.01);
    const nearest = (leastGrade: number): number =>
      Math.min(...arrowsOf(bowl, { leastGrade }).map(({ at }) => Math.hypot(...at)));
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

  it('is missing nowhere where one has room', () => {
    const [spacing, radius] = [2.7, 8.1];
    const bowl = quadric(circleRing(radius), 0.01, 0.01);
    const arrows = arrowsOf(bowl, { arrowSpacing: spacing });
    for (let x = -8; x <= 8; x += 0.25) {
      for (let y = -8; y <= 8; y += 0.25) {
        const r = Math.hypot(x, y);
        const half = (spacing * Math.min(0.9, 0.2 + 14 * 0.01 * r)) / 2;
        // Between the level middle and what an arrow keeps from the edge.
        if (r < half + 0.5 || r + half + 0.35 > radius) continue;
        const nearest = Math.min(...arrows.map(({ at }) => distance(at, [x, y])));
        // 1.05 spacings from one of the places that were tried, which lie a fifth of the spacing apart.
        expect(nearest).toBeLessThan(1.05 * spacing + 0.2 * spacing);
      }
    }
  });
});
