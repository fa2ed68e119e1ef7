import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { ringOf } from '../../src/course/hole-site.js';
import { loadCourse } from '../../src/course/load-course.js';
import { readMap } from '../../src/course/read-map.js';
import { asOsmXml } from '../course/osm-writer.js';

/** Maps read, and written, by GDAL (Debian: gdal-bin). */
const demo = new URL('../../course-data/vellamoor', import.meta.url).pathname;
const geoJson = readFileSync(`${demo}/map.geojson`, 'utf8');
const folder = mkdtempSync(join(tmpdir(), 'map-gdal-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const ogr2ogr = (...args: string[]): void => {
  execFileSync('ogr2ogr', args, { stdio: ['ignore', 'ignore', 'pipe'] });
};

describe('the demo map', () => {
  test('GDAL reads every feature of it', () => {
    const said = execFileSync('ogrinfo', ['-ro', '-so', '-al', `${demo}/map.geojson`], {
      encoding: 'utf8',
    });
    const count = (JSON.parse(geoJson) as { features: unknown[] }).features.length;
    expect(said).toContain(`Feature Count: ${count}`);
    expect(said).toMatch(/WGS 84/);
  });

  test('written anew by GDAL as RFC 7946, it is the same map', () => {
    const file = join(folder, 'again.geojson');
    ogr2ogr(
      '-f',
      'GeoJSON',
      '-lco',
      'RFC7946=YES',
      '-lco',
      'COORDINATE_PRECISION=9',
      file,
      `${demo}/map.geojson`,
    );
    const again = readMap(readFileSync(file, 'utf8'), file);
    const own = readMap(geoJson, 'map.geojson');
    expect(again.features.length).toBe(own.features.length);
    own.features.forEach((feature, i) => {
      expect(again.features[i].kind).toBe(feature.kind);
      expect(again.features[i].refs).toEqual(feature.refs);
      ringOf(feature).forEach((at, k) => {
        // GDAL rounds to 1e-8 degree again: a millimetre.
        const other = ringOf(again.features[i])[k];
        expect(Math.hypot(other[0] - at[0], other[1] - at[1])).toBeLessThan(1.5e-8);
      });
    });
  });

  test('its greens, projected by GDAL, are the outlines that the course file gives', () => {
    const file = join(folder, 'utm.geojson');
    ogr2ogr(
      '-f',
      'GeoJSON',
      '-t_srs',
      'EPSG:32625',
      '-lco',
      'RFC7946=NO',
      '-lco',
      'COORDINATE_PRECISION=4',
      '-where',
      "golf='green'",
      file,
      `${demo}/map.geojson`,
    );
    const { features } = JSON.parse(readFileSync(file, 'utf8')) as {
      features: { properties: { ref: string }; geometry: { coordinates: [number, number][][] } }[];
    };
    const course = loadCourse(demo);
    expect(features.length).toBe(19);
    for (const { properties, geometry } of features) {
      const { outline } = course.holes.find((hole) => hole.id === properties.ref)!.green!;
      const theirs = geometry.coordinates[0].slice(0, -1);
      expect(theirs.length).toBe(outline.length);
      // GDAL may turn the ring; each point must be there, to a millimetre.
      for (const [x, y] of outline) {
        const off = Math.min(...theirs.map(([u, v]) => Math.hypot(u - x, v - y)));
        expect(off).toBeLessThan(0.001);
      }
    }
  });
});

test('GDAL and our reader find the same golf features in OpenStreetMap XML', () => {
  const osm = join(folder, 'map.osm');
  writeFileSync(osm, asOsmXml(geoJson));
  const theirs: string[] = [];
  for (const layer of ['lines', 'multipolygons']) {
    const file = join(folder, `${layer}.geojson`);
    ogr2ogr('-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=8', file, osm, layer);
    const { features } = JSON.parse(readFileSync(file, 'utf8')) as {
      features: { properties: Record<string, string | null>; geometry: { coordinates: unknown } }[];
    };
    for (const { properties } of features) {
      const id = properties.osm_way_id ?? properties.osm_id;
      theirs.push(`way/${id}`);
    }
  }
  const ours = readMap(readFileSync(osm, 'utf8'), osm)
    .features.filter((one) => one.id.startsWith('way/'))
    .map((one) => one.id);
  expect(ours.sort()).toEqual(theirs.sort());
});
