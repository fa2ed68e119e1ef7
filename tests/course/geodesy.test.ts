import { readFileSync } from 'node:fs';
import geographiclib from 'geographiclib-geodesic';
import { describe, expect, test } from 'vitest';
import type { LonLat } from '../../src/course/course-map.js';
import {
  alongGeodesics,
  geodesicBearing,
  geodesicDistance,
  geodesicTarget,
} from '../../src/course/geodesy.js';
import { loadCourse } from '../../src/course/load-course.js';
import { metresToYards } from '../../src/units.js';

const degrees = (d: number, m: number, s: number): number =>
  Math.sign(d) * (Math.abs(d) + m / 60 + s / 3600);

/** Great circle on a sphere of the mean radius 6371008.8 m (IUGG), by the haversine formula. */
const sphericalDistance = ([lon1, lat1]: LonLat, [lon2, lat2]: LonLat): number => {
  const rad = Math.PI / 180;
  const h =
    Math.sin(((lat2 - lat1) * rad) / 2) ** 2 +
    Math.cos(lat1 * rad) * Math.cos(lat2 * rad) * Math.sin(((lon2 - lon1) * rad) / 2) ** 2;
  return 2 * 6371008.8 * Math.asin(Math.sqrt(h));
};

describe('worked examples, within 2 cm', () => {
  test('the example in the documentation of geographiclib: Wellington to Salamanca', () => {
    expect(
      Math.abs(geodesicDistance([174.81, -41.32], [-5.5, 40.96]) - 19959679.26735),
    ).toBeLessThan(0.02);
  });

  test('Flinders Peak to Buninyong: GDA Technical Manual (Geoscience Australia / ICSM)', () => {
    const flinders: LonLat = [degrees(144, 25, 29.5244), degrees(-37, 57, 3.7203)];
    const buninyong: LonLat = [degrees(143, 55, 35.3839), degrees(-37, 39, 10.1561)];
    // The manual's figure is on GRS 80; WGS 84 differs by 0.1 mm in the semi-minor axis.
    expect(Math.abs(geodesicDistance(flinders, buninyong) - 54972.271)).toBeLessThan(0.02);
    const grs80 = new geographiclib.Geodesic.Geodesic(6378137, 1 / 298.257222101);
    const { s12, azi1 } = grs80.Inverse(flinders[1], flinders[0], buninyong[1], buninyong[0]);
    expect(Math.abs(s12! - 54972.271)).toBeLessThan(0.001);
    // Forward azimuth 306 52 05.37 in the same example.
    expect(Math.abs(((azi1! + 360) % 360) - degrees(306, 52, 5.37))).toBeLessThan(0.01 / 3600);
  });

  test('the inverse of a target is the bearing and the length', () => {
    for (const bearing of [0, 37, 90, 178, 263]) {
      const from: LonLat = [-34.2, 32.6];
      const to = geodesicTarget(from, bearing, 412.5);
      expect(geodesicDistance(from, to)).toBeCloseTo(412.5, 6);
      expect((geodesicBearing(from, to) + 360) % 360).toBeCloseTo(bearing, 6);
    }
  });

  test('over the antimeridian and near the pole, longitudes do not jump', () => {
    const [lon] = geodesicTarget([179.999, -17], 90, 500);
    expect(lon).toBeGreaterThan(180);
    expect(geodesicDistance([179.999, -17], [lon, -17])).toBeCloseTo(500, 0);
    const middle = alongGeodesics(
      [
        [20, 84],
        [20.01, 84.01],
      ],
      300,
    );
    expect(geodesicDistance([20, 84], middle)).toBeCloseTo(300, 6);
  });
});

test('lengths and bearings by another program (recorded by tests/live/course-geodesy.test.ts)', () => {
  const recorded = JSON.parse(
    readFileSync(new URL('./recorded/geod.json', import.meta.url), 'utf8'),
  ) as { rows: { from: LonLat; to: LonLat; bearing: number; metres: number }[] };
  expect(recorded.rows.length).toBeGreaterThan(50);
  for (const { from, to, bearing, metres } of recorded.rows) {
    expect(Math.abs(geodesicDistance(from, to) - metres)).toBeLessThan(1e-4);
    const turned = Math.abs(geodesicBearing(from, to) - bearing) % 360;
    expect(Math.min(turned, 360 - turned)).toBeLessThan(1e-6);
  }
});

describe('why not a sphere', () => {
  test('north and south at the latitude of the demo it is wrong by over half a yard in 250', () => {
    const from: LonLat = [-34.2, 32.6];
    const to = geodesicTarget(from, 0, 228.6);
    expect(Math.abs(metresToYards(sphericalDistance(from, to) - 228.6))).toBeGreaterThan(0.5);
    // Near the equator the error along the meridian reaches its 0.5 %: over a yard in 250.
    const equator = geodesicTarget([10, 0.5], 0, 228.6);
    expect(metresToYards(Math.abs(sphericalDistance([10, 0.5], equator) - 228.6))).toBeGreaterThan(
      1,
    );
  });

  test('the error on the holes of the demo course', () => {
    const { holes } = loadCourse(new URL('../../course-data/vellamoor', import.meta.url).pathname);
    const errors = holes.flatMap(({ site }) => {
      if (site.line === null) return [];
      const [a, b] = [site.line[0], site.line[site.line.length - 1]];
      return [Math.abs(sphericalDistance(a, b) / geodesicDistance(a, b) - 1)];
    });
    expect(Math.max(...errors)).toBeGreaterThan(0.001);
    expect(Math.max(...errors)).toBeLessThan(0.006);
  });
});
