import type { Layout } from '../../layout/layout.js';
import { QUADRANTS } from '../../putt/table.js';
import { pointsToMm } from '../../units.js';
import type { Cell } from '../kit/grid.js';
import type { MeasureText } from '../marks/marks.js';
import type { Telling } from '../words/words.js';
import { LENGTH_ROOM } from './table-columns.js';

export interface TableStyle extends Telling {
  /** How pace is told; see `Layout.tables`. */
  readonly pace: Layout['tables']['pace'];
  /** Points. */
  readonly tableSize: number;
  readonly smallSize: number;
  /** For heads that must fit between their columns; left out where no heads are set. */
  readonly measure?: MeasureText | undefined;
}

/** As a layout has it. */
export const tableStyle = (
  layout: Layout,
  { units, words }: Telling,
  measure?: MeasureText,
): TableStyle => ({
  units,
  words,
  measure,
  pace: layout.tables.pace,
  tableSize: layout.type.table,
  smallSize: layout.type.small,
});

/** Height of a row, millimetres. */
export const rowPitch = (style: TableStyle): number => pointsToMm(style.tableSize) * 1.22;

export interface TableColumns {
  /** Green speeds that have a column of aims. */
  readonly speeds: number;
  readonly length: number;
  readonly groups: readonly { readonly x: number; readonly width: number }[];
}

export const tableColumns = (cell: Pick<Cell, 'x' | 'width'>, tables = 1): TableColumns => {
  const lengthWidth = tables > 1 ? LENGTH_ROOM.narrow : LENGTH_ROOM.wide;
  const width = (cell.width - lengthWidth) / QUADRANTS.length;
  return {
    speeds: tables,
    length: cell.x + lengthWidth - (tables > 1 ? 0.9 : 1.6),
    groups: QUADRANTS.map((_, i) => ({ x: cell.x + lengthWidth + i * width, width })),
  };
};
