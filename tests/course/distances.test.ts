import { describe, expect, test } from 'vitest';
import type { LonLat } from '../../src/course/course-map.js';
import { distancesFrom, heightsAlong, placeOnHole, widthAt } from '../../src/course/distances.js';
import { geodesicBearing, geodesicDistance, geodesicTarget } from '../../src/course/geodesy.js';
import { linesOfCourse } from '../../src/course/hole-features.js';
import { holeFigures } from '../../src/course/hole-figures.js';
import { siteOfHole } from '../../src/course/hole-site.js';
import { readMap } from '../../src/course/read-map.js';

const START: LonLat = [12.4, 55.3];
const BEARING = 63;
/** A place along and to the right of a hole laid out by geodesics (geographiclib-geodesic). */
const place = (along: number, off: number): LonLat => {
  const at = geodesicTarget(START, BEARING, along);
  const ahead = geodesicTarget(at, BEARING, 0.001);
  return geodesicTarget(at, geodesicBearing(at, ahead) + 90, off);
};
const box = (s0: number, s1: number, o0: number, o1: number): LonLat[] => [
  place(s0, o0),
  place(s1, o0),
  place(s1, o1),
  place(s0, o1),
];
const area = (properties: object, ring: LonLat[]) => ({
  type: 'Feature',
  properties,
  geometry: { type: 'Polygon', coordinates: [[...ring, ring[0]]] },
});

const map = readMap(
  JSON.stringify({
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        properties: { golf: 'hole', ref: '1', par: '4' },
        geometry: { type: 'LineString', coordinates: [place(0, 0), place(400, 0)] },
      },
      area({ golf: 'tee', ref: '1', name: 'Back' }, box(-4, 4, -4, 4)),
      area({ golf: 'green', ref: '1' }, box(388, 412, -10, 10)),
      area({ golf: 'fairway', ref: '1' }, box(120, 380, -14, 22)),
      area({ golf: 'bunker', ref: '1' }, box(300, 310, -6, 6)),
      area({ golf: 'bunker', ref: '1', name: 'Pot' }, box(200, 208, 24, 30)),
      {
        type: 'Feature',
        properties: { landmark: 'post', name: 'gate', ref: '1' },
        geometry: { type: 'Point', coordinates: place(250, 0) },
      },
    ],
  }),
  'm',
);
/** Ground that climbs 3 m in 100 along the hole. */
const ground = {
  heightAt: (at: LonLat) => {
    const angle = ((geodesicBearing(START, at) - BEARING) * Math.PI) / 180;
    return 20 + 0.03 * geodesicDistance(START, at) * Math.cos(angle);
  },
};
const one = { id: '1', name: 'One', par: 4, strokeIndex: 1, green: null };
const hole = holeFigures(
  { map },
  { ...one, site: siteOfHole(map, '1', null) },
  linesOfCourse(map),
  ground,
)!;

describe('the figures of a hole on sloping ground', () => {
  test('tell the rise to the landing place and to the far edge of what is carried', () => {
    expect(hole.landing!.rises[0]).toBeCloseTo(0.03 * hole.landing!.fromTees[0], 2);
    expect(hole.landing!.riseToMiddle).toBeCloseTo(0.03 * hole.landing!.toMiddle, 2);
    const pot = hole.hazards.find((figures) => figures.feature.name === 'Pot')!;
    // Its farthest corner from the tee lies 208 m along the line.
    expect(pot.carries[0]!.rise).toBeCloseTo(0.03 * 208, 2);
    // What lies across the line out of the tee shot, and the lay-up short of it: 300 to 310 m of 400.
    const far = hole.hazards.find((figures) => figures.crosses)!;
    expect(far.toMiddle).toEqual([expect.closeTo(100, 1), expect.closeTo(90, 1)]);
    expect(far.risesToMiddle).toEqual([expect.closeTo(3, 2), expect.closeTo(2.7, 2)]);
    const [gap] = hole.gaps;
    gap.toMiddle.forEach((length, i) => {
      expect(gap.risesToMiddle[i]).toBeCloseTo(0.03 * length, 2);
    });
  });
});

describe('a hole without tees', () => {
  test('is measured from the start of its line', () => {
    const site = { ...siteOfHole(map, '1', null), tees: [] };
    const [tee, ...others] = holeFigures(
      { map },
      { ...one, site },
      linesOfCourse(map),
      ground,
    )!.tees;
    expect(others).toEqual([]);
    expect(tee.name).toBe('start');
    expect(tee.length).toBeCloseTo(400, 1);
    expect(tee.rise).toBeCloseTo(12, 1);
  });
});

