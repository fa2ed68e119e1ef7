import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FeatureCollection, Position } from 'geojson';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCaptured } from '../cli/run-captured.js';
import { type SmallCourse, smallCourse } from '../cli/small-course.js';

/** GDAL reads what `runnel green --geojson` writes, and finds it where the survey has it. */
describe('the GeoJSON of a green, read by GDAL', () => {
  let course: SmallCourse;
  let file: string;
  beforeAll(async () => {
    course = smallCourse([7]);
    const { code, stderr } = await runCaptured([
      'green',
      course.folder,
      '7',
      '--geojson',
      '--out',
      course.out,
    ]);
    expect(code, stderr).toBe(0);
    file = join(course.out, 'links', 'green-7.geojson');
  });
  afterAll(() => course.remove());

  it('has as many features as were written, in WGS 84', () => {
    const told = execFileSync('ogrinfo', ['-so', '-al', file], { encoding: 'utf8' });
    const { features } = JSON.parse(readFileSync(file, 'utf8')) as FeatureCollection;
    expect(told).toContain(`Feature Count: ${features.length}`);
    expect(told).toContain('ID["EPSG",4326]');
    expect(features.length).toBeGreaterThan(60);
  });

  it('keeps its areas when GDAL projects it to the survey’s system, EPSG:32625', () => {
    const projected = join(course.root, 'projected.geojson');
    execFileSync('ogr2ogr', ['-f', 'GeoJSON', '-t_srs', 'EPSG:32625', projected, file]);
    const { features } = JSON.parse(readFileSync(projected, 'utf8')) as FeatureCollection;
    let checked = 0;
    for (const { geometry, properties } of features) {
      if (geometry.type !== 'MultiPolygon' || typeof properties?.area_m2 !== 'number') continue;
      const area = geometry.coordinates.flat().reduce((sum, ring) => sum + areaOf(ring), 0);
      // Written to a tenth of a square metre; positions to eight decimals of a degree.
      expect(Math.abs(area - properties.area_m2)).toBeLessThan(0.1);
      checked++;
    }
    expect(checked).toBeGreaterThanOrEqual(3);
  });
});

/** Signed area of a closed ring; holes count against it. */
const areaOf = (ring: readonly Position[]): number => {
  let twice = 0;
  for (let k = 1; k < ring.length; k++) {
    twice +=
      (ring[k - 1][0] - ring[0][0]) * (ring[k][1] - ring[0][1]) -
      (ring[k][0] - ring[0][0]) * (ring[k - 1][1] - ring[0][1]);
  }
  return twice / 2;
};
