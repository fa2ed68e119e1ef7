import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeArrayBuffer } from 'geotiff';
import type { Box } from '../../src/geometry.js';
import { readSurveysFile } from '../../src/survey/read-survey.js';
import { writeLas, writeLaz } from '../survey/las-writer.js';

/**
 * Cutting eighteen greens out of a course: a grid of 4 million cells (2000 x 2000 of 0.5 m) as GeoTIFF and
 * as ASCII grid, and a million points as CSV, LAS and LAZ. Bounds: 5 s and 1 GB for the grid. The
 * reference is one pass over the bytes of the same file.
 */

const SIDE = 2000;
const CELL = 0.5;
const X0 = 400_000;
const Y0 = 5_700_000;

const heightAt = (c: number, r: number): number =>
  40 + 3 * Math.sin(c / 170) + 2 * Math.cos(r / 130) + 0.3 * Math.sin((c + r) / 23);

const greens: Box[] = Array.from({ length: 18 }, (_, k) => {
  const minX = X0 + 60 + 150 * (k % 6);
  const minY = Y0 + 100 + 300 * Math.floor(k / 6);
  return { minX, minY, maxX: minX + 42, maxY: minY + 42 };
});

const gridTiff = (): Uint8Array => {
  const values = new Float32Array(SIDE * SIDE);
  for (let r = 0; r < SIDE; r++) {
    for (let c = 0; c < SIDE; c++) values[r * SIDE + c] = heightAt(c, r);
  }
  // The library writes arrays of plain numbers.
  return new Uint8Array(
    writeArrayBuffer(
      values as unknown as number[],
      {
        width: SIDE,
        height: SIDE,
        BitsPerSample: [32],
        SampleFormat: [3],
        SamplesPerPixel: 1,
        ModelPixelScale: [CELL, CELL, 0],
        ModelTiepoint: [0, 0, 0, X0, Y0 + SIDE * CELL, 0],
        ProjectedCSTypeGeoKey: 32630,
        GTRasterTypeGeoKey: 1,
      } as never,
    ),
  );
};

const gridText = (): string => {
  const rows: string[] = [
    `ncols ${SIDE}`,
    `nrows ${SIDE}`,
    `xllcorner ${X0}`,
    `yllcorner ${Y0}`,
    `cellsize ${CELL}`,
    'NODATA_value -9999',
  ];
  for (let r = 0; r < SIDE; r++) {
    const row: string[] = [];
    for (let c = 0; c < SIDE; c++) row.push(heightAt(c, r).toFixed(3));
    rows.push(row.join(' '));
  }
  return `${rows.join('\n')}\n`;
};

const cloud = () =>
  Array.from({ length: 1_000_000 }, (_, k) => {
    const c = (k * 2) % SIDE;
    const r = 4 * Math.floor(k / 1000) * 0.5;
    return { x: X0 + c * CELL, y: Y0 + r * CELL, z: heightAt(c, r), group: 2 };
  });

const pass = (path: string): number => {
  const start = performance.now();
  const bytes = readFileSync(path);
  let sum = 0;
  for (let i = 0; i < bytes.length; i++) sum += bytes[i];
  return sum < 0 ? 0 : performance.now() - start;
};

/** The least that reading points takes: lines split, fields turned into numbers. */
const splitOnly = (path: string): number => {
  let sum = 0;
  for (const line of readFileSync(path, 'utf8').split('\n')) {
    const [x, y, z] = line.split(',').map(Number);
    sum += x + y + z;
  }
  return sum;
};

/** Processor seconds of the faster of two passes. */
const cpuSeconds = async (work: () => unknown): Promise<number> => {
  const times: number[] = [];
  for (let k = 0; k < 2; k++) {
    const start = process.cpuUsage();
    await work();
    const { user, system } = process.cpuUsage(start);
    times.push((user + system) / 1e6);
  }
  return Math.min(...times);
};

export const run = async (): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'runnel-bench-'));
  try {
    const points = cloud();
    const files: [string, string, () => Uint8Array | string][] = [
      ['grid.tif', '4 million cells, GeoTIFF', gridTiff],
      ['grid.asc', '4 million cells, ASCII grid', gridText],
      [
        'points.csv',
        '1 million points, CSV',
        () => points.map((p) => `${p.x},${p.y},${p.z.toFixed(3)}`).join('\n'),
      ],
      ['cloud.las', '1 million points, LAS', () => writeLas(points)],
      ['cloud.laz', '1 million points, LAZ', () => writeLaz(points)],
    ];
    console.log('eighteen greens cut out of a course, in one pass');
    console.log(
      'file                          MB  points kept   seconds   one pass over the bytes   ratio   greatest memory so far',
    );
    for (const [name, words, make] of files) {
      const path = join(folder, name);
      writeFileSync(path, make());
      const reference = pass(path);
      const start = performance.now();
      const surveys = await readSurveysFile(path, { source: name }, greens);
      const taken = performance.now() - start;
      const kept = surveys.reduce((sum, survey) => sum + survey.x.length, 0);
      const size = readFileSync(path).length / 1e6;
      console.log(
        [
          words.padEnd(28),
          size.toFixed(0).padStart(4),
          String(kept).padStart(11),
          (taken / 1000).toFixed(2).padStart(9),
          `${(reference / 1000).toFixed(2)} s`.padStart(22),
          (taken / reference).toFixed(1).padStart(11),
          `${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB`.padStart(18),
        ].join(' '),
      );
      if (name === 'points.csv') {
        const [warm, plain] = [
          await cpuSeconds(() => readSurveysFile(path, { source: name }, greens)),
          await cpuSeconds(() => splitOnly(path)),
        ];
        console.log(
          `  splitting its lines and no more, both warm: ${plain.toFixed(2)} s, ratio ${(warm / plain).toFixed(1)} (bound: 2.5)`,
        );
      }
      rmSync(path);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
