import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { InputFault } from '../../src/fault.js';
import { readSurvey } from '../../src/survey/read-survey.js';
import { atDepth } from '../depth.js';
import { foreignBinaries } from './foreign-binaries.js';
import { foreignBinaryVariants } from './foreign-binary-variants.js';
import { writeLas, writeLaz } from './las-writer.js';
import { writeLayeredLaz } from './laz14-writer.js';
import { badCounts, badWords, flipped, spliced, swappedColumns, truncated } from './mutations.js';

/**
 * Damaged files: a clear line or a read of sound numbers, never a hang (the runner's time limit), a crash
 * or more than 1 GB. This file runs in a process of its own, whose greatest memory is looked at last.
 */

const recorded = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`recorded/${name}`, import.meta.url)));

const cloud = Array.from({ length: 400 }, (_, k) => ({
  x: 1000 + (k % 20) * 0.5,
  y: 2000 + Math.floor(k / 20) * 0.5,
  z: 10 + Math.sin(k / 9) / 5,
  group: k % 7 === 0 ? 1 : 2,
}));
const text = (row: (p: (typeof cloud)[number], k: number) => string): Uint8Array =>
  new TextEncoder().encode(cloud.slice(0, 60).map(row).join('\n'));

const HEAD = 400;

const TEXTS: Readonly<Record<string, Uint8Array>> = {
  'points.csv': text((p, k) => `${k},${p.x},${p.y},${p.z.toFixed(3)},gr`),
  'comma.txt': text((p) => `${p.x};${p.y};${p.z.toFixed(3)}`.replaceAll('.', ',')),
  'grid.asc': recorded('grid.asc'),
  'surface.xml': recorded('surface.xml'),
};

const BINARIES: Readonly<Record<string, Uint8Array>> = {
  'strips-float32.tif': recorded('strips-float32.tif'),
  'tiles-deflate.tif': recorded('tiles-deflate.tif'),
  'strips-lzw.tif': recorded('strips-lzw.tif'),
  'strips-zstd.tif': recorded('strips-zstd.tif'),
  // gdal_translate -co COMPRESS=LERC -co MAX_Z_ERROR=0 of strips-float32.tif, GDAL of Debian 12.
  'strips-lerc.tif': recorded('strips-lerc.tif'),
  'bigtiff-packbits.tif': recorded('bigtiff-packbits.tif'),
  'cloud.las': writeLas(cloud, 32630),
  'shore.las': recorded('shore.las'),
  'cloud.laz': writeLaz(cloud, 150),
  'layers.laz': writeLayeredLaz({ format: 7, points: cloud, chunkSize: 150 }),
};

const isSound = async (
  bytes: Uint8Array,
  source: string,
  beside: Readonly<Record<string, string>> = {},
  mask: Uint8Array | null = null,
): Promise<void> => {
  try {
    const survey = await readSurvey(bytes, { source, classes: [0, 2], beside, mask });
    expect(survey.x.length).toBeGreaterThan(0);
    expect(survey.y.length).toBe(survey.x.length);
    expect(survey.z.length).toBe(survey.x.length);
    const sound = (v: number): boolean => Number.isFinite(v) && Math.abs(v) <= 1e8;
    expect(survey.x.every(sound) && survey.y.every(sound)).toBe(true);
    expect(survey.z.every((z) => Math.abs(z) < 12_000)).toBe(true);
  } catch (error) {
    if (!(error instanceof InputFault)) throw error;
    expect(error.message).toMatch(/^[^\n\r]{10,400}$/);
  }
};

const seed = 20_260_131;

describe('damaged text files', () => {
  it.each(Object.entries(TEXTS))('%s', { tags: 'deep' }, async (name, bytes) => {
    const damage = fc.oneof(
      flipped(bytes, HEAD),
      truncated(bytes),
      spliced(bytes),
      badWords(bytes),
      swappedColumns(bytes),
    );
    await fc.assert(
      fc.asyncProperty(damage, (damaged) => isSound(damaged, name)),
      { numRuns: atDepth(50, 500), seed },
    );
  });
});

