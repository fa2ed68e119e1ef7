import { InputFault } from '../../fault.js';
import { SURVEY_LIMITS } from '../../input-limits.js';
import { columnsOfHeader } from './column-names.js';
import type { Columns } from './points-columns.js';
import { type Dialect, splitFields } from './points-dialect.js';
import { completeness, isComment, uncommented } from './points-header.js';
import { unitOfPreamble } from './points-units.js';
import type { Line } from './text-lines.js';

const CURE = 'write each block of points to a file of its own';

/**
 * Looks whether a line among the points, which is no point, would have the rest read otherwise.
 *
 * @throws InputFault when it names the columns in another order or unit, or states another unit.
 */
export const refuseChange = (
  line: Line,
  { columns, dialect }: { readonly columns: Columns; readonly dialect: Dialect },
  source: string,
): void => {
  if (line.text.length > SURVEY_LIMITS.lineOfChange) return;
  const text = isComment(line.text) ? uncommented(line.text) : line.text;
  const refuse = (problem: string): never => {
    throw new InputFault({ file: source, place: `line ${line.number}` }, problem, CURE);
  };
  const named = columnsOfHeader(splitFields(text, dialect));
  if (completeness(named) === 3) {
    const moved = (['x', 'y', 'z'] as const).some(
      (column) => named.findIndex((one) => one.column === column) !== columns.at[column],
    );
    if (moved) refuse('the names of the columns stand in another order from here on');
    const unit = named[columns.at.x].unit;
    const { stated, factor } = columns;
    if (unit !== null && (unit.unit !== (stated.unit ?? 'm') || unit.factor !== factor.x))
      refuse('the names of the columns state another unit from here on');
  }
  const unit = unitOfPreamble([{ number: line.number, text }]);
  if (unit !== null && unit.unit !== (columns.stated.unit ?? 'm'))
    refuse('the line states another unit of length for what follows');
};
