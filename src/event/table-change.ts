import { HOLE_RADIUS } from '../putt/capture.js';
import type { BreakTable, TableCell } from '../putt/putt.js';
import { TWO_SIDED_95 } from '../surface/normal-distribution.js';

/** A change of aim worth a new table: half a hole, metres. */
export const HALF_A_HOLE = HOLE_RADIUS;

/** One cell of a break table, on the older and on the newer surface. */
export interface CellChange {
  readonly older: TableCell;
  readonly newer: TableCell;
  /** Newer less older aim beside the hole, positive to the left, metres; null when either has no putt. */
  readonly aimChange: number | null;
  /** Standard deviation of that change from both surveys; null when not known. */
  readonly sd: number | null;
  /** The change lies beyond the uncertainty of both surveys at 95 %, or a putt came or went. */
  readonly sure: boolean;
  /** Newer less older pace, metres; null when either has no putt. */
  readonly paceChange: number | null;
}

/** The table of one hole location, compared cell by cell. */
export interface TableChange {
  readonly name: string;
  readonly older: BreakTable;
  readonly newer: BreakTable;
  /** The cells that changed: by over half a hole, or from having a putt to having none, or back. */
  readonly changed: readonly CellChange[];
  /** Cells that have a putt on either surface. */
  readonly cells: number;
}

const offsetOf = (cell: TableCell): number | null =>
  cell.outcome === 'solved' && cell.putt !== null ? cell.putt.aimOffset : null;

const compareCells = (older: TableCell, newer: TableCell): CellChange => {
  const [before, after] = [offsetOf(older), offsetOf(newer)];
  const known = older.aimSd !== null && newer.aimSd !== null;
  const both = before !== null && after !== null;
  const aimChange = both ? after - before : null;
  const sd = both && known ? Math.hypot(older.aimSd ?? 0, newer.aimSd ?? 0) : null;
  return {
    older,
    newer,
    aimChange,
    sd,
    sure: aimChange === null || sd === null || Math.abs(aimChange) > TWO_SIDED_95 * sd,
    paceChange: both ? (newer.putt?.pace ?? 0) - (older.putt?.pace ?? 0) : null,
  };
};

/**
 * Compares two tables of the same location, lengths and settings, as a player would: figure by figure.
 * The quadrants lie by the fall at the hole, so that a fall that turned moves the ball as well.
 */
export const tableChange = (name: string, older: BreakTable, newer: BreakTable): TableChange => {
  // A putt over ground that one survey has no points on is no putt that came or went.
  const all = older.cells
    .map((cell, i) => compareCells(cell, newer.cells[i]))
    .filter((one) => one.older.outcome !== 'unsurveyed' && one.newer.outcome !== 'unsurveyed');
  return {
    name,
    older,
    newer,
    changed: all.filter((one) =>
      one.aimChange === null
        ? one.older.outcome !== one.newer.outcome
        : Math.abs(one.aimChange) > HALF_A_HOLE,
    ),
    cells: all.filter((one) => one.older.outcome === 'solved' || one.newer.outcome === 'solved')
      .length,
  };
};
