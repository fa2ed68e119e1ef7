import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { readSurveyFile } from '../../src/survey/read-survey.js';
import type { Survey } from '../../src/survey/survey.js';
import { METRES_PER_US_SURVEY_FOOT } from '../../src/units.js';
import { writeLas } from './las-writer.js';

let folder = mkdtempSync(join(tmpdir(), 'runnel-beside-'));
beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  folder = mkdtempSync(join(tmpdir(), 'runnel-beside-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const put = (name: string, body: string | Uint8Array): string => {
  writeFileSync(join(folder, name), body);
  return join(folder, name);
};
const read = (path: string): Promise<Survey> => readSurveyFile(path, { source: 'survey' });

// NAD83 / Florida East (ftUS), EPSG:2236, in the ESRI form of WKT, without a code.
const FLORIDA =
  'PROJCS["NAD_1983_StatePlane_Florida_East_FIPS_0901_Feet",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",656166.6666666665],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-81.0],PARAMETER["Scale_Factor",0.9999411764705882],PARAMETER["Latitude_Of_Origin",24.33333333333333],UNIT["Foot_US",0.3048006096012192]]';
const POINTS = Array.from({ length: 12 }, (_, k) => ({
  x: 600_000 + (k % 4) * 3,
  y: 250_000 + Math.floor(k / 4) * 3,
  z: 30 + k / 8,
  group: 2,
}));

describe('a .prj beside', () => {
  const feet = (survey: Survey): void => {
    expect(survey.x[0]).toBeCloseTo(600_000 * METRES_PER_US_SURVEY_FOOT, 6);
    expect(survey.z[11]).toBeCloseTo(POINTS[11].z * METRES_PER_US_SURVEY_FOOT, 6);
    expect(survey.how).toContain('the .prj beside it states it');
    expect(survey.crs).toContain('Florida_East');
  };

  it('a text of points', async () => {
    const rows = POINTS.map(({ x, y, z }) => `${x},${y},${z}`).join('\n');
    const path = put('a.csv', `easting,northing,height\n${rows}\n`);
    expect((await read(path)).x[0]).toBe(600_000);
    put('a.prj', FLORIDA);
    feet(await read(path));
  });

  it('a cloud that states no system', async () => {
    const path = put('a.las', writeLas(POINTS));
    put('a.prj', FLORIDA);
    feet(await read(path));
  });

  it('does not change a cloud that states one, nor columns of latitude and longitude', async () => {
    const path = put('b.las', writeLas(POINTS, 32630));
    put('b.prj', FLORIDA);
    expect((await read(path)).x[0]).toBeCloseTo(600_000, 6);
    const degrees = put('c.csv', 'latitude,longitude,height\n52.1,-3.1,4\n52.1001,-3.1,5\n');
    put('c.prj', FLORIDA);
    expect((await read(degrees)).crs).toBe('EPSG:4326');
  });
});

describe('a mask beside a grid', () => {
  const grid = readFileSync(new URL('recorded/strips-float32.tif', import.meta.url));
  /** 24 x 18 cells of 8 bits in one strip (TIFF 6.0): none but those of the first row left out. */
  const mask = (width: number, height: number): Uint8Array => {
    const cells = Buffer.alloc(width * height, 255);
    cells.fill(0, 0, width);
    const entries = [
      [256, 3, width],
      [257, 3, height],
      [258, 3, 8],
      [259, 3, 1],
      [262, 3, 1],
      [273, 4, 8],
      [277, 3, 1],
      [278, 3, height],
      [279, 4, cells.length],
    ];
    const directory = Buffer.alloc(2 + 12 * entries.length + 4);
    directory.writeUInt16LE(entries.length, 0);
    entries.forEach(([tag, type, value], k) => {
      directory.writeUInt16LE(tag, 2 + 12 * k);
      directory.writeUInt16LE(type, 4 + 12 * k);
      directory.writeUInt32LE(1, 6 + 12 * k);
      directory.writeUInt32LE(value, 10 + 12 * k);
    });
    const head = Buffer.from('49492a0000000000', 'hex');
    head.writeUInt32LE(8 + cells.length, 4);
    return Buffer.concat([head, cells, directory]);
  };

  it('leaves out what it leaves out, with a note', async () => {
    const path = put('g.tif', grid);
    const whole = await read(path);
    put('g.tif.msk', mask(24, 18));
    const masked = await read(path);
    expect(masked.x.length).toBe(whole.x.length - 24);
    expect(Array.from(masked.z)).toEqual(Array.from(whole.z).slice(24));
    expect(masked.notes).toContain('passed over: 24 cells that the mask leaves out');
  });

  it('is refused when it belongs to another grid, or is none', async () => {
    const path = put('g.tif', grid);
    put('g.tif.msk', mask(20, 18));
    await expect(read(path)).rejects.toThrow(
      /survey\.msk.*20 x 18 cells and the grid 24 x 18; give the mask that belongs/,
    );
    put('g.tif.msk', 'not a picture');
    await expect(read(path)).rejects.toThrow(/^survey.*;/);
  });
});
