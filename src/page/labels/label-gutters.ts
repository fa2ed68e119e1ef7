import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';
import { type Extents, leftBetween, rightBetween } from './label-extents.js';
import { stackedTops } from './stacked-tops.js';

/** A label that stands beside a drawing and points into it. Millimetres. */
export interface SideLabel {
  /** What it points to from the left, and from the right. */
  readonly anchors: Readonly<Record<'left' | 'right', Mm>>;
  readonly width: number;
  readonly height: number;
  /** Where its leader starts: this far below its top. */
  readonly leaderAt: number;
  /** When there is no room for all, the least goes first. */
  readonly priority: number;
  /** The side it would rather stand on; null: either. */
  readonly side: 'left' | 'right' | null;
  /** How far its leader would run through woods, to the left and to the right. */
  readonly woods: Readonly<Record<'left' | 'right', number>>;
}

export interface PlacedSideLabel {
  /** Its place among the labels given. */
  readonly index: number;
  readonly side: 'left' | 'right';
  readonly box: Cell;
  readonly leader: readonly [from: Mm, to: Mm];
}

export interface GutterStyle {
  /** Least room between two labels. */
  readonly gap: number;
  /** Room between a label and the drawing. */
  readonly clear: number;
}

interface Item {
  readonly index: number;
  readonly label: SideLabel;
}

/** A leader that runs so much farther through woods than it would on the other side goes there, millimetres. */
const WORSE = 0.5;

const heightOf = (items: readonly Item[], gap: number): number =>
  items.reduce((sum, { label }) => sum + label.height, 0) + gap * Math.max(0, items.length - 1);

/** Sides for all labels, and which must be left out so that each side's labels fit its height. */
const shared = (
  labels: readonly SideLabel[],
  cell: Cell,
  middle: number,
  gap: number,
): Item[][] => {
  const sides: [Item[], Item[]] = [[], []];
  const items = labels
    .map((label, index): Item => ({ index, label }))
    .sort((a, b) => b.label.priority - a.label.priority || a.index - b.index);
  for (const item of items) {
    const { side, anchors } = item.label;
    const leans = (anchors.left[0] + anchors.right[0]) / 2 - middle;
    const loads = sides.map((one) => heightOf([...one, item], gap));
    const leaning = leans < -2 ? 0 : leans > 2 ? 1 : loads[0] <= loads[1] ? 0 : 1;
    const usual = side === 'left' ? 0 : side === 'right' ? 1 : leaning;
    const through = [item.label.woods.left, item.label.woods.right];
    const wanted = through[usual] > through[1 - usual] + WORSE ? 1 - usual : usual;
    const other = 1 - wanted;
    if (loads[wanted] <= cell.height) sides[wanted].push(item);
    else if (loads[other] <= cell.height) sides[other].push(item);
  }
  return sides;
};

const cross = (a: readonly [Mm, Mm], b: readonly [Mm, Mm]): boolean => {
  const turn = (p: Mm, q: Mm, r: Mm): number =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return (
    turn(a[0], a[1], b[0]) * turn(a[0], a[1], b[1]) < 0 &&
    turn(b[0], b[1], a[0]) * turn(b[0], b[1], a[1]) < 0
  );
};

const boxesOf = (
  items: readonly Item[],
  side: 'left' | 'right',
  cell: Cell,
  extents: Extents,
  { gap, clear }: GutterStyle,
): PlacedSideLabel[] => {
  const tops = stackedTops(
    items.map(({ label }) => label.anchors[side][1] - label.leaderAt),
    items.map(({ label }) => label.height),
    gap,
    cell.y,
    cell.y + cell.height,
  );
  return items.map(({ index, label }, i) => {
    const y = tops[i];
    const [above, below] = [y - 0.5, y + label.height + 0.5];
    const x =
      side === 'left'
        ? Math.max(cell.x, leftBetween(extents, above, below) - clear - label.width)
        : Math.min(cell.x + cell.width - label.width, rightBetween(extents, above, below) + clear);
    const from: Mm = [side === 'left' ? x + label.width + 0.5 : x - 0.5, y + label.leaderAt];
    return {
      index,
      side,
      box: { x, y, width: label.width, height: label.height },
      leader: [from, label.anchors[side]],
    };
  });
};

