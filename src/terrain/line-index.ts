import type { Point } from '../geometry.js';

/** Points of lines filed by square cells, to ask which line runs near a place. */
export interface LineIndex {
  readonly cell: number;
  readonly cells: Map<number, number[]>;
  readonly x: number[];
  readonly y: number[];
  readonly line: number[];
  readonly vertex: number[];
}

export const newLineIndex = (cell: number): LineIndex => ({
  cell,
  cells: new Map(),
  x: [],
  y: [],
  line: [],
  vertex: [],
});

const WIDE = 1 << 14;

const keyOf = (index: LineIndex, x: number, y: number): number =>
  (Math.floor(y / index.cell) + WIDE) * 2 * WIDE + Math.floor(x / index.cell) + WIDE;

/** Files a line under a name; long segments are cut to half a cell. */
export const addLine = (
  index: LineIndex,
  name: number,
  line: readonly (readonly [number, number, ...number[]])[],
): void => {
  const file = (x: number, y: number, vertex: number): void => {
    const key = keyOf(index, x, y);
    const list = index.cells.get(key);
    const k = index.x.length;
    if (list === undefined) index.cells.set(key, [k]);
    else list.push(k);
    index.x.push(x);
    index.y.push(y);
    index.line.push(name);
    index.vertex.push(vertex);
  };
  for (let v = 0; v < line.length; v++) {
    const [x, y] = line[v];
    file(x, y, v);
    if (v + 1 === line.length) break;
    const [nx, ny] = line[v + 1];
    const parts = Math.ceil((2 * Math.hypot(nx - x, ny - y)) / index.cell);
    for (let k = 1; k < parts; k++) {
      file(x + ((nx - x) * k) / parts, y + ((ny - y) * k) / parts, v);
    }
  }
};

export interface NearLine {
  readonly line: number;
  readonly vertex: number;
  readonly distance: number;
}

/** The nearest filed point within `reach`, or null. */
export const nearestLine = (
  index: LineIndex,
  x: number,
  y: number,
  reach: number,
): NearLine | null => {
  const { cell, cells } = index;
  let best = -1;
  let least = reach * reach;
  const i0 = Math.floor((x - reach) / cell);
  const i1 = Math.floor((x + reach) / cell);
  const j0 = Math.floor((y - reach) / cell);
  const j1 = Math.floor((y + reach) / cell);
  for (let j = j0; j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      for (const k of cells.get((j + WIDE) * 2 * WIDE + i + WIDE) ?? []) {
        const dx = index.x[k] - x;
        const dy = index.y[k] - y;
        const d = dx * dx + dy * dy;
        if (d < least) {
          least = d;
          best = k;
        }
      }
    }
  }
  return best < 0
    ? null
    : { line: index.line[best], vertex: index.vertex[best], distance: Math.sqrt(least) };
};

/** Where segment a-b crosses segment c-d: fractions along both, or null. Touching at an end counts. */
export const crossSegments = (
  a: readonly [number, number, ...number[]],
  b: readonly [number, number, ...number[]],
  c: readonly [number, number, ...number[]],
  d: readonly [number, number, ...number[]],
): Point | null => {
  const rx = b[0] - a[0];
  const ry = b[1] - a[1];
  const sx = d[0] - c[0];
  const sy = d[1] - c[1];
  const cross = rx * sy - ry * sx;
  if (cross === 0) return null;
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / cross;
  const u = ((c[0] - a[0]) * ry - (c[1] - a[1]) * rx) / cross;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? [t, u] : null;
};
