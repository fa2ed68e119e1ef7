import type { Box } from '../../geometry.js';
import { boxOf } from '../../geometry.js';
import type { ReadContext } from './file-reader.js';

/**
 * Where the cells of a grid lie, in the file's own coordinates: the centre of cell (column, row) is
 * (x0 + column xc + row xr, y0 + column yc + row yr).
 */
export interface GridShape {
  readonly columns: number;
  readonly rows: number;
  readonly x0: number;
  readonly y0: number;
  readonly xc: number;
  readonly yc: number;
  readonly xr: number;
  readonly yr: number;
}

/** A block of cells, both ends within it. */
export interface CellBlock {
  readonly firstColumn: number;
  readonly lastColumn: number;
  readonly firstRow: number;
  readonly lastRow: number;
}

const whole = (shape: GridShape): CellBlock => ({
  firstColumn: 0,
  lastColumn: shape.columns - 1,
  firstRow: 0,
  lastRow: shape.rows - 1,
});

/** The cells whose centres lie in a box of the file's coordinates, or null when none do. */
const blockOf = (shape: GridShape, box: Box): CellBlock | null => {
  const det = shape.xc * shape.yr - shape.xr * shape.yc;
  let minC = Infinity;
  let maxC = -Infinity;
  let minR = Infinity;
  let maxR = -Infinity;
  for (const x of [box.minX, box.maxX]) {
    for (const y of [box.minY, box.maxY]) {
      const c = ((x - shape.x0) * shape.yr - (y - shape.y0) * shape.xr) / det;
      const r = ((y - shape.y0) * shape.xc - (x - shape.x0) * shape.yc) / det;
      minC = Math.min(minC, c);
      maxC = Math.max(maxC, c);
      minR = Math.min(minR, r);
      maxR = Math.max(maxR, r);
    }
  }
  const block = {
    firstColumn: Math.max(0, Math.floor(minC)),
    lastColumn: Math.min(shape.columns - 1, Math.ceil(maxC)),
    firstRow: Math.max(0, Math.floor(minR)),
    lastRow: Math.min(shape.rows - 1, Math.ceil(maxR)),
  };
  return block.firstColumn <= block.lastColumn && block.firstRow <= block.lastRow ? block : null;
};

/** The part of a grid that windows touch. */
export interface CellRanges {
  readonly blocks: readonly CellBlock[];
  /** First and last wanted column of a row; null when none is. */
  inRow(row: number): readonly [number, number] | null;
  /** Metres of the plane. */
  readonly cellSize: number;
}

/** The blocks of cells that the windows of a reading want, and the columns they span in a row. */
export const cellRanges = (shape: GridShape, context: ReadContext): CellRanges => {
  const corners = [0, shape.columns - 1].flatMap((c) =>
    [0, shape.rows - 1].map(
      (r) =>
        [shape.x0 + c * shape.xc + r * shape.xr, shape.y0 + c * shape.yc + r * shape.yr] as const,
    ),
  );
  context.reaches(boxOf(corners));
  const windows = context.windowsInFile();
  const blocks =
    windows === null
      ? [whole(shape)]
      : windows.map((box) => blockOf(shape, box)).filter((block) => block !== null);
  return {
    blocks,
    inRow: (row) => {
      let first = Infinity;
      let last = -Infinity;
      for (const block of blocks) {
        if (row < block.firstRow || row > block.lastRow) continue;
        if (block.firstColumn < first) first = block.firstColumn;
        if (block.lastColumn > last) last = block.lastColumn;
      }
      return first <= last ? [first, last] : null;
    },
    cellSize:
      Math.hypot(shape.xc, shape.yc) *
      context.scaleAt(
        shape.x0 + (shape.columns / 2) * shape.xc,
        shape.y0 + (shape.rows / 2) * shape.yr,
      ),
  };
};
