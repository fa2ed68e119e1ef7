import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';

/**
 * Files that GDAL writes from the Maunga Whau grid (87 x 61 cells of 10 m; npm vega-datasets,
 * data/volcano.json, BSD-3-Clause). The live test writes all of it anew; tests/survey/recorded holds a
 * part of 24 x 18 cells, made by these commands with the version in recorded/gdal.json.
 */

export const PART = ['-srcwin', '20', '20', '24', '18'];

/** gdal_translate's options for each file. */
export const GDAL_FILES: Readonly<Record<string, readonly string[]>> = {
  'strips-float32.tif': ['-ot', 'Float32'],
  'tiles-deflate.tif': [
    ...['-ot', 'Float32', '-co', 'COMPRESS=DEFLATE', '-co', 'PREDICTOR=3', '-co', 'TILED=YES'],
    ...['-co', 'BLOCKXSIZE=16', '-co', 'BLOCKYSIZE=16'],
  ],
  'strips-lzw.tif': ['-ot', 'Int16', '-co', 'COMPRESS=LZW', '-co', 'PREDICTOR=2'],
  'strips-zstd.tif': ['-ot', 'Float32', '-co', 'COMPRESS=ZSTD'],
  'bigtiff-packbits.tif': ['-ot', 'Float64', '-co', 'COMPRESS=PACKBITS', '-co', 'BIGTIFF=YES'],
  'grid.asc': ['-of', 'AAIGrid'],
};

export interface Volcano {
  readonly width: number;
  readonly height: number;
  readonly values: readonly number[];
}

export const volcano = (): Volcano =>
  JSON.parse(
    readFileSync(
      new URL('../../node_modules/vega-datasets/data/volcano.json', import.meta.url),
      'utf8',
    ),
  ) as Volcano;

/** The grid as an ASCII grid of ours, for GDAL to read; its lower left corner is made up. */
export const writeVolcano = (path: string): void => {
  const { width, height, values } = volcano();
  const rows = Array.from({ length: height }, (_, r) =>
    values.slice(r * width, (r + 1) * width).join(' '),
  );
  writeFileSync(
    path,
    `ncols ${width}\nnrows ${height}\nxllcorner 1756000\nyllcorner 5917000\ncellsize 10\nNODATA_value -9999\n${rows.join('\n')}\n`,
  );
};

export const gdal = (program: string, ...args: readonly string[]): string =>
  execFileSync(program, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

/** x, y, z of each cell, as GDAL's XYZ driver lists them. */
export const readXyz = (path: string): number[][] =>
  readFileSync(path, 'utf8')
    .trim()
    .split('\n')
    .map((line) => line.split(' ').map(Number));

/** gdaldem's two algorithms, by our names for them. */
export const GDALDEM = { horn: 'Horn', 'zevenbergen-thorne': 'ZevenbergenThorne' } as const;

/** Values of an ASCII grid by a reading of its own, NaN where there is no data. */
export const valuesOfAsc = (text: string): number[] => {
  const lines = text.trim().split('\n');
  const first = lines.findIndex((line) => /^\s*[-\d]/.test(line));
  const nodata = Number(/nodata_value\s+(\S+)/i.exec(text)?.[1] ?? Number.NaN);
  return lines
    .slice(first)
    .flatMap((line) => line.trim().split(/\s+/).map(Number))
    .map((v) => (v === nodata ? Number.NaN : v));
};
