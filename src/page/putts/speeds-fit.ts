import { InputFault } from '../../fault.js';
import type { Layout } from '../../layout/layout.js';
import { QUADRANTS } from '../../putt/table.js';
import { cellOf } from '../kit/grid.js';
import { LENGTH_ROOM, quadrantWidth } from './table-columns.js';

/**
 * Whether the tables of a layout show all its green speeds, asked before any putt is solved.
 *
 * @throws InputFault when they have no room for the aims at each.
 */
export const requireSpeedsFit = (layout: Layout): void => {
  const { speeds, speedSteps } = layout.tables;
  const count = 1 + speeds.length + speedSteps.length;
  const placement = layout.pages.tables?.find(({ module }) => module === 'tables');
  if (count < 2 || placement === undefined) return;
  const needed = LENGTH_ROOM.narrow + QUADRANTS.length * quadrantWidth(layout.type.table, count);
  const { width } = cellOf(layout, 'left', placement);
  if (width >= needed - 1e-9) return;
  throw new InputFault(
    { file: `layout ${layout.name}`, place: 'tables' },
    `the aims at ${count} green speeds need tables ${needed.toFixed(1)} mm wide, and these are ${width.toFixed(1)} mm`,
    'take fewer speeds, smaller margins or smaller table type',
  );
};
