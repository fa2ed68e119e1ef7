import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSurvey, readSurveyFile } from '../../src/survey/read-survey.js';
import type { Survey } from '../../src/survey/survey.js';
import { foreignBinaries } from '../survey/foreign-binaries.js';
import { foreignBinaryVariants } from '../survey/foreign-binary-variants.js';
import { gdal, readXyz } from '../survey/gdal-files.js';

/** Files in formats that GDAL and OGR read too: points, count, extent and units as they have them. */
let folder: string;
const at = (name: string): string => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-foreign-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const US = 1200 / 3937;
type Spot = readonly [number, number, number];

/** All positions of a file by OGR, those that close a ring left out. */
const byOgr = (file: string, ...more: string[]): Spot[] => {
  const text = execFileSync(
    'ogr2ogr',
    ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=9', '/vsistdout/', file, ...more],
    {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      env: { ...process.env, SHAPE_RESTORE_SHX: 'YES' },
    },
  );
  const spots: Spot[] = [];
  const take = (value: unknown, isRing: boolean): void => {
    const list = value as unknown[];
    if (typeof list[0] === 'number') spots.push(list as unknown as Spot);
    else {
      const closes = isRing && list.length > 3 && String(list[0]) === String(list.at(-1));
      for (const one of closes ? list.slice(0, -1) : list) take(one, isRing);
    }
  };
  const walk = (geometry: {
    type: string;
    coordinates?: unknown;
    geometries?: unknown[];
  }): void => {
    for (const one of geometry.geometries ?? []) walk(one as typeof geometry);
    if (geometry.coordinates !== undefined)
      take(geometry.coordinates, /Polygon/.test(geometry.type));
  };
  for (const { geometry } of JSON.parse(text).features) if (geometry !== null) walk(geometry);
  return spots;
};

/** The file's positions and ours, to 0.1 mm, however they are ordered; a point may be named more than once. */
const expectSame = (survey: Survey, spots: readonly Spot[], across = 1, up = across): void => {
  const key = ([x, y, z]: Spot): string => [x, y, z].map((v) => Math.round(v * 2000)).join(' ');
  const near = (spot: Spot): string[] =>
    [-1, 0, 1].flatMap((dx) =>
      [-1, 0, 1].flatMap((dy) =>
        [-1, 0, 1].map((dz) =>
          [dx, dy, dz].map((d, k) => Math.round(spot[k] * 2000) + d).join(' '),
        ),
      ),
    );
  const ours = Array.from(survey.x, (x, k): Spot => [x, survey.y[k], survey.z[k]]);
  const theirs = spots.map(([x, y, z]): Spot => [x * across, y * across, z * up]);
  expect(spots.length).toBeGreaterThan(3);
  const [mine, other] = [new Set(ours.map(key)), new Set(theirs.map(key))];
  expect(theirs.filter((spot) => !near(spot).some((one) => mine.has(one)))).toEqual([]);
  expect(ours.filter((spot) => !near(spot).some((one) => other.has(one)))).toEqual([]);
  const extent = (list: readonly Spot[]): number[] =>
    [0, 1, 2].flatMap((k) => [
      Math.min(...list.map((s) => s[k])),
      Math.max(...list.map((s) => s[k])),
    ]);
  extent(ours).forEach((v, k) => {
    expect(Math.abs(v - extent(theirs)[k])).toBeLessThan(1e-4);
  });
};

describe('files of the corpus', () => {
  const all = [...foreignBinaries(), ...foreignBinaryVariants()];
  const named = (name: string) => all.find((one) => one.name === name)!;

  it.each([
    ['shapefile of type 11', 'shp', true],
    ['shapefile of type 13', 'shp', false],
    ['shapefile of type 15', 'shp', false],
    ['shapefile of type 18', 'shp', true],
    ['shapefile with a null shape', 'shp', true],
    ['drawing of points', 'dxf', true],
    ['drawing with CR LF', 'dxf', true],
    ['drawing of faces', 'dxf', false],
    ['drawing of a line in space', 'dxf', true],
    ['drawing of straight lines', 'dxf', false],
    ['drawing of contours', 'dxf', true],
    ['features of points', 'geojson', true],
    ['one feature of many points', 'geojson', true],
    ['a line in space', 'geojson', true],
    ['features of triangles', 'geojson', true],
    ['a collection of geometries', 'geojson', true],
    ['features, some without a place', 'geojson', true],
  ])('%s', async (name, ending, counts) => {
    const file = at(`${name.replaceAll(/[ ,]/g, '-')}.${ending}`);
    writeFileSync(file, named(name).bytes);
    const survey = await readSurveyFile(file, { source: name });
    const spots = byOgr(file);
    expectSame(survey, spots);
    if (counts) expect(survey.x.length).toBe(spots.length);
  });

  it.each([
    'raster',
    'raster of doubles',
    'raster in a system',
    'raster of scaled numbers',
    'raster, heights in feet',
    'raster, heights by their unit type',
    'grid',
    'grid by centres',
    'grid with two sizes of cells',
    'grid with cells that are not square',
  ])('%s', async (name) => {
    const file = at(`${name.replaceAll(/[ ,]/g, '-')}.${name.startsWith('grid') ? 'asc' : 'tif'}`);
    writeFileSync(file, named(name).bytes);
    const survey = await readSurvey(named(name).bytes, { source: name });
    gdal('gdal_translate', '-q', '-of', 'XYZ', '-unscale', '-ot', 'Float64', file, at('c.xyz'));
    const unit = /Unit Type: (.*)/.exec(gdal('gdalinfo', file))?.[1] ?? 'metre';
    const up = /survey/i.test(unit) ? US : /^(?:ft|foot|feet)/i.test(unit) ? 0.3048 : 1;
    const cells = readXyz(at('c.xyz')) as unknown as Spot[];
    expectSame(survey, cells, 1, up);
    expect(survey.x.length).toBe(cells.length);
  });
});