/** From where to where in x a leader runs between two heights; null when it does not. */
const passing = (
  [a, b]: readonly [Mm, Mm],
  top: number,
  bottom: number,
): readonly [number, number] | null => {
  const [low, high] = a[1] <= b[1] ? [a, b] : [b, a];
  if (high[1] < top || low[1] > bottom) return null;
  const at = (y: number): number =>
    high[1] === low[1] ? low[0] : low[0] + ((y - low[1]) / (high[1] - low[1])) * (high[0] - low[0]);
  const ends =
    high[1] === low[1] ? [a[0], b[0]] : [at(Math.max(top, low[1])), at(Math.min(bottom, high[1]))];
  return [Math.min(...ends), Math.max(...ends)];
};

const ROUNDS = 6;

/** Labels moved outward, where a leader of another runs through them, as far as the cell lets them. */
const offLeaders = (placed: readonly PlacedSideLabel[], cell: Cell): PlacedSideLabel[] => {
  let labels = [...placed];
  for (let round = 0; round < ROUNDS; round++) {
    let moved = false;
    labels = labels.map((label): PlacedSideLabel => {
      const { box, side, leader } = label;
      let x = box.x;
      for (const other of labels) {
        if (other.index === label.index) continue;
        const at = passing(other.leader, box.y - 0.3, box.y + box.height + 0.3);
        if (at === null || at[1] < box.x || at[0] > box.x + box.width) continue;
        x = side === 'left' ? Math.min(x, at[0] - 0.6 - box.width) : Math.max(x, at[1] + 0.6);
      }
      x = Math.min(cell.x + cell.width - box.width, Math.max(cell.x, x));
      if (Math.abs(x - box.x) < 1e-9) return label;
      moved = true;
      return {
        ...label,
        box: { ...box, x },
        leader: [[leader[0][0] + x - box.x, leader[0][1]], leader[1]],
      };
    });
    if (!moved) break;
  }
  return labels;
};

/**
 * Places labels to the left and right of a drawing, close beside it, in the order of their anchors so
 * that leaders do not cross, none over another or in the way of its leader, none outside the cell. The window of `extents` must
 * leave room for the widest label (and `clear`) on either side of it in the cell. Labels for which there
 * is no room, those of least priority, are left out.
 */
export const placeSideLabels = (
  labels: readonly SideLabel[],
  cell: Cell,
  extents: Extents,
  style: GutterStyle,
): PlacedSideLabel[] => {
  const { window } = extents;
  const sides = shared(labels, cell, window.x + window.width / 2, style.gap);
  const placed = sides.flatMap((one, s) => {
    const side = s === 0 ? 'left' : 'right';
    const items = [...one].sort(
      (a, b) => a.label.anchors[side][1] - b.label.anchors[side][1] || a.index - b.index,
    );
    let placed = boxesOf(items, side, cell, extents, style);
    // Anchors at about the same height may want the other order.
    for (let round = 0; round < items.length; round++) {
      const at = placed.findIndex(
        (label, i) => i + 1 < placed.length && cross(label.leader, placed[i + 1].leader),
      );
      if (at < 0) break;
      [items[at], items[at + 1]] = [items[at + 1], items[at]];
      const swapped = boxesOf(items, side, cell, extents, style);
      if (crossings(swapped) >= crossings(placed)) {
        [items[at], items[at + 1]] = [items[at + 1], items[at]];
        break;
      }
      placed = swapped;
    }
    return placed;
  });
  return offLeaders(placed, cell);
};

const crossings = (placed: readonly PlacedSideLabel[]): number => {
  let count = 0;
  for (let i = 0; i < placed.length; i++) {
    for (let j = i + 1; j < placed.length; j++) {
      if (cross(placed[i].leader, placed[j].leader)) count += 1;
    }
  }
  return count;
};
