import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessLocation, type Site, siteFor } from '../../src/event/assess-location.js';
import { edgeRule, GUIDANCE } from '../../src/event/guidance.js';
import { puttFromAbove } from '../../src/event/putt-from-above.js';
import { type Point, signedArea } from '../../src/geometry.js';
import { decelerationOf, ROLLING_GRAVITY } from '../../src/putt/green-speed.js';
import type { PuttSolution } from '../../src/putt/putt.js';
import { H, HX, HXX, HXXX, HY, type Surface } from '../../src/surface/surface.js';
import { feetToMetres, metresToPaces, pacesToMetres } from '../../src/units.js';
import { analyticSurface, plane, quadric } from '../surface/analytic.js';
import { roundGreen } from './grounds.js';

const RADIUS = 14;
const green = roundGreen(RADIUS);
const FOOT = feetToMetres(1);

const runsPast = (site: Site, at: Point): number =>
  assessLocation(site, at, []).findings.stopping.value;

const gradesRound = (
  surface: Surface,
  at: Point,
  around: number,
): { readonly steepest: number; readonly unevenness: number } => {
  const site = siteFor(surface, feetToMetres(10), { ...GUIDANCE, around });
  const { grade, evenness } = assessLocation(site, at, []).findings;
  return { steepest: grade.value, unevenness: evenness.value };
};

describe('how far a ball from above runs past the hole', () => {
  /**
   * Straight down a plane d = v^2 / (2 (af - gs)), gs = (5/7) g sin, af = a0 cos. Source: textbook
   * mechanics of a solid sphere that rolls without slipping; stimp: USGA Stimpmeter booklet, Holmes,
   * Am. J. Phys. 54 (1986).
   */
  it('is on a plane what the closed form gives, to a millimetre', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.045, noNaN: true }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.double({ min: 8, max: 13, noNaN: true }),
        (grade, turn, feet) => {
          const stimp = feetToMetres(feet);
          const a0 = decelerationOf(stimp);
          const theta = Math.atan(grade);
          const rest = a0 * Math.cos(theta) - ROLLING_GRAVITY * Math.sin(theta);
          fc.pre(rest > 0.15 * a0);
          const surface = plane(green, grade * Math.cos(turn), grade * Math.sin(turn));
          const site = siteFor(surface, stimp, GUIDANCE);
          const expected = (2 * a0 * GUIDANCE.past) / (2 * rest);
          expect(runsPast(site, [0, RADIUS])).toBeCloseTo(expected, 3);
        },
      ),
      { numRuns: 200, seed: 11 },
    );
  });

  it('has no end where the ball does not stop: 7.8 % at a speed of 10 ft', () => {
    const at = (grade: number): number =>
      runsPast(siteFor(plane(green, 0, grade), feetToMetres(10), GUIDANCE), [0, RADIUS]);
    expect(at(0.079)).toBe(Infinity);
    expect(at(0.06)).toBeGreaterThan(GUIDANCE.stopsWithin);
    expect(at(0.02)).toBeLessThan(GUIDANCE.stopsWithin);
  });

  it('agrees with what the solver says of a putt from straight above', () => {
    const surface = quadric(green, 0.004, -0.002, 3, 9);
    const site = siteFor(surface, feetToMetres(10.5), GUIDANCE);
    for (const hole of [
      [0, RADIUS],
      [4, 8],
      [-5, 18],
    ] as const) {
      const putt = puttFromAbove(site, hole) as PuttSolution;
      expect(putt.wouldRollPast).not.toBeNull();
      // The worst of three directions is no less, and on gentle ground hardly more.
      expect(runsPast(site, hole)).toBeGreaterThan(putt.wouldRollPast! - 0.005);
      expect(runsPast(site, hole)).toBeLessThan(putt.wouldRollPast! * 1.05);
    }
  });
});

describe('a ball from above that passes the hole to one side of the fall line', () => {
  /** A plane, and past a line to one side of the hole the ground falls away: along x, or the other way. */
  const fallingAway = (side: 1 | -1, bend: number) =>
    analyticSurface(green, (x, y, jet) => {
      const u = Math.max(0, side * x);
      jet.fill(0);
      jet[H] = 0.01 * y - (bend * u ** 3) / 6;
      jet[HX] = (-side * bend * u * u) / 2;
      jet[HY] = 0.01;
      jet[HXX] = -bend * u;
      jet[HXXX] = -side * (u > 0 ? bend : 0);
    });
  const past = (side: 1 | -1, bend: number): number =>
    runsPast(siteFor(fallingAway(side, bend), feetToMetres(10.5), GUIDANCE), [0, RADIUS]);

  it('runs the farthest where the ground falls away, be that left or right', () => {
    const straight = past(1, 0);
    expect(past(1, 1.5)).toBeGreaterThan(straight * 1.1);
    expect(past(-1, 1.5)).toBeCloseTo(past(1, 1.5), 6);
  });
});

