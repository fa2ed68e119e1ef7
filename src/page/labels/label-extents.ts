import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';

/**
 * How far the drawing reaches to the left and right at each millimetre of height, inside its window, so
 * that labels can stand close beside it and never on it.
 */
export interface Extents {
  readonly window: Cell;
  /** One value a row, millimetres on paper. */
  readonly left: Float64Array;
  readonly right: Float64Array;
}

const ROW = 1;

/** The extents of lines on paper (each an open polyline), clipped to the window. */
export const extentsOf = (window: Cell, lines: readonly (readonly Mm[])[]): Extents => {
  const rows = Math.max(1, Math.ceil(window.height / ROW));
  const left = new Float64Array(rows).fill(Infinity);
  const right = new Float64Array(rows).fill(-Infinity);
  const note = (x: number, y: number): void => {
    const row = Math.floor((y - window.y) / ROW);
    if (row < 0 || row >= rows) return;
    const inside = Math.min(window.x + window.width, Math.max(window.x, x));
    if (inside < left[row]) left[row] = inside;
    if (inside > right[row]) right[row] = inside;
  };
  for (const line of lines) {
    for (let i = 0; i < line.length; i++) {
      const [x, y] = line[i];
      note(x, y);
      if (i === 0) continue;
      const [px, py] = line[i - 1];
      const steps = Math.min(2000, Math.ceil(Math.abs(y - py) / (ROW / 2)));
      for (let k = 1; k < steps; k++) {
        note(px + (k / steps) * (x - px), py + (k / steps) * (y - py));
      }
    }
  }
  const middle = window.x + window.width / 2;
  fillEmpty(left, middle);
  fillEmpty(right, middle);
  return { window, left, right };
};

/** Rows with nothing drawn take the value of the nearest row that has something. */
const fillEmpty = (values: Float64Array, otherwise: number): void => {
  const known: number[] = [];
  values.forEach((value, i) => {
    if (Number.isFinite(value)) known.push(i);
  });
  if (known.length === 0) {
    values.fill(otherwise);
    return;
  }
  let k = 0;
  for (let i = 0; i < values.length; i++) {
    while (k + 1 < known.length && Math.abs(known[k + 1] - i) <= Math.abs(known[k] - i)) k++;
    if (!Number.isFinite(values[i])) values[i] = values[known[k]];
  }
};

const rowsOf = ({ window, left }: Extents, y1: number, y2: number): readonly [number, number] => [
  Math.min(left.length - 1, Math.max(0, Math.floor((y1 - window.y) / ROW))),
  Math.min(left.length - 1, Math.max(0, Math.floor((y2 - window.y) / ROW))),
];

/** The leftmost drawn x between two heights. */
export const leftBetween = (extents: Extents, y1: number, y2: number): number => {
  const [from, to] = rowsOf(extents, y1, y2);
  let x = Infinity;
  for (let row = from; row <= to; row++) x = Math.min(x, extents.left[row]);
  return x;
};

/** The rightmost drawn x between two heights. */
export const rightBetween = (extents: Extents, y1: number, y2: number): number => {
  const [from, to] = rowsOf(extents, y1, y2);
  let x = -Infinity;
  for (let row = from; row <= to; row++) x = Math.max(x, extents.right[row]);
  return x;
};
