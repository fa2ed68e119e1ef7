import { readFileSync } from 'node:fs';
import type { FlowShares } from '../../src/terrain/water/flow-accumulation.js';
import { accumulate, dInfinity } from '../../src/terrain/water/flow-accumulation.js';
import type { Raster } from '../../src/terrain/water/priority-flood.js';
import { priorityFlood } from '../../src/terrain/water/priority-flood.js';
import { steepestNeighbour } from './steepest-neighbour.js';

/** The Maunga Whau grid, 87 x 61 cells of 10 m, whole metres: npm package vega-datasets, data/volcano.json. */
export const maungaWhau = (): Raster => {
  const path = new URL('../../node_modules/vega-datasets/data/volcano.json', import.meta.url);
  const { width, height, values } = JSON.parse(readFileSync(path, 'utf8'));
  return {
    columns: width,
    rows: height,
    step: 10,
    height: Float64Array.from(values),
    active: new Uint8Array(width * height).fill(1),
  };
};

/** What GRASS makes of it; rows from the north, as in the data. Directions: 1 to 8 counter-clockwise from north-east. */
export interface Reference {
  readonly made: string;
  readonly filled: readonly number[];
  readonly d8: { readonly area: readonly number[]; readonly direction: readonly number[] };
  readonly shared: { readonly area: readonly number[]; readonly direction: readonly number[] };
}

/** Everything the checks compare, in cells of contributing area. */
export interface Drained {
  readonly filled: Float64Array;
  readonly area: ArrayLike<number>;
  /** The neighbour that takes most of a cell's water; -1 where it leaves. */
  readonly receiver: Int32Array;
}

const borderOf = ({ columns, rows }: Raster): number[] => {
  const cells: number[] = [];
  for (let n = 0; n < columns * rows; n++) {
    const i = n % columns;
    const j = (n - i) / columns;
    if (i === 0 || j === 0 || i === columns - 1 || j === rows - 1) cells.push(n);
  }
  return cells;
};

export const drain = (raster: Raster, method: 'd8' | 'd-infinity'): Drained => {
  const flood = priorityFlood(raster, borderOf(raster));
  const shares: FlowShares =
    method === 'd8' ? steepestNeighbour(raster, flood) : dInfinity(raster, flood);
  const own = new Float64Array(raster.height.length).fill(1);
  const receiver = shares.first.map((first, n) =>
    shares.second[n] >= 0 && shares.share[n] < 0.5 ? shares.second[n] : first,
  );
  return { filled: flood.filled, area: accumulate(flood, shares, own), receiver };
};

/** GRASS: 1 NE, 2 N, 3 NW, 4 W, 5 SW, 6 S, 7 SE, 8 E; negative or 0 where the water leaves. */
const GRASS_STEPS = [
  [1, -1],
  [0, -1],
  [-1, -1],
  [-1, 0],
  [-1, 1],
  [0, 1],
  [1, 1],
  [1, 0],
] as const;

export const receiversOf = ({ columns, rows }: Raster, direction: readonly number[]): Int32Array =>
  Int32Array.from(direction, (code, n) => {
    if (code <= 0) return -1;
    const [di, dj] = GRASS_STEPS[code - 1];
    const i = (n % columns) + di;
    const j = Math.floor(n / columns) + dj;
    return i < 0 || j < 0 || i >= columns || j >= rows ? -1 : j * columns + i;
  });

/** A stream is a channel of at least this many cells of area. */
export const CHANNEL = 50;

/**
 * Streams of a network, largest first: from each mouth up the cell of greatest area, then the
 * tributaries in the same way, as long as the area is that of a channel.
 */
export const streamsByArea = (area: ArrayLike<number>, receiver: Int32Array): number[][] => {
  const from: number[][] = Array.from({ length: area.length }, () => []);
  const mouths: number[] = [];
  for (let n = 0; n < area.length; n++) {
    if (area[n] < CHANNEL) continue;
    if (receiver[n] < 0 || area[receiver[n]] < CHANNEL) mouths.push(n);
    else from[receiver[n]].push(n);
  }
  const streams: number[][] = [];
  while (mouths.length > 0) {
    const stream: number[] = [];
    let cell: number | undefined = mouths.pop();
    while (cell !== undefined) {
      stream.push(cell);
      const above: number[] = [...from[cell]].sort((a, b) => area[b] - area[a] || a - b);
      cell = above.shift();
      mouths.push(...above);
    }
    streams.push(stream);
  }
  return streams.sort((a, b) => area[b[0]] - area[a[0]] || a[0] - b[0]);
};

/** Share of the cells of some streams that lie within two cells of a channel of another network. */
export const overlap = (
  { columns, rows }: Raster,
  streams: readonly (readonly number[])[],
  area: ArrayLike<number>,
): number => {
  let cells = 0;
  let near = 0;
  for (const stream of streams) {
    for (const n of stream) {
      cells++;
      const i = n % columns;
      const j = (n - i) / columns;
      let found = false;
      for (let dj = -2; dj <= 2 && !found; dj++) {
        for (let di = -2; di <= 2 && !found; di++) {
          if (i + di < 0 || j + dj < 0 || i + di >= columns || j + dj >= rows) continue;
          found = area[(j + dj) * columns + i + di] >= CHANNEL;
        }
      }
      if (found) near++;
    }
  }
  return near / cells;
};

const RECORDED = new URL('./recorded/maunga-whau-grass.json', import.meta.url);

export const recordedPath = RECORDED.pathname;

export const recorded = (): Reference => {
  const file = JSON.parse(readFileSync(RECORDED, 'utf8'));
  const numbers = (rows: readonly string[]): number[] =>
    rows.flatMap((row) => row.split(' ').map(Number));
  return {
    made: file.made,
    filled: numbers(file.filled),
    d8: { area: numbers(file.d8.area), direction: numbers(file.d8.direction) },
    shared: { area: numbers(file.shared.area), direction: numbers(file.shared.direction) },
  };
};
