import type { SurfaceChange } from '../../event/surface-change.js';
import type { Point } from '../../geometry.js';
import { metresToFeet, metresToInches, type UnitSystem } from '../../units.js';
import { withUnit } from '../kit/unit-words.js';
import { phrase, type Telling, type Worded } from '../words/words.js';

/** Where a place is, in words: paces on a green of a course, else coordinates. */
export type PlaceWords = (at: Point, tell: Worded) => string;

/** A difference of heights, metres. */
export const heightWords = (metres: number, units: UnitSystem): string =>
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
  tell: Telling,
): string[] => {
  const height = (metres: number): string => withUnit(heightWords(metres, tell.units), tell);
  const area = (squareMetres: number): string =>
    withUnit(areaWords(squareMetres, tell.units), tell);
  const way = change.shift < 0 ? 'lower' : 'higher';
  const tense = change.levelled ? 'lay' : isOffset(change) ? 'lies' : null;
  const size = height(Math.abs(change.shift));
  return [
    change.regions.length === 0
      ? phrase(tell, 'moved.nothing', { sd: height(change.medianSd) })
      : phrase(tell, 'moved.area', { area: area(change.movedArea), green: area(greenArea) }),
    ...(tense === null ? [] : [phrase(tell, `moved.${tense}-${way}`, { size })]),
    ...(change.unknownArea < 1
      ? []
      : [phrase(tell, 'moved.unknown', { area: area(change.unknownArea) })]),
    ...change.regions.map((region) =>
      phrase(tell, region.meanChange > 0 ? 'moved.rose' : 'moved.sank', {
        area: area(region.area),
        place: place(region.middle, tell),
        mean: height(Math.abs(region.meanChange)),
        most: height(Math.abs(region.greatestChange)),
        sd: height(region.meanSd),
      }),
    ),
  ];
};

/** The tables to print again, in one sentence for a figure; null where none are compared. */
export const tablesToPrint = (
  tables: readonly { readonly name: string; readonly isChanged: boolean }[],
  tell: Worded,
): string | null => {
  const list = tables.flatMap(({ name, isChanged }) => (isChanged ? [name] : [])).join(', ');
  if (tables.length === 0) return null;
  return list === '' ? phrase(tell, 'moved.no-tables') : phrase(tell, 'moved.tables', { list });
};
