/** A grid of heights, row by row; `active` marks the cells that take part. */
export interface Raster {
  readonly columns: number;
  readonly rows: number;
  readonly step: number;
  readonly height: Float64Array;
  readonly active: Uint8Array;
}

export interface Flood {
  /** Height after every hollow is filled to its spill. */
  readonly filled: Float64Array;
  /** The neighbour towards which a cell's water leaves over the filled ground; -1 at outlets. */
  readonly parent: Int32Array;
  /** Cells in the order in which they were flooded: each comes after every cell that it may drain to. */
  readonly order: Int32Array;
  /** Pool of a cell that was raised, or -1. */
  readonly pool: Int32Array;
  readonly pools: readonly RasterPool[];
}

/** A filled hollow. Its water leaves over `spill`, a cell that was not raised. */
export interface RasterPool {
  readonly level: number;
  readonly spill: number;
  /** The deepest cell. */
  readonly bottom: number;
  readonly cells: readonly number[];
}

/** Column and row offsets of the eight neighbours, counter-clockwise from +x. */
export const NEIGHBOUR_DX = [1, 1, 0, -1, -1, -1, 0, 1] as const;
export const NEIGHBOUR_DY = [0, 1, 1, 1, 0, -1, -1, -1] as const;

/** A heap of cells by key, first in first out among equals; its first entry stands at 1. */
interface Heap {
  readonly keys: Float64Array;
  readonly turns: Int32Array;
  readonly cells: Int32Array;
  size: number;
  turn: number;
}

// Functions of the module, since one flood follows another and V8 forgets what it made fast of inner ones.

const pushCell = (heap: Heap, cell: number, key: number): void => {
  const { keys, turns, cells } = heap;
  let at = ++heap.size;
  while (at > 1) {
    const up = at >> 1;
    if (keys[up] <= key) break;
    keys[at] = keys[up];
    turns[at] = turns[up];
    cells[at] = cells[up];
    at = up;
  }
  keys[at] = key;
  turns[at] = heap.turn++;
  cells[at] = cell;
};

const popCell = (heap: Heap): number => {
  const { keys, turns, cells } = heap;
  const top = cells[1];
  const size = heap.size - 1;
  const key = keys[size + 1];
  const mine = turns[size + 1];
  const cell = cells[size + 1];
  heap.size = size;
  let at = 1;
  for (;;) {
    let down = at * 2;
    if (down > size) break;
    const other = down + 1;
    if (
      other <= size &&
      (keys[other] < keys[down] || (keys[other] === keys[down] && turns[other] < turns[down]))
    ) {
      down = other;
    }
    if (keys[down] > key || (keys[down] === key && turns[down] > mine)) break;
    keys[at] = keys[down];
    turns[at] = turns[down];
    cells[at] = cells[down];
    at = down;
  }
  keys[at] = key;
  turns[at] = mine;
  cells[at] = cell;
  return top;
};

/**
 * Fills hollows from the outlets inwards (Barnes, Lehman & Mulla, Comput. Geosci. 62, 2014): cells come
 * off a heap in order of height, first in first out among equals, which also drains flats by the
 * shortest way to their outlet.
 * @param outlets cells whose water leaves the raster; they keep their own height.
 */
export const priorityFlood = (raster: Raster, outlets: Iterable<number>): Flood => {
  const { columns, rows, height, active } = raster;
  const size = columns * rows;
  const filled = Float64Array.from(height);
  const parent = new Int32Array(size).fill(-1);
  /** The cell over which a raised cell's water leaves its hollow; -1 where the ground was not raised. */
  const spill = new Int32Array(size).fill(-1);
  const order = new Int32Array(size);
  const seen = new Uint8Array(size);
  const heap: Heap = {
    keys: new Float64Array(size + 1),
    turns: new Int32Array(size + 1),
    cells: new Int32Array(size + 1),
    ...{ size: 0, turn: 0 },
  };
  for (const cell of outlets) {
    if (seen[cell]) continue;
    seen[cell] = 1;
    pushCell(heap, cell, height[cell]);
  }
  let count = 0;
  while (heap.size > 0) {
    const cell = popCell(heap);
    order[count++] = cell;
    const level = filled[cell];
    const i = cell % columns;
    const j = (cell - i) / columns;
    for (let k = 0; k < 8; k++) {
      const ni = i + NEIGHBOUR_DX[k];
      const nj = j + NEIGHBOUR_DY[k];
      if (ni < 0 || nj < 0 || ni >= columns || nj >= rows) continue;
      const other = nj * columns + ni;
      if (seen[other] || !active[other]) continue;
      seen[other] = 1;
      parent[other] = cell;
      if (height[other] < level) {
        filled[other] = level;
        spill[other] = spill[cell] < 0 ? cell : spill[cell];
      }
      pushCell(heap, other, filled[other]);
    }
  }
  const flooded = order.slice(0, count);
  return { filled, parent, order: flooded, ...poolsOf(raster, filled, spill, flooded) };
};

/** Raised cells that touch and leave over one spill are one pool. */
const poolsOf = (
  { columns, rows, height }: Raster,
  filled: Float64Array,
  spill: Int32Array,
  order: Int32Array,
): { pool: Int32Array; pools: RasterPool[] } => {
  const pool = new Int32Array(height.length).fill(-1);
  const pools: RasterPool[] = [];
  for (const first of order) {
    if (spill[first] < 0 || pool[first] >= 0) continue;
    const name = pools.length;
    const cells = [first];
    pool[first] = name;
    let bottom = first;
    for (let k = 0; k < cells.length; k++) {
      const cell = cells[k];
      if (height[cell] < height[bottom]) bottom = cell;
      const i = cell % columns;
      const j = (cell - i) / columns;
      for (let d = 0; d < 8; d++) {
        const ni = i + NEIGHBOUR_DX[d];
        const nj = j + NEIGHBOUR_DY[d];
        if (ni < 0 || nj < 0 || ni >= columns || nj >= rows) continue;
        const other = nj * columns + ni;
        if (spill[other] !== spill[first] || pool[other] >= 0) continue;
        pool[other] = name;
        cells.push(other);
      }
    }
    pools.push({ level: filled[first], spill: spill[first], bottom, cells });
  }
  return { pool, pools };
};
