import { type CellChange, HALF_A_HOLE, type TableChange } from '../event/table-change.js';
import { heightWords } from '../page/survey/moved-words.js';
import type { TableCell } from '../putt/putt.js';
import { aimReading, lengthReading } from '../putt/rounding.js';
import type { UnitSystem } from '../units.js';

const cellWords = (cell: TableCell, units: UnitSystem): string => {
  if (cell.outcome !== 'solved' || cell.putt === null) {
    return (
      { 'off-green': 'off the green', 'leaves-green': 'leaves the green' }[
        cell.outcome as 'off-green' | 'leaves-green'
      ] ?? 'no pace'
    );
  }
  const { figure, side } = aimReading(cell.putt.aimOffset, units);
  return side === 'straight' ? 'straight' : `${figure} ${side}`;
};

const changedWords = ({ older, newer, sd, sure }: CellChange, units: UnitSystem): string => {
  const spread =
    sd === null ? '' : ` (± ${heightWords(sd, units)}${sure ? '' : ': the surveys cannot tell'})`;
  return `${older.quadrant} ${lengthReading(older.length, units)}: ${cellWords(older, units)}, now ${cellWords(newer, units)}${spread}`;
};

/** Which cells of which tables changed by over half a hole. */
export const tableSentences = (tables: readonly TableChange[], units: UnitSystem): string[] => {
  if (tables.length === 0) return [];
  const half = heightWords(HALF_A_HOLE, units);
  const changed = tables.filter((table) => table.changed.length > 0);
  if (changed.length === 0) return [`No aim in the tables changes by over half a hole (${half}).`];
  return [
    `Tables to print again, since an aim changes by over half a hole (${half}):`,
    ...changed.flatMap((table) => [
      `  ${table.name}: ${table.changed.length} of ${table.cells} cells, ${table.changed.filter((cell) => cell.sure).length} beyond the uncertainty of both surveys`,
      ...table.changed.map((cell) => `      ${changedWords(cell, units)}`),
    ]),
  ];
};
