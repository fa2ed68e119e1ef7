import { boxOf, type Point, type Ring } from '../../geometry.js';
import type { OutlinedGreen } from '../book-content.js';
import type { Cell } from '../kit/grid.js';
import type { Mm } from '../marks/marks.js';
import { type GroundFrame, onPaper } from './ground-frame.js';
import { type PacesGrid, pacesGrid } from './paces-grid.js';

/** A piece that a cell's edge cuts off and that reaches less far into it says nothing, millimetres (set). */
const LEAST_REACH = 1.5;

/** What of a ring lies at one side of a line: `inside` is positive there (Sutherland and Hodgman, 1974). */
const cutBy = (ring: Ring, inside: (at: Point) => number): Point[] =>
  ring.flatMap((b, i): Point[] => {
    const a = ring[(i + ring.length - 1) % ring.length];
    const [da, db] = [inside(a), inside(b)];
    const t = da / (da - db);
    const meeting: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    return [...(da < 0 !== db < 0 ? [meeting] : []), ...(db >= 0 ? [b] : [])];
  });

const withinCell = (ring: Ring, { x, y, width, height }: Cell): Point[] =>
  [
    (at: Point) => at[0] - x,
    (at: Point) => x + width - at[0],
    (at: Point) => at[1] - y,
    (at: Point) => y + height - at[1],
  ].reduce<Point[]>(cutBy, [...ring]);

const isShown = (onSheet: readonly Mm[], cell: Cell): boolean => {
  const within = withinCell(onSheet, cell);
  if (within.length < 3) return false;
  const box = boxOf(within);
  const [wide, high] = [box.maxX - box.minX, box.maxY - box.minY];
  const all = boxOf(onSheet);
  const isCut = all.maxX - all.minX > wide + 1e-9 || all.maxY - all.minY > high + 1e-9;
  // What runs across, like a ditch, is thin and yet no sliver.
  const isSmall = wide < cell.width / 2 && high < cell.height / 2;
  return !(isCut && isSmall && Math.min(wide, high) < LEAST_REACH);
};

/** The hazards round a green of which its picture's cell shows enough to be seen as such. */
export const shownHazards = (
  frame: GroundFrame,
  { hazards }: OutlinedGreen,
  cell: Cell,
): OutlinedGreen['hazards'] =>
  hazards.filter(({ ring }) =>
    isShown(
      ring.map((at) => onPaper(frame, ...at)),
      cell,
    ),
  );

/** The paces on and in round a green that hazards stand about: their figures keep off these. */
export const outlineGrid = (
  frame: GroundFrame,
  outline: Ring,
  hazards: OutlinedGreen['hazards'],
  figureSize: number,
): PacesGrid => {
  const areas = hazards.map(({ ring }) => ring.map((at) => onPaper(frame, ...at)));
  return pacesGrid(frame, outline, figureSize, areas);
};
