import { describe, expect, it } from 'vitest';
import type { Point, Polygon } from '../../src/geometry.js';
import {
  boxOf,
  distance,
  insideRing,
  signedArea,
  signedDistanceToRing,
} from '../../src/geometry.js';
import { breakMap, nodeMap } from '../../src/putt/break-map.js';
import { HOLE_RADIUS } from '../../src/putt/capture.js';
import { lanesAndLeave, puttRegions } from '../../src/putt/lanes.js';
import { solvePutt } from '../../src/putt/solve.js';
import type { Surface } from '../../src/surface/surface.js';
import { atDepth } from '../depth.js';
import { circleRing, plane } from '../surface/analytic.js';
import { randomFrom, randomGreen } from '../terrain/random-green.js';

/** Stimp 10 ft, 12 in past. */
const settings = { stimp: 3.048, past: 0.3048 };

const contains = (polygons: readonly Polygon[], [x, y]: Point): boolean =>
  polygons.some((polygon) =>
    polygon.reduce((inside, ring) => inside !== insideRing(ring, x, y), false),
  );

/** Distance from a point to the nearest border of some regions. */
const toBorder = (polygons: readonly Polygon[], [x, y]: Point): number =>
  Math.min(
    Infinity,
    ...polygons.flatMap((polygon) =>
      polygon.map((ring) => Math.abs(signedDistanceToRing(ring, x, y))),
    ),
  );

/** A straight putt is aimed within a quarter of the hole's width, 108 mm (Rules of Golf): metres. */
const STRAIGHT = 0.027;

describe('a hole on a plane that falls 2 % to the front', () => {
  const surface = plane(circleRing(10, 0, 10, 96), 0, 0.02);
  const hole: Point = [0.3, 9.1];
  const regions = puttRegions(surface, breakMap(surface, hole, settings));

  it('has its straight lanes up and down the fall line, to the edge', () => {
    expect(regions.lanes.map((lane) => lane.side)).toEqual(['above', 'below']);
    for (const lane of regions.lanes) {
      for (const [x, y] of lane.axis) {
        expect(Math.abs(x - hole[0])).toBeLessThan(0.02);
        expect((y - hole[1]) * (lane.side === 'above' ? 1 : -1)).toBeGreaterThanOrEqual(0);
      }
      expect(lane.length).toBeGreaterThan(8);
    }
  });

  it('is told how wide they are: their ground over their length', () => {
    for (const { polygon, length, width } of regions.lanes) {
      const area = Math.abs(signedArea(polygon[0]));
      expect(Math.abs(width / (area / length) - 1)).toBeLessThan(0.1);
    }
  });

  it('has no ground from which no pace holds a putt', () => {
    expect(regions.bends?.noPace).toEqual([]);
  });

  it('has such ground above the hole where it is too steep for a ball to arrive slowly', () => {
    const steep = plane(circleRing(10, 0, 10, 96), 0, 0.1);
    const { bends } = puttRegions(steep, breakMap(steep, [0.3, 9.1], settings));
    const noPace = bends?.noPace ?? [];
    for (const y of [12, 15, 18]) expect(contains(noPace, [0.3, y])).toBe(true);
    for (const y of [2, 5, 8]) expect(contains(noPace, [0.3, y])).toBe(false);
  });

  it('has them wherever the hole lies among the nodes of the map', () => {
    for (const at of [
      [0, 10],
      [0.5, 9.5],
      [0.03, 10.02],
      [0.25, 9.75],
      [1.96, 8.02],
    ] as const) {
      const { lanes } = puttRegions(surface, breakMap(surface, at, settings));
      expect(
        lanes.map((lane) => lane.side),
        `${at}`,
      ).toEqual(['above', 'below']);
      for (const lane of lanes) expect(lane.length).toBeGreaterThan(7);
    }
  });

  it('bounds them where a solved putt breaks by a quarter of the hole’s width', () => {
    for (const lane of regions.lanes) {
      for (const ball of lane.polygon[0]) {
        // Near the hole a lane is as wide as its quadrant; on the way out each border is a solved one.
        const away = distance(ball, hole);
        if (away < 1.6 || signedDistanceToRing(surface.outline, ...ball) > -0.01) continue;
        const putt = solvePutt(surface, ball, hole, settings);
        expect(Math.abs(Math.abs(putt.aimOffset) - STRAIGHT)).toBeLessThan(0.004);
      }
    }
  });

  it('asks for the approach to be left below the hole, straight up the fall line', () => {
    const { leave } = regions;
    if (leave === null) throw new Error('no leave');
    expect(leave.best[1]).toBeLessThan(hole[1] - 1);
    expect(Math.abs(leave.best[0] - hole[0])).toBeLessThan(0.3);
    expect(leave.room).toBeGreaterThan(0.5);
    const putt = solvePutt(surface, leave.best, hole, settings);
    expect(putt.pace).toBeGreaterThan(putt.length + settings.past);
    expect(Math.abs(putt.aimOffset)).toBeLessThan(2 * HOLE_RADIUS);
  });
});

describe.each(atDepth([3], [3, 12, 21]))(
  'the sides that balls bend to on random green %i',
  { tags: 'deep' },
  (seed) => {
    const surface: Surface = randomGreen(seed);
    const random = randomFrom(seed);
    const hole: Point = [0.5, 10.5];
    const regions = puttRegions(surface, breakMap(surface, hole, settings));
    const bends = regions.bends!;

    it('leave lanes and the best leave alone where only the nodes by them are solved', () => {
      const { lanes, leave } = lanesAndLeave(surface, nodeMap(surface, hole, settings));
      expect(lanes.length + (leave === null ? 0 : 1)).toBeGreaterThan(1);
      expect({ lanes, leave }).toEqual({ lanes: regions.lanes, leave: regions.leave });
    });

    it('leave room about the best leave as no other place has, looked for everywhere', () => {
      const { polygons, room } = regions.leave!;
      const rooms: number[] = [];
      const { minX, minY, maxX, maxY } = boxOf(surface.outline);
      for (let y = minY; y <= maxY; y += 0.25) {
        for (let x = minX; x <= maxX; x += 0.25) {
          if (contains(polygons, [x, y])) rooms.push(toBorder(polygons, [x, y]));
        }
      }
      expect(rooms.length).toBeGreaterThan(20);
      expect(room).toBeCloseTo(Math.max(...rooms), 8);
    });

    it('are those that the putts, solved one by one, break to', () => {
      let checked = 0;
      for (let k = 0; k < 60; k++) {
        const ball: Point = [(random() - 0.5) * 16, 2 + random() * 18];
        if (signedDistanceToRing(surface.outline, ...ball) > -0.5) continue;
        if (distance(ball, hole) < 1 || contains(bends.noPace, ball)) continue;
        const left = contains(bends.left, ball);
        const right = contains(bends.right, ball);
        expect(left && right).toBe(false);
        // Within a node of a border the map may say either.
        if (toBorder([...bends.left, ...bends.right], ball) < 0.5) continue;
        const putt = solvePutt(surface, ball, hole, settings);
        if (putt.status !== 'holed') continue;
        if (left || right) {
          checked++;
          expect(putt.aimOffset > 0).toBe(right);
        } else {
          expect(Math.abs(putt.aimOffset)).toBeLessThan(2 * STRAIGHT);
        }
      }
      expect(checked).toBeGreaterThan(15);
    });
  },
);
