import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { coordinateSystem } from '../../src/survey/crs/plane.js';
import { readSurveyFile, readSurveysFile } from '../../src/survey/read-survey.js';
import {
  GDAL_FILES,
  GDALDEM,
  gdal,
  PART,
  readXyz,
  valuesOfAsc,
  volcano,
  writeVolcano,
} from '../survey/gdal-files.js';
import { aspectOf, type WindowMethod, windowGradient } from '../terrain/window-slope.js';

/** Set to write tests/survey/recorded anew instead of comparing with it. */
const RECORD = process.env.RUNNEL_RECORD !== undefined;
const recorded = new URL('../survey/recorded/', import.meta.url).pathname;

let folder: string;
const at = (name: string): string => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'runnel-gdal-'));
  writeVolcano(at('volcano.asc'));
  gdal('gdal_translate', '-q', '-of', 'XYZ', at('volcano.asc'), at('all.xyz'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const translate = (name: string, options: readonly string[], from = 'volcano.asc'): string => {
  gdal('gdal_translate', '-q', '-a_srs', 'EPSG:2193', ...options, at(from), at(name));
  return at(name);
};

describe('files written by GDAL', () => {
  it.each([
    ...Object.entries(GDAL_FILES),
    ['deflate.tif', ['-ot', 'Float64', '-co', 'COMPRESS=DEFLATE', '-co', 'PREDICTOR=3']],
    ['big-endian.tif', ['-ot', 'Float32', '-co', 'ENDIANNESS=BIG', '-co', 'COMPRESS=LZW']],
    ['words.tif', ['-ot', 'UInt16', '-co', 'COMPRESS=PACKBITS']],
    ['lerc.tif', ['-ot', 'Float32', '-co', 'COMPRESS=LERC', '-co', 'MAX_Z_ERROR=0']],
  ] as [string, readonly string[]][])('%s: every cell at its place', async (name, options) => {
    const survey = await readSurveyFile(translate(name, options), { source: name });
    const cells = readXyz(at('all.xyz'));
    expect(survey.x.length).toBe(cells.length);
    let worst = 0;
    cells.forEach(([x, y, z], k) => {
      worst = Math.max(
        worst,
        Math.abs(survey.x[k] - x),
        Math.abs(survey.y[k] - y),
        Math.abs(survey.z[k] - z),
      );
    });
    expect(worst).toBe(0);
    expect(survey.cellSize).toBe(10);
  });

  it('heeds pixel-is-point, nodata, and scale and offset', async () => {
    const point = translate('point.tif', ['-ot', 'Float32', '-mo', 'AREA_OR_POINT=Point']);
    const cells = readXyz(at('all.xyz'));
    const byPoint = await readSurveyFile(point, { source: 'point.tif' });
    expect([byPoint.x[0], byPoint.y[0]]).toEqual(cells[0].slice(0, 2));

    const holes = translate('holes.tif', ['-ot', 'Float32', '-a_nodata', '103']);
    const without = await readSurveyFile(holes, { source: 'holes.tif' });
    expect(without.x.length).toBe(cells.filter(([, , z]) => z !== 103).length);
    expect(without.z.includes(103)).toBe(false);

    const scaled = translate('scaled.tif', ['-ot', 'Int16', '-a_scale', '0.5', '-a_offset', '5']);
    const heights = await readSurveyFile(scaled, { source: 'scaled.tif' });
    expect([...heights.z.slice(0, 50)]).toEqual(cells.slice(0, 50).map(([, , z]) => z * 0.5 + 5));
  });

  it('takes the first of several bands, however they are laid out', async () => {
    const high = translate('high.tif', ['-ot', 'Float32', '-scale', '0', '1', '1000', '1001']);
    const low = translate('low.tif', ['-ot', 'Float32']);
    gdal('gdalbuildvrt', '-q', '-separate', at('two.vrt'), low, high);
    const whole = await readSurveyFile(low, { source: 'low.tif' });
    for (const layout of ['PIXEL', 'BAND']) {
      for (const compress of ['NONE', 'DEFLATE']) {
        const two = translate(
          'two.tif',
          ['-co', `INTERLEAVE=${layout}`, '-co', `COMPRESS=${compress}`, '-co', 'TILED=YES'],
          'two.vrt',
        );
        const survey = await readSurveyFile(two, { source: 'two.tif' });
        expect(survey.z).toEqual(whole.z);
        expect(survey.notes).toEqual(['2 bands: the first is taken as the height']);
      }
    }
  });

  it('lays a grid in longitude and latitude out on the ground, as gdaltransform does', async () => {
    const low = translate('low.tif', ['-ot', 'Float32']);
    gdal('gdalwarp', '-q', '-t_srs', 'EPSG:4326', '-dstnodata', '-9999', low, at('degrees.tif'));
    const survey = await readSurveyFile(at('degrees.tif'), { source: 'degrees.tif' });
    gdal('gdal_translate', '-q', '-of', 'XYZ', at('degrees.tif'), at('degrees.xyz'));
    const all = readXyz(at('degrees.xyz'));
    const cells = all.filter(([, , z]) => z !== -9999);
    // The frame is centred on the middle of the grid, to a thousandth of a degree.
    const [longitude, latitude] = [0, 1].map((k) => {
      const values = all.map((cell) => cell[k]);
      const middle = values.reduce((a, b) => a + b) / values.length;
      return Math.round(middle * 1000) / 1000;
    });
    writeFileSync(at('ask.txt'), cells.map(([x, y]) => `${x} ${y}`).join('\n'));
    const frame = `+proj=tmerc +lat_0=${latitude} +lon_0=${longitude} +datum=WGS84`;
    const lines = gdal(
      'sh',
      '-c',
      `gdaltransform -s_srs EPSG:4326 -t_srs '${frame}' < ${at('ask.txt')}`,
    )
      .trim()
      .split('\n');
    expect(survey.x.length).toBe(cells.length);
    lines.forEach((line, k) => {
      const [x, y] = line.split(' ').map(Number);
      expect(Math.hypot(survey.x[k] - x, survey.y[k] - y)).toBeLessThan(0.001);
    });
  });

  it('refuses what is not a grid of heights, or is packed in a way that is not read', async () => {
    const cases: [readonly string[], RegExp][] = [
      [['-ot', 'Byte', '-b', '1', '-b', '1', '-b', '1'], /a colour picture/],
      [['-ot', 'Byte'], /8 bits are a picture or a hillshade/],
      [['-ot', 'Byte', '-co', 'COMPRESS=JPEG'], /compression 7 is not read/],
      [
        ['-ot', 'Int16', '-co', 'COMPRESS=LZW', '-co', 'PREDICTOR=2', '-co', 'ENDIANNESS=BIG'],
        /big-endian file with the horizontal predictor/,
      ],
      [['-ot', 'CFloat32'], /samples of 64 bits in format 6/],
    ];
    for (const [options, message] of cases) {
      const file = translate('no.tif', options);
      await expect(readSurveyFile(file, { source: 'no.tif' })).rejects.toThrow(message);
    }
  });

  it('cuts the same window out of each as gdal_translate -projwin', async () => {
    const box = { minX: 1_756_200, minY: 5_917_200, maxX: 1_756_300, maxY: 5_917_270 };
    gdal(
      'gdal_translate',
      ...['-q', '-of', 'XYZ', '-projwin'],
      ...[box.minX, box.maxY, box.maxX, box.minY].map(String),
      at('volcano.asc'),
      at('window.xyz'),
    );
    const cells = readXyz(at('window.xyz'));
    for (const [name, options] of Object.entries(GDAL_FILES)) {
      const file = translate(name, options);
      const [survey] = await readSurveysFile(file, { source: name }, [box]);
      expect([...survey.z]).toEqual(cells.map(([, , z]) => z));
      expect([...survey.x]).toEqual(cells.map(([x]) => x));
    }
  });

  it('turns a grid to another system as gdaltransform does', async () => {
    const file = translate('strips-float32.tif', ['-ot', 'Float32']);
    const utm = coordinateSystem('EPSG:32760');
    const plane = {
      name: 'EPSG:32760',
      definition: utm.definition,
      toPlane: utm.project,
      toMap: utm.unproject,
    };
    const survey = await readSurveyFile(file, { source: 'x.tif', plane });
    const cells = readXyz(at('all.xyz'));
    writeFileSync(at('ask.txt'), cells.map(([x, y]) => `${x} ${y}`).join('\n'));
    const answer = gdal(
      'sh',
      '-c',
      `gdaltransform -s_srs EPSG:2193 -t_srs EPSG:32760 < ${at('ask.txt')}`,
    );
    answer
      .trim()
      .split('\n')
      .forEach((line, k) => {
        const [x, y] = line.split(' ').map(Number);
        expect(Math.hypot(survey.x[k] - x, survey.y[k] - y)).toBeLessThan(0.001);
      });
  });
});

describe('slope and aspect of the Maunga Whau grid', () => {
  const { width, height, values } = volcano();
  const grid = { columns: width, rows: height, cellSize: 10, z: values };

  it.each(Object.entries(GDALDEM) as [WindowMethod, string][])(
    '%s: as gdaldem, to the rounding of its 32-bit result',
    (method, algorithm) => {
      const run = (mode: string, ...more: string[]): number[] => {
        gdal('gdaldem', mode, at('volcano.asc'), at('dem.tif'), '-q', '-alg', algorithm, ...more);
        gdal(
          'gdal_translate',
          ...['-q', '-of', 'AAIGrid', '-co', 'SIGNIFICANT_DIGITS=12'],
          at('dem.tif'),
          at('dem.asc'),
        );
        return valuesOfAsc(readFileSync(at('dem.asc'), 'utf8'));
      };
      const degrees = run('slope');
      const percent = run('slope', '-p');
      const aspect = run('aspect');
      let inside = 0;
      for (let row = 0; row < height; row++) {
        for (let column = 0; column < width; column++) {
          const k = row * width + column;
          const gradient = windowGradient(grid, column, row, method);
          if (gradient === null) {
            expect(degrees[k]).toBeNaN();
            continue;
          }
          inside += 1;
          const grade = Math.hypot(...gradient);
          // 2^-23 is the step of a 32-bit float at 1; two of them cover both roundings.
          expect(Math.abs(100 * grade - percent[k])).toBeLessThanOrEqual(
            2 ** -22 * (1 + percent[k]),
          );
          const angle = (Math.atan(grade) * 180) / Math.PI;
          expect(Math.abs(angle - degrees[k])).toBeLessThanOrEqual(2 ** -22 * (1 + degrees[k]));
          const azimuth = aspectOf(gradient);
          if (azimuth === null) expect(aspect[k]).toBeNaN();
          else {
            const apart = Math.abs(azimuth - aspect[k]) % 360;
            expect(Math.min(apart, 360 - apart)).toBeLessThanOrEqual(2 ** -22 * 361);
          }
        }
      }
      expect(inside).toBe((width - 2) * (height - 2));
    },
  );
});

describe('what npm test checks against', () => {
  it('the recorded files are what GDAL writes now', async () => {
    for (const [name, options] of Object.entries(GDAL_FILES)) {
      const file = translate(`part-${name}`, [...PART, ...options]);
      if (RECORD) writeFileSync(join(recorded, name), readFileSync(file));
      const now = await readSurveyFile(file, { source: name });
      const then = await readSurveyFile(join(recorded, name), { source: name });
      expect([...now.x, ...now.y, ...now.z]).toEqual([...then.x, ...then.y, ...then.z]);
    }
    gdal('gdal_translate', '-q', ...PART, at('volcano.asc'), at('part.tif'));
    const results: Record<string, number[]> = {};
    for (const [method, algorithm] of Object.entries(GDALDEM)) {
      for (const mode of ['slope', 'aspect']) {
        gdal('gdaldem', mode, at('part.tif'), at('dem.tif'), '-q', '-alg', algorithm);
        gdal(
          'gdal_translate',
          ...['-q', '-of', 'AAIGrid', '-co', 'SIGNIFICANT_DIGITS=9'],
          at('dem.tif'),
          at('dem.asc'),
        );
        results[`${method} ${mode}`] = valuesOfAsc(readFileSync(at('dem.asc'), 'utf8'));
      }
    }
    const path = join(recorded, 'gdaldem.json');
    if (RECORD) {
      writeFileSync(
        path,
        `${JSON.stringify({
          source: 'Maunga Whau grid (npm vega-datasets, data/volcano.json)',
          made: [
            `gdal_translate ${PART.join(' ')} volcano.asc part.tif`,
            'gdaldem slope|aspect part.tif dem.tif -alg Horn|ZevenbergenThorne',
          ],
          version: gdal('gdal_translate', '--version').trim(),
          columns: 24,
          rows: 18,
          ...results,
        })}\n`,
      );
    }
    const then = JSON.parse(readFileSync(path, 'utf8')) as Record<string, (number | null)[]>;
    for (const [key, list] of Object.entries(results)) {
      expect(list.map((v) => (Number.isNaN(v) ? null : v))).toEqual(then[key]);
    }
  });
});
