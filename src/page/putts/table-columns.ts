import { pointsToMm } from '../../units.js';

/** A column of a quadrant: an aim at one of the green speeds, or a figure of the putt at the first. */
export type FigureColumn =
  | { readonly kind: 'aim'; readonly table: number; readonly end: number }
  | { readonly kind: 'pace' | 'entry' | 'spread'; readonly end: number };

/** Room for the lengths of putts, millimetres; less where more than one column of aims is wanted. */
export const LENGTH_ROOM = { wide: 7, narrow: 5 } as const;

/** Room that a figure takes, in sizes of its type; an aim has its side behind it. */
const AIM = 3.1;
const PACE = 1.7;
const ENTRY = 1.4;
const SPREAD = 1.9;
/** The side letter and its gap, a part of the aim's room. */
const SIDE = 0.9;
/** Millimetres between the last figure and the next quadrant's rule; less where columns stand close. */
const MARGIN = 1.2;
const CLOSE_MARGIN = 0.7;

/** Millimetres that a quadrant takes at least for the aims at so many green speeds, and the pace. */
export const quadrantWidth = (size: number, speeds: number): number =>
  (PACE + speeds * AIM) * pointsToMm(size) + (speeds > 1 ? CLOSE_MARGIN : MARGIN);

/**
 * The columns of a quadrant `width` millimetres wide: the aim at each green speed (those that find room,
 * the green's own first), the pace, and, where both find room, the side of entry and the spread of the
 * aim. `end` is where a figure ends, millimetres from the quadrant's left.
 */
export const figureColumns = (width: number, size: number, tables: number): FigureColumn[] => {
  const unit = pointsToMm(size);
  const room = (width - (tables > 1 ? CLOSE_MARGIN : MARGIN)) / unit;
  const aims = Math.max(1, Math.min(tables, Math.floor((room - PACE) / AIM)));
  const used = aims * AIM + PACE;
  const isWide = used + ENTRY + SPREAD <= room;
  if (aims === 1 && !isWide) {
    return [
      { kind: 'aim', table: 0, end: width / 2 },
      { kind: 'pace', end: width - MARGIN },
    ];
  }
  const slack = (room - used - (isWide ? ENTRY + SPREAD : 0)) / (aims + (isWide ? 3 : 1));
  const columns: FigureColumn[] = [];
  let at = 0;
  const step = (need: number): number => {
    at += need + slack;
    return at * unit;
  };
  for (let table = 0; table < aims; table++) {
    columns.push({ kind: 'aim', table, end: step(AIM) - SIDE * unit });
  }
  columns.push({ kind: 'pace', end: step(PACE) });
  if (isWide) {
    columns.push({ kind: 'entry', end: step(ENTRY) }, { kind: 'spread', end: step(SPREAD) });
  }
  return columns;
};
