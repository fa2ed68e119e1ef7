import { describe, expect, it } from 'vitest';
import type { Point, Polygon } from '../../src/geometry.js';
import { insideRing, signedArea, signedDistanceToRing } from '../../src/geometry.js';
import { H, HX, HY, JET_SIZE } from '../../src/surface/surface.js';
import { READ_DEFAULTS, readGreen } from '../../src/terrain/read-green.js';
import { nearestLineDistance } from './line-distance.js';
import { randomFrom, randomGreen } from './random-green.js';

const areaOf = (polygons: readonly Polygon[]): number =>
  polygons.reduce(
    (sum, polygon) => sum + polygon.reduce((own, ring) => own + signedArea(ring), 0),
    0,
  );

const contains = (polygon: Polygon, [x, y]: Point): boolean =>
  polygon.reduce((inside, ring) => inside !== insideRing(ring, x, y), false);

const seeds = Array.from({ length: 12 }, (_, k) => 1000 + k);

describe.each(seeds)('regions, contours and arrows of random green %i', (seed) => {
  const surface = randomGreen(seed);
  const reading = readGreen(surface);
  const jet = new Float64Array(JET_SIZE);
  const at = ([x, y]: Point): { height: number; grade: number; fall: Point } => {
    surface.at(x, y, jet);
    const grade = Math.hypot(jet[HX], jet[HY]);
    return { height: jet[H], grade, fall: [-jet[HX] / grade, -jet[HY] / grade] };
  };
  const random = randomFrom(seed);
  const samples: Point[] = [];
  while (samples.length < 400) {
    const p: Point = [
      surface.box.minX + random() * (surface.box.maxX - surface.box.minX),
      surface.box.minY + random() * (surface.box.maxY - surface.box.minY),
    ];
    if (signedDistanceToRing(surface.outline, ...p) < -0.02) samples.push(p);
  }

  it('bands cover the green once, and each point lies in the band of its grade', () => {
    expect(areaOf(reading.bands.flatMap((band) => band.polygons))).toBeCloseTo(reading.area, 6);
    let misplaced = 0;
    for (const p of samples) {
      const holders = reading.bands.filter((band) =>
        band.polygons.some((polygon) => contains(polygon, p)),
      );
      expect(holders.length).toBe(1);
      const { grade } = at(p);
      // A chord of the border may pass a point by its sag; small islands belong to their band.
      if (grade < holders[0].from - 0.0004 || grade > holders[0].to + 0.0004) misplaced++;
    }
    expect(misplaced).toBeLessThanOrEqual(2);
  });

  it('contours keep their height to 0.2 mm and end on the edge', () => {
    expect(reading.contours.length).toBeGreaterThan(3);
    for (const { height, lines } of reading.contours) {
      for (const line of lines) {
        for (const p of line.slice(1, -1)) {
          expect(Math.abs(at(p).height - height)).toBeLessThan(2e-4);
        }
        const [first, last] = [line[0], line[line.length - 1]];
        const closed = first[0] === last[0] && first[1] === last[1];
        if (closed) continue;
        for (const end of [first, last]) {
          expect(Math.abs(signedDistanceToRing(surface.outline, ...end))).toBeLessThan(1e-6);
        }
      }
    }
  });

  it('every fifth contour is an index contour, at whole multiples of five intervals', () => {
    for (const { height, index } of reading.contours) {
      expect(height / READ_DEFAULTS.contourInterval).toBeCloseTo(
        Math.round(height / READ_DEFAULTS.contourInterval),
        9,
      );
      expect(index, `${height} m`).toBe(Math.round(height * 1e6) % 250_000 === 0);
    }
  });

  it('arrows point down the fall, grow with grade, stand apart and leave no gap', () => {
    const spacing = READ_DEFAULTS.arrowSpacing;
    const lines = [...reading.streams.map((stream) => stream.points), ...reading.divides];
    for (const arrow of reading.arrows) {
      const { grade, fall } = at(arrow.at);
      expect(arrow.toward[0] * fall[0] + arrow.toward[1] * fall[1]).toBeGreaterThan(
        Math.cos((0.5 * Math.PI) / 180),
      );
      expect(arrow.grade).toBeCloseTo(grade, 9);
      for (let k = 1; k < arrow.path.length; k++) {
        expect(at(arrow.path[k]).height).toBeLessThan(at(arrow.path[k - 1]).height);
      }
      for (const other of reading.arrows) {
        if (other === arrow) continue;
        const apart = Math.hypot(other.at[0] - arrow.at[0], other.at[1] - arrow.at[1]);
        expect(apart).toBeGreaterThan(0.74 * spacing);
      }
    }
    for (const { at: middle, path, grade } of reading.arrows) {
      const k = path.findIndex(([x, y]) => x === middle[0] && y === middle[1]);
      expect(k).toBeGreaterThan(0);
      // From a fifth of the spacing on level ground to nine tenths at 5 % and over; half of it to either side.
      const half = (spacing * Math.min(0.9, 0.2 + 14 * grade)) / 2;
      expect(pathLength(path.slice(0, k + 1))).toBeCloseTo(half, 6);
      expect(pathLength(path.slice(k))).toBeCloseTo(half, 6);
    }
    const lengths = reading.arrows
      .map(({ grade, path }) => ({ grade, length: pathLength(path) }))
      .sort((a, b) => a.grade - b.grade);
    for (let k = 1; k < lengths.length; k++) {
      expect(lengths[k].length).toBeGreaterThan(lengths[k - 1].length - 0.02);
    }
    for (const p of samples) {
      if (signedDistanceToRing(surface.outline, ...p) > -1.6) continue;
      if (lines.some((line) => nearestLineDistance(line, p) < 1.6)) continue;
      if (at(p).grade < 0.004) continue;
      const nearest = Math.min(
        ...reading.arrows.map((arrow) => Math.hypot(arrow.at[0] - p[0], arrow.at[1] - p[1])),
      );
      expect(nearest).toBeLessThan(1.45 * spacing);
    }
  });

  it('is read the same twice, to the last bit', () => {
    expect(readGreen(surface)).toEqual(reading);
  });
});

const pathLength = (path: readonly Point[]): number => {
  let sum = 0;
  for (let k = 1; k < path.length; k++) {
    sum += Math.hypot(path[k][0] - path[k - 1][0], path[k][1] - path[k - 1][1]);
  }
  return sum;
};
