import type { Cell } from '../kit/grid.js';
import type { Mark, Mm } from '../marks/marks.js';

/** A symbol on the ground and what is written beside it. */
export interface Spot {
  readonly at: Mm;
  readonly symbol: readonly Mark[];
  readonly label: string;
  readonly bold: boolean;
}

/** A label that wants to stand beside a spot. Sizes in millimetres. */
export interface SpotLabel {
  readonly at: Mm;
  /** Distance from the spot's centre that its symbol takes. */
  readonly clear: number;
  readonly width: number;
  readonly height: number;
  /** A number, which beside another one would read as one with it. */
  readonly isFigure: boolean;
}

/** What stands already: symbols, signs, the edge; and numbers. */
export interface SpotsTaken {
  readonly boxes: readonly Cell[];
  readonly figures: readonly Cell[];
}

/** Between two numbers side by side, millimetres: three word spaces of 6 pt type, else "0" and "77 %" read 0.77 %. */
const BETWEEN_FIGURES = 1.2;

const overlap = (a: Cell, b: Cell): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

/** A number with the paper that keeps other numbers off its line. */
const withGap = (box: Cell): Cell => ({
  ...box,
  x: box.x - BETWEEN_FIGURES,
  width: box.width + 2 * BETWEEN_FIGURES,
});

const DIRECTIONS: readonly Mm[] = [
  [1, 0],
  [-1, 0],
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
  [0, -1],
  [0, 1],
];

/**
 * Boxes for the labels, in their order: each takes the first of eight places beside its spot, near or
 * a step farther, that covers least of what stands already, and stays inside the bounds.
 */
export const placeSpotLabels = (
  labels: readonly SpotLabel[],
  taken: SpotsTaken,
  bounds: Cell,
): Cell[] => {
  const placed: Cell[] = [...taken.boxes];
  const figures: Cell[] = taken.figures.map(withGap);
  return labels.map((label) => {
    let best: Cell | null = null;
    let bestCost = Infinity;
    for (const reach of [1, 1.9, 2.8]) {
      for (const [dx, dy] of DIRECTIONS) {
        const out = label.clear * reach;
        const box: Cell = {
          x: label.at[0] + dx * out + (dx > 0 ? 0 : dx < 0 ? -label.width : -label.width / 2),
          y: label.at[1] + dy * out + (dy > 0 ? 0 : dy < 0 ? -label.height : -label.height / 2),
          width: label.width,
          height: label.height,
        };
        const others = label.isFigure ? [...placed, ...figures] : placed;
        const outside = box.width * box.height - overlap(box, bounds);
        const cost =
          others.reduce((sum, other) => sum + overlap(box, other), 0) +
          10 * outside +
          0.2 * (reach - 1);
        if (cost < bestCost - 1e-9) {
          best = box;
          bestCost = cost;
        }
      }
    }
    const box = best as Cell;
    placed.push(box);
    if (label.isFigure) figures.push(withGap(box));
    return box;
  });
};
