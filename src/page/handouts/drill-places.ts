import type { BreakTable, TableCell } from '../../putt/putt.js';
import { pointsToMm } from '../../units.js';
import type { LocationContent } from '../book-content.js';
import { cellOf } from '../kit/grid.js';
import type { GreenPageContext } from '../kit/page-modules.js';

/** A drill to one hole location, with its table. */
export interface DrillContext extends GreenPageContext {
  readonly location: LocationContent;
  readonly table: BreakTable;
}

/** The cells that a ball can be putted from. */
export const playable = ({ cells }: BreakTable): TableCell[] =>
  cells.filter(({ outcome, putt }) => outcome === 'solved' && putt !== null);

/** Least pitch of rows, of the size of their type. */
const LEAST_PITCH = 1.3;
/** The head of the table, its sum and the room below that, in rows. */
export const ROWS_BESIDES = 2.45;

/** The shortest lengths that the table has room for, and their playable cells. */
const roomy = (
  table: BreakTable,
  size: number,
  height: number,
): { readonly lengths: readonly number[]; readonly rows: readonly TableCell[] } => {
  const most = Math.max(4, Math.floor(height / (pointsToMm(size) * LEAST_PITCH) - ROWS_BESIDES));
  const lengths = [...table.lengths];
  const rowsOf = (): TableCell[] =>
    playable(table).filter(({ length }) => lengths.includes(length));
  while (lengths.length > 1 && rowsOf().length > most) lengths.pop();
  return { lengths, rows: rowsOf() };
};

/** The same, by the room that the layout gives to the table. */
export const drilled = ({ table, layout, side }: DrillContext): ReturnType<typeof roomy> => {
  const placement = (layout.pages.drill ?? []).find(({ module }) => module === 'drill-table');
  const height = placement === undefined ? Infinity : cellOf(layout, side, placement).height;
  return roomy(table, layout.type.table, height);
};

/** Whether a drill to a location has places enough to be one. */
export const isDrill = (table: BreakTable | null): table is BreakTable =>
  table !== null && playable(table).length >= 4;