describe('damaged binary files', () => {
  it.each(Object.entries(BINARIES))('%s', { tags: 'deep' }, async (name, bytes) => {
    const damage = fc.oneof(
      flipped(bytes, HEAD),
      truncated(bytes),
      spliced(bytes),
      badCounts(bytes, HEAD),
    );
    await fc.assert(
      fc.asyncProperty(damage, (damaged) => isSound(damaged, name)),
      { numRuns: atDepth(50, 500), seed },
    );
  });
});

it('a GeoTIFF whose keys do not fit together is refused in our words, not the library’s', async () => {
  // Found by `npm run fuzz` (geotiff 2021) and shrunk.
  await expect(readSurvey(recorded('damaged-geokeys.tif'), { source: 'f.tif' })).rejects.toThrow(
    /^f\.tif: the GeoTIFF is damaged or of a kind that is not read: the keys of its coordinate system do not fit together;/,
  );
});

describe('damaged files of other formats', () => {
  const chosen = new Set([
    'workbook',
    'drawing of faces',
    'drawing of a mesh of faces',
    'drawing of contours',
    'drawing of a line in space',
    'shapefile of type 11',
    'shapefile of type 13',
    'features of points',
    'features, heights in feet by their name',
    'scan as text',
    'scan, true, true',
    'points, gzip',
    'points in an archive',
  ]);
  const files = [...foreignBinaries(), ...foreignBinaryVariants()].filter(({ name }) =>
    chosen.has(name),
  );
  it.each(files.map(({ name, bytes }) => [name, bytes] as const))(
    '%s',
    { tags: 'deep' },
    async (name, bytes) => {
      const damage = fc.oneof(
        flipped(bytes, HEAD),
        truncated(bytes),
        spliced(bytes),
        badCounts(bytes, HEAD),
        badWords(bytes),
      );
      await fc.assert(
        fc.asyncProperty(damage, (damaged) => isSound(damaged, name)),
        { numRuns: atDepth(30, 200), seed },
      );
    },
  );
});

/** Files beside a survey: the survey is whole, and they are damaged. */
const PRJ =
  'PROJCS["UTM",GEOGCS["G",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["Central_Meridian",-3.0],PARAMETER["Scale_Factor",0.9996],UNIT["Meter",1.0]]';
const TFW = '2.0\n0.0\n0.0\n-2.0\n512341.0\n5712305.0\n';
const BESIDE: readonly (readonly [string, string, string])[] = [
  ['prj', PRJ, 'shapefile of type 11'],
  ['prj', PRJ, 'grid'],
  ['tfw', TFW, 'raster not tied'],
  [
    'aux.xml',
    `<PAMDataset><SRS>${PRJ.replaceAll('"', '&quot;')}</SRS><PAMRasterBand band="1"><UnitType>ft</UnitType><NoDataValue>-9</NoDataValue></PAMRasterBand></PAMDataset>`,
    'raster not tied',
  ],
];

describe('damaged files beside a survey', () => {
  it.each(BESIDE)('%s, %#', { tags: 'deep' }, async (ending, whole, name) => {
    const bytes = new TextEncoder().encode(whole);
    const main = foreignBinaries().find((one) => one.name === name)!.bytes;
    const damage = fc.oneof(
      flipped(bytes, HEAD),
      truncated(bytes),
      spliced(bytes),
      badWords(bytes),
    );
    await fc.assert(
      fc.asyncProperty(damage, (damaged) =>
        isSound(main, name, { tfw: TFW, [ending]: new TextDecoder().decode(damaged) }),
      ),
      { numRuns: atDepth(30, 300), seed },
    );
  });

  it('a mask', { tags: 'deep' }, async () => {
    const main = recorded('strips-float32.tif');
    const mask = recorded('tiles-deflate.tif');
    const damage = fc.oneof(flipped(mask, HEAD), truncated(mask), badCounts(mask, HEAD));
    await fc.assert(
      fc.asyncProperty(damage, (damaged) => isSound(main, 'masked.tif', {}, damaged)),
      { numRuns: atDepth(30, 300), seed },
    );
  });
});

afterAll(() => {
  // Kilobytes, on Linux and macOS alike in Node 20.
  expect(process.resourceUsage().maxRSS).toBeLessThan(1024 * 1024);
});
