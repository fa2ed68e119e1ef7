import { describe, expect, it } from 'vitest';
import type { MapFeature } from '../../src/course/course-map.js';
import { alongGeodesics, geodesicDistance, geodesicLength } from '../../src/course/geodesy.js';
import { type HazardSetting, hazardFigures } from '../../src/course/hazard-figures.js';
import { onMap } from '../../src/course/play-line.js';
import type { Point, Ring } from '../../src/geometry.js';
import { localPlane } from '../../src/survey/crs/plane.js';
import { circleRing } from '../surface/analytic.js';

/** Which hazards have figures, and from where to where, on a hole laid out in metres. */

const plane = localPlane(-3, 55);

const hazard = (ring: Ring, kind: 'bunker' | 'water' = 'bunker'): MapFeature => ({
  id: 'h',
  kind,
  refs: [],
  name: null,
  tags: {},
  shape: { kind: 'area', rings: [ring.map((at) => onMap(plane, at))] },
});

const GREEN: Point = [0, 400];
const straight: HazardSetting = {
  plane,
  line: [[0, 0], GREEN],
  green: circleRing(15, ...GREEN),
  greenCentre: GREEN,
  tees: [[0, 0]],
  target: [0, 230],
  heightAt: () => null,
};

const bunkerAt = (x: number, y: number, radius = 5, setting = straight) =>
  hazardFigures(hazard(circleRing(radius, x, y, 720)), setting);

describe('the carry of a hazard', () => {
  it('is to its far edge, its reach to its near edge', () => {
    const [carry] = bunkerAt(12, 200)!.carries;
    expect(carry!.reach).toBeCloseTo(Math.hypot(12, 200) - 5, 1);
    expect(carry!.carry).toBeCloseTo(Math.hypot(12, 200) + 5, 1);
  });

  it('is told from 40 m to 310 yards', () => {
    const told = (far: number): boolean => bunkerAt(0, far - 5)!.carries[0] !== null;
    expect([39, 41, 310 * 0.9144 - 1, 310 * 0.9144 + 1].map(told)).toEqual([
      false,
      true,
      true,
      false,
    ]);
    // What no tee shot comes to is measured to the middle of the green.
    const [near, far] = bunkerAt(10, 350)!.toMiddle!;
    expect(near).toBeCloseTo(Math.hypot(10, 50) + 5, 1);
    expect(far).toBeCloseTo(Math.hypot(10, 50) - 5, 1);
  });

  it('is not told round a corner, nor behind the tee', () => {
    const corner: HazardSetting = {
      ...straight,
      line: [[0, 0], [0, 150], [150, 250], GREEN],
      target: [0, 150],
    };
    expect(bunkerAt(100, 217, 5, corner)!.carries).toEqual([null]);
    expect(bunkerAt(40, 180, 5, corner)!.carries[0]).not.toBeNull();
    expect(bunkerAt(0, -50, 20)!.carries).toEqual([null]);
  });

  it('over water that the line crosses more than once is to where it leaves it last', () => {
    // A horseshoe: two arms across the line, 20 m apart.
    const horseshoe: Ring = [
      [-20, 150],
      [20, 150],
      [20, 160],
      [-10, 160],
      [-10, 180],
      [20, 180],
      [20, 190],
      [-20, 190],
    ];
    const found = hazardFigures(hazard(horseshoe, 'water'), straight)!;
    expect(found.crosses).toBe(true);
    expect(found.carries[0]!.reach).toBeCloseTo(150, 2);
    expect(found.carries[0]!.carry).toBeCloseTo(190, 2);
  });
});

describe('a hazard', () => {
  it('is in play up to 36 m beside the line', () => {
    expect(bunkerAt(40.5, 200)).not.toBeNull();
    expect(bunkerAt(41.5, 200)).toBeNull();
  });

  it('is by the green within 14 m of its edge', () => {
    expect(bunkerAt(0, 400 - 15 - 13.5 - 5)!.greenside).toBe(true);
    expect(bunkerAt(0, 400 - 15 - 14.5 - 5)!.greenside).toBe(false);
  });
});

describe('a place along a line on the map', () => {
  const line = (
    [
      [0, 0],
      [0, 100],
      [80, 160],
    ] as const
  ).map((at) => onMap(plane, at));
  const whole = geodesicLength(line);

  it('lies straight on past its end', () => {
    const past = alongGeodesics(line, whole + 50);
    expect(geodesicDistance(line[2], past)).toBeCloseTo(50, 6);
    expect(geodesicDistance(line[1], past)).toBeCloseTo(150, 6);
  });

  it('lies on its leg before that', () => {
    const within = alongGeodesics(line, 130);
    expect(geodesicDistance(line[1], within)).toBeCloseTo(
      130 - geodesicDistance(line[0], line[1]),
      6,
    );
  });
});
