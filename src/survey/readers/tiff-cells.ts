import type { GeoTIFFImage } from 'geotiff';
import type { CellRanges } from './grid-shape.js';
import { isNoDataValue } from './text-number.js';

/** Some rows of the grid, as far as they are wanted: their values, and the mask's where there is one. */
interface Strip {
  readonly from: number;
  readonly to: number;
  readonly left: number;
  readonly width: number;
  readonly values: ArrayLike<number>;
  readonly covered: ArrayLike<number> | null;
}

/** The first and last column that is wanted in any of some rows; null for none. */
const columnsOf = (
  ranges: CellRanges,
  from: number,
  to: number,
): readonly [number, number] | null => {
  let span: readonly [number, number] | null = null;
  for (let row = from; row <= to; row++) {
    const inRow = ranges.inRow(row);
    if (inRow === null) continue;
    span = span === null ? inRow : [Math.min(span[0], inRow[0]), Math.max(span[1], inRow[1])];
  }
  return span;
};

/** Reads what is wanted, a row of blocks at a time. */
export const stripsOf = async function* (
  image: GeoTIFFImage,
  mask: GeoTIFFImage | null,
  band: number,
  ranges: CellRanges,
): AsyncGenerator<Strip> {
  const step = image.getTileHeight();
  const firstRow = Math.min(...ranges.blocks.map((block) => block.firstRow));
  const lastRow = Math.max(...ranges.blocks.map((block) => block.lastRow));
  for (let top = Math.floor(firstRow / step) * step; top <= lastRow; top += step) {
    const from = Math.max(top, firstRow);
    const to = Math.min(top + step - 1, lastRow);
    const span = columnsOf(ranges, from, to);
    if (span === null) continue;
    const [left, right] = span;
    const window = [left, from, right + 1, to + 1];
    const read = async (of: GeoTIFFImage, sample: number): Promise<ArrayLike<number>> =>
      (await of.readRasters({
        window,
        samples: [sample],
        interleave: true,
      })) as ArrayLike<number>;
    const values = await read(image, band - 1);
    const covered = mask === null ? null : await read(mask, 0);
    yield { from, to, left, width: right - left + 1, values, covered };
  }
};

/** How the numbers of the band are heights. */
export const heightsOf = (image: GeoTIFFImage, metadata: Readonly<Record<string, unknown>>) => {
  const nodata = image.getGDALNoData();
  const factor = metadata.SCALE === undefined ? 1 : Number(metadata.SCALE);
  const shift = metadata.OFFSET === undefined ? 0 : Number(metadata.OFFSET);
  return {
    isData: (value: number): boolean =>
      !Number.isNaN(value) &&
      (nodata === null || value !== Math.fround(nodata)) &&
      value !== nodata,
    of: (value: number): number => value * factor + shift,
  };
};

/** Cells that are no heights though the grid does not say so of them. */
export interface PassedOver {
  masked: number;
  undeclared: number;
}

export const takeStrip = (
  strip: Strip,
  ranges: CellRanges,
  heights: ReturnType<typeof heightsOf>,
  passed: PassedOver,
  take: (row: number, column: number, height: number) => void,
): void => {
  const { from, to, left, width, values, covered } = strip;
  for (let row = from; row <= to; row++) {
    const inRow = ranges.inRow(row);
    if (inRow === null) continue;
    for (let column = inRow[0]; column <= inRow[1]; column++) {
      const k = (row - from) * width + (column - left);
      const value = Number(values[k]);
      if (!heights.isData(value)) continue;
      if (covered !== null && Number(covered[k]) === 0) passed.masked += 1;
      else if (isNoDataValue(value)) passed.undeclared += 1;
      else take(row, column, heights.of(value));
    }
  }
};
