import type { SurfaceChange } from '../event/surface-change.js';
import { type CellChange, HALF_A_HOLE, type TableChange } from '../event/table-change.js';
import type { Point } from '../geometry.js';
import type { TableCell } from '../putt/putt.js';
import { aimReading, lengthReading } from '../putt/rounding.js';
import { metresToFeet, metresToInches, type UnitSystem } from '../units.js';

/** Where a place is, in words: paces on a green of a course, else coordinates. */
export type PlaceWords = (at: Point) => string;

const heightWords = (metres: number, units: UnitSystem): string =>
  units === 'metric'
    ? `${(metres * 1000).toFixed(0)} mm`
    : `${metresToInches(metres).toFixed(metres < 0.0127 ? 2 : 1)} in`;

const areaWords = (squareMetres: number, units: UnitSystem): string =>
  units === 'metric'
    ? `${squareMetres.toFixed(1)} m²`
    : `${Math.round(squareMetres * metresToFeet(1) ** 2)} sq ft`;

/** Standard deviations from which on a common difference is no accident. */
const CLEAR = 3;

/** Whether all of the green differs by more than the errors of both surveys explain. */
export const isOffset = ({ shift, shiftSd, medianSd }: SurfaceChange): boolean =>
  Math.abs(shift) > (shiftSd === null ? 2 * medianSd : CLEAR * shiftSd);

/** One sentence each: what moved, or that nothing did. */
export const changeSentences = (
  change: SurfaceChange,
  greenArea: number,
  place: PlaceWords,
  units: UnitSystem,
): string[] => {
  const size = heightWords(Math.abs(change.shift), units);
  const way = change.shift < 0 ? 'lower' : 'higher';
  const overall = change.levelled
    ? `The newer survey lay ${size} ${way} as a whole; that is taken off.`
    : isOffset(change)
      ? `The newer survey lies ${size} ${way} as a whole: another benchmark? --level takes that off.`
      : null;
  const known =
    change.unknownArea < 1
      ? null
      : `${areaWords(change.unknownArea, units)} are surveyed too thinly to tell.`;
  const moved =
    change.regions.length === 0
      ? `Nothing moved beyond the uncertainty of both surveys (one standard deviation of the difference: ${heightWords(change.medianSd, units)}).`
      : `${areaWords(change.movedArea, units)} of ${areaWords(greenArea, units)} moved beyond the uncertainty of both surveys (a false alarm on about one green in 20).`;
  return [moved, ...[overall, known].filter((words) => words !== null)].concat(
    change.regions.map((region) => {
      const verb = region.meanChange > 0 ? 'rose' : 'sank';
      const mean = heightWords(Math.abs(region.meanChange), units);
      const most = heightWords(Math.abs(region.greatestChange), units);
      return `${areaWords(region.area, units)} round ${place(region.middle)} ${verb} by ${mean} on average, ${most} at most (± ${heightWords(region.meanSd, units)}).`;
    }),
  );
};

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

/** The tables to print again, in one sentence for a figure. */
export const tablesToPrint = (tables: readonly TableChange[]): string | null => {
  const names = tables.filter((table) => table.changed.length > 0).map((table) => table.name);
  if (tables.length === 0) return null;
  return names.length === 0
    ? 'No table needs to be printed again.'
    : `Tables to print again: ${names.join(', ')}.`;
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