describe('the ground along a hole', () => {
  test('is known from the rearmost tee to the middle of the green, and nowhere without a model', () => {
    const { heights } = hole;
    expect(heights.length).toBeGreaterThan(40);
    expect(heights[0].rise).toBeCloseTo(0, 2);
    for (const { along, rise } of heights) expect(rise).toBeCloseTo(0.03 * along, 2);
    expect(heights[heights.length - 1].along).toBeCloseTo(400, 0);
    const level = holeFigures(
      { map },
      { ...one, site: siteOfHole(map, '1', null) },
      linesOfCourse(map),
      null,
    )!;
    expect(level.heights).toEqual([]);
    expect(level.landing!.riseToMiddle).toBeNull();
  });
});

describe('distances from a place', () => {
  const gate = hole.landmarks.find((one) => one.name === 'gate')!;
  const from = distancesFrom(hole, gate.at, ground);

  test('to front, middle and back, to 2 cm, with rise and what it plays as', () => {
    expect(from.front!.length).toBeCloseTo(138, 1);
    expect(from.middle.length).toBeCloseTo(150, 1);
    expect(from.back!.length).toBeCloseTo(162, 1);
    expect(from.middle.rise).toBeCloseTo(4.5, 2);
    expect(from.middle.playsAs).toBeCloseTo(154.5, 1);
    expect(from.back!.rise).toBeCloseTo(4.86, 2);
  });

  test('to a hazard’s near and far edge: across the way, and behind', () => {
    const [across, behind] = [
      from.hazards.find((one) => one.side === 'across')!,
      from.hazards.find((one) => one.side === 'behind')!,
    ];
    expect(across.near.length).toBeCloseTo(50, 1);
    expect(across.far.length).toBeCloseTo(60, 1);
    expect(across.far.rise).toBeCloseTo(1.8, 2);
    expect(behind.feature.name).toBe('Pot');
  });

  test('from a point beside the line; a bunker to the right of the way', () => {
    const at = placeOnHole(hole, 150, -5);
    expect(geodesicDistance(at, place(150, -5))).toBeLessThan(0.02);
    const there = distancesFrom(hole, at, null);
    expect(there.along).toBeCloseTo(150, 1);
    expect(there.off).toBeCloseTo(-5, 1);
    expect(there.middle.rise).toBeNull();
    const pot = there.hazards.find((one) => one.feature.name === 'Pot')!;
    expect(pot.side).toBe('right');
    expect(pot.near.length).toBeCloseTo(Math.hypot(50, 29), 1);
    expect(pot.far.length).toBeCloseTo(Math.hypot(58, 35), 1);
  });

  test('a bunker whose middle lies within 8 m of the way is across it', () => {
    // The way from `right` metres beside the tee to the middle of the green passes the middle of the
    // bunker, 27 m to the right at 204 of 400 m, at 0.49 of `right`.
    const sideFrom = (right: number) =>
      distancesFrom(hole, place(0, right), null).hazards.find(
        ({ feature }) => feature.name === 'Pot',
      )!.side;
    expect(sideFrom(34)).toBe('right');
    expect(sideFrom(40)).toBe('across');
    expect(sideFrom(70)).toBe('across');
    expect(sideFrom(76)).toBe('left');
  });

  test('the landing place from the tee, and none from past it', () => {
    const tee = distancesFrom(hole, hole.tees[0].at, ground);
    expect(tee.landing!.length).toBeCloseTo(hole.landing!.fromTees[0], 2);
    expect(tee.landing!.rise).toBeCloseTo(0.03 * tee.landing!.length, 2);
    expect(distancesFrom(hole, place(380, 0), ground).landing).toBeNull();
  });

  test('the width at any distance', () => {
    expect(widthAt(hole, 200)!.width).toBeCloseTo(36, 1);
    expect(widthAt(hole, 200)!.left).toBeCloseTo(14, 1);
    expect(widthAt(hole, 60)).toBeNull();
  });

  test('heights along the line of play', () => {
    const heights = heightsAlong(hole, ground, 50);
    expect(heights).toHaveLength(9);
    for (const { along, rise } of heights) expect(rise).toBeCloseTo(0.03 * along, 2);
  });
});
