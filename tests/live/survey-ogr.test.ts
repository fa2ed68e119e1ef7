import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { planeFor } from '../../src/survey/crs/plane.js';
import { readSurveyFile } from '../../src/survey/read-survey.js';

/** Points and lines written by OGR (Debian: gdal-bin) in each format that both read, against what went in. */
let folder: string;
const at = (name: string): string => join(folder, name);
const points = Array.from({ length: 40 }, (_, k) => [
  500_100 + ((k * 37) % 61) * 0.5,
  5_800_200 + ((k * 53) % 67) * 0.5,
  50 + ((k * 29) % 31) / 16,
]);
const ogr = (...args: string[]): void => {
  execFileSync('ogr2ogr', ['-q', ...args], { stdio: ['ignore', 'ignore', 'ignore'] });
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-ogr-'));
  writeFileSync(at('pts.csv'), `x;y;z\n${points.map((p) => p.join(';')).join('\n')}\n`);
  writeFileSync(
    at('in.vrt'),
    '<OGRVRTDataSource><OGRVRTLayer name="pts"><SrcDataSource relativeToVRT="1">pts.csv</SrcDataSource><GeometryType>wkbPoint25D</GeometryType><LayerSRS>EPSG:32630</LayerSRS><GeometryField encoding="PointFromColumns" x="x" y="y" z="z"/></OGRVRTLayer></OGRVRTDataSource>',
  );
  ogr('-f', 'ESRI Shapefile', at('p.shp'), at('in.vrt'));
  ogr('-f', 'DXF', at('p.dxf'), at('in.vrt'));
  ogr('-f', 'XLSX', at('p.xlsx'), at('in.vrt'));
  ogr('-f', 'CSV', at('p.csv'), at('in.vrt'), '-lco', 'SEPARATOR=TAB');
  ogr(
    '-f',
    'GeoJSON',
    '-t_srs',
    'EPSG:4326',
    '-lco',
    'COORDINATE_PRECISION=11',
    at('p.geojson'),
    at('in.vrt'),
  );
  for (const format of ['KML', 'GPKG', 'ODS', 'GML'])
    ogr('-f', format, at(`p.${format.toLowerCase()}`), at('in.vrt'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('files written by OGR', () => {
  it.each(['p.shp', 'p.dxf', 'p.xlsx', 'p.csv', 'p.geojson'])('%s', async (name) => {
    const plane = name === 'p.geojson' ? planeFor('EPSG:32630', [-3, 52.35]) : null;
    const survey = await readSurveyFile(at(name), { source: name, plane });
    expect(survey.x.length).toBe(points.length);
    points.forEach(([x, y, z], k) => {
      expect(Math.abs(survey.x[k] - x)).toBeLessThan(1e-4);
      expect(Math.abs(survey.y[k] - y)).toBeLessThan(1e-4);
      expect(Math.abs(survey.z[k] - z)).toBeLessThan(1e-4);
    });
  });

  it.each([
    ['p.kml', /KML.*not read; /],
    ['p.gpkg', /GeoPackage.*not read; /],
    ['p.ods', /ODS.*not read; /],
    ['p.gml', /GML.*not read; /],
  ])('%s is refused by its name', async (name, words) => {
    await expect(readSurveyFile(at(name), { source: name })).rejects.toThrow(words);
  });
});

describe('a grid packed by LERC', () => {
  it.each(['LERC', 'LERC_DEFLATE', 'LERC_ZSTD'])('%s', async (compression) => {
    writeFileSync(
      at('g.asc'),
      `ncols 40\nnrows 30\nxllcorner 0\nyllcorner 0\ncellsize 1\n${Array.from({ length: 1200 }, (_, k) => (k % 97) / 8).join(' ')}\n`,
    );
    execFileSync('gdal_translate', [
      '-q',
      '-co',
      `COMPRESS=${compression}`,
      '-co',
      'MAX_Z_ERROR=0',
      at('g.asc'),
      at('g.tif'),
    ]);
    const then = await readSurveyFile(at('g.asc'), { source: 'g.asc' });
    const now = await readSurveyFile(at('g.tif'), { source: 'g.tif' });
    expect(now.z).toEqual(then.z);
  });
});