describe('units as GDAL writes them', () => {
  const grid = (x = 500_000, y = 5_800_000): string => {
    const corner = `ncols 4\nnrows 3\nxllcorner ${x}\nyllcorner ${y}\ncellsize 10\n`;
    writeFileSync(
      at('u.asc'),
      `${corner}${Array.from({ length: 12 }, (_, k) => 50.5 + k / 8).join(' ')}\n`,
    );
    return at('u.asc');
  };

  it.each([
    ['EPSG:2263', US, US, 980_000, 199_000],
    ['EPSG:2263+6360', US, US, 980_000, 199_000],
    ['EPSG:2263+5703', US, 1, 980_000, 199_000],
    ['EPSG:32630+8228', 1, 0.3048, 500_000, 5_800_000],
    ['EPSG:32630+6360', 1, US, 500_000, 5_800_000],
    ['EPSG:27700+5701', 1, 1, 400_000, 300_000],
    ['EPSG:2222', 0.3048, 0.3048, 700_000, 1_000_000],
  ])('a grid in %s', async (system, across, up, x, y) => {
    gdal('gdal_translate', '-q', '-ot', 'Float64', '-a_srs', system, grid(x, y), at('u.tif'));
    gdal('gdal_translate', '-q', '-of', 'XYZ', at('u.tif'), at('u.xyz'));
    const wkt = gdal('gdalsrsinfo', '-o', 'wkt1', at('u.tif'));
    const units = [...wkt.matchAll(/UNIT\["[^"]*",([\d.]+)/g)].map((m) => Number(m[1]));
    // The factors of the table above are GDAL's own; the vertical one stands last where there is one.
    expect(units.some((u) => Math.abs(u - across) < 1e-7)).toBe(true);
    if (system.includes('+')) expect(units.at(-1)).toBeCloseTo(up, 7);
    const cells = readXyz(at('u.xyz')) as unknown as Spot[];
    expectSame(await readSurveyFile(at('u.tif'), { source: 'u.tif' }), cells, across, up);
  });

  it.each(['ft', 'US survey foot', 'metre', 'm'])('heights in %s by the band', async (unit) => {
    gdal(
      'gdal_translate',
      '-q',
      '-of',
      'VRT',
      '-ot',
      'Float64',
      '-a_srs',
      'EPSG:32630',
      grid(),
      at('u.vrt'),
    );
    const vrt = gdal('cat', at('u.vrt')).replace(
      /(<VRTRasterBand[^>]*>)/,
      `$1<UnitType>${unit}</UnitType>`,
    );
    writeFileSync(at('u.vrt'), vrt);
    gdal('gdal_translate', '-q', at('u.vrt'), at('b.tif'));
    expect(gdal('gdalinfo', at('b.tif'))).toContain(`Unit Type: ${unit}`);
    gdal('gdal_translate', '-q', '-of', 'XYZ', at('b.tif'), at('b.xyz'));
    const up = unit === 'ft' ? 0.3048 : unit.startsWith('US') ? US : 1;
    const cells = readXyz(at('b.xyz')) as unknown as Spot[];
    expectSame(await readSurveyFile(at('b.tif'), { source: 'b.tif' }), cells, 1, up);
  });

  it.each(['shp', 'geojson'])('points in feet as %s', async (ending) => {
    const rows = Array.from(
      { length: 9 },
      (_, k) => `${980_000 + 7 * k};${199_000 + 11 * k};${50 + k / 4}`,
    );
    writeFileSync(at('f.csv'), `x;y;z\n${rows.join('\n')}\n`);
    writeFileSync(
      at('f.vrt'),
      '<OGRVRTDataSource><OGRVRTLayer name="f"><SrcDataSource relativeToVRT="1">f.csv</SrcDataSource><GeometryType>wkbPoint25D</GeometryType><LayerSRS>EPSG:2263</LayerSRS><GeometryField encoding="PointFromColumns" x="x" y="y" z="z"/></OGRVRTLayer></OGRVRTDataSource>',
    );
    const format = ending === 'shp' ? 'ESRI Shapefile' : 'GeoJSON';
    gdal('ogr2ogr', '-f', format, at(`f.${ending}`), at('f.vrt'));
    const survey = await readSurveyFile(at(`f.${ending}`), { source: `f.${ending}` });
    expectSame(survey, byOgr(at(`f.${ending}`)), US);
    expect(survey.x.length).toBe(9);
  });

  it('a mask inside the file hides what GDAL hides', async () => {
    const file = grid();
    gdal('gdal_translate', '-q', '-ot', 'Float32', '-a_nodata', '51', file, at('n.tif'));
    gdal(
      'gdal_translate',
      '-q',
      '--config',
      'GDAL_TIFF_INTERNAL_MASK',
      'YES',
      '-mask',
      'mask,1',
      '-a_nodata',
      'none',
      at('n.tif'),
      at('m.tif'),
    );
    expect(gdal('gdalinfo', at('m.tif'))).toMatch(/Mask Flags: PER_DATASET/);
    const survey = await readSurveyFile(at('m.tif'), { source: 'm.tif' });
    gdal('gdal_translate', '-q', '-of', 'XYZ', at('m.tif'), at('m.xyz'));
    const cells = readXyz(at('m.xyz')) as unknown as Spot[];
    expect(cells.length).toBe(12);
    expect(survey.x.length).toBe(11);
    expectSame(
      survey,
      cells.filter(([, , z]) => z !== 51),
    );
  });
});