describe('the ground round a hole', () => {
  it('of a plane is as steep as the plane and quite even', () => {
    const { steepest, unevenness } = gradesRound(plane(green, 0.012, -0.016), [0, RADIUS], 0.9);
    expect(steepest).toBeCloseTo(0.02, 12);
    expect(unevenness).toBeLessThan(1e-12);
  });

  it('is looked at half-way out too', () => {
    // A ring of steep ground at half the radius; level in the middle and at the radius.
    const ring = analyticSurface(green, (x, y, jet) => {
      jet.fill(0);
      const away = Math.hypot(x, y - RADIUS);
      const grade = 0.03 * Math.sin((Math.PI * Math.min(away, 0.9)) / 0.9);
      jet[HX] = away === 0 ? 0 : (grade * x) / away;
      jet[HY] = away === 0 ? 0 : (grade * (y - RADIUS)) / away;
    });
    expect(gradesRound(ring, [0, RADIUS], 0.9).steepest).toBeCloseTo(0.03, 12);
  });

  it('of a bowl is uneven by its curvature times the radius', () => {
    const { steepest, unevenness } = gradesRound(quadric(green, 0.01, 0.01, 0, 10), [0, 10], 0.9);
    expect(steepest).toBeCloseTo(0.009, 12);
    expect(unevenness).toBeCloseTo(0.009, 12);
  });
});

describe('an assessment', () => {
  const level = plane(green, 0, 0.015);
  const site = siteFor(level, feetToMetres(10), GUIDANCE);

  it('keeps four paces from the edge, three on a green under 5000 sq ft', () => {
    const small = Math.abs(signedArea(roundGreen(11)));
    expect(edgeRule(GUIDANCE, small)).toBe(pacesToMetres(3));
    expect(edgeRule(GUIDANCE, Math.abs(signedArea(green)))).toBe(pacesToMetres(4));
    const from = (paces: number) => assessLocation(site, [0, pacesToMetres(paces)], []);
    expect(from(5).kept).toBe(true);
    expect(metresToPaces(from(5).findings.edge.value)).toBeCloseTo(5, 2);
    expect(from(3.9).findings.edge.kept).toBe(false);
    expect(from(3.9).findings.edge.breach).toBeCloseTo(0.1 / 4, 3);
    // Walked distances count to the tenth of a pace.
    expect(from(3.96).kept).toBe(true);
  });

  it('says by how much each rule is broken, and of all but the broken ones that they are kept', () => {
    const steep = siteFor(plane(green, 0, 0.036), feetToMetres(10), GUIDANCE);
    const { findings, kept, breach, score } = assessLocation(steep, [0, RADIUS], []);
    expect(kept).toBe(false);
    expect(findings.grade).toMatchObject({ kept: false, limit: 0.03 });
    expect(findings.grade.value).toBeCloseTo(0.036, 12);
    expect(findings.grade.breach).toBeCloseTo(0.2, 9);
    expect(findings.evenness.kept && findings.stopping.kept && findings.edge.kept).toBe(true);
    expect(breach).toBeCloseTo(0.2, 9);
    expect(score).toBeLessThan(assessLocation(site, [0, RADIUS], []).score);
  });

  it('keeps away from earlier holes so that the turf recovers', () => {
    const at = [0, RADIUS] as const;
    const earlier = [
      { at: [3, RADIUS] as const, name: 'the hole of day 1' },
      { at: [9, RADIUS] as const, name: 'the hole of day 2' },
    ];
    const near = assessLocation(site, at, earlier);
    expect(near.findings.turf).toMatchObject({ value: 3, kept: false });
    expect(near.nearest?.name).toBe('the hole of day 1');
    expect(assessLocation(site, at, earlier.slice(1)).kept).toBe(true);
    expect(assessLocation(site, at, []).findings.turf.value).toBe(Infinity);
  });

  it('asks more of the ground the faster the green: 4 % stops at 8 ft and not at 14 ft', () => {
    const slope = plane(green, 0, 0.04);
    const stops = (feet: number): boolean =>
      assessLocation(siteFor(slope, feetToMetres(feet), GUIDANCE), [0, RADIUS], []).findings
        .stopping.kept;
    expect(stops(8)).toBe(true);
    expect(stops(14)).toBe(false);
    expect(FOOT).toBe(GUIDANCE.past);
  });
});
