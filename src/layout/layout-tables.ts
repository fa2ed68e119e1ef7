import { feetToMetres, inchesToMetres, type UnitSystem } from '../units.js';
import type { Layout } from './layout.js';

/** Lengths, pace and green speeds of the tables, told in one unit: feet and inches past the hole, or metres. */
interface TablesInUnit {
  readonly lengths?: readonly number[];
  readonly past?: number;
  readonly speeds?: readonly number[];
  readonly speedSteps?: readonly number[];
}

/** The key `tables` of a layout file: its own unit, and what stands instead where the book is in these units. */
export interface TablesOfFile extends TablesInUnit {
  readonly unit?: 'ft' | 'm';
  readonly pace?: Layout['tables']['pace'];
  readonly imperial?: TablesInUnit;
  readonly metric?: TablesInUnit;
}

type Unit = 'ft' | 'm';

const ROUND_LENGTHS: Readonly<Record<Unit, readonly number[]>> = {
  ft: [3, 6, 10, 15, 20, 30],
  m: [1, 2, 3, 5, 7, 9],
};
const UNITS_SHOWN: Readonly<Record<UnitSystem, Unit>> = { imperial: 'ft', metric: 'm' };

const toMetres = (unit: Unit): ((value: number) => number) =>
  unit === 'm' ? (value) => value : feetToMetres;

/** The same in metres; what is not told is left out. */
const inMetres = (told: TablesInUnit, unit: Unit): TablesInUnit => {
  const metres = toMetres(unit);
  const { lengths, past, speeds, speedSteps } = told;
  return {
    ...(lengths === undefined ? {} : { lengths: lengths.map(metres) }),
    ...(past === undefined ? {} : { past: unit === 'm' ? past : inchesToMetres(past) }),
    ...(speeds === undefined ? {} : { speeds: speeds.map(metres) }),
    ...(speedSteps === undefined ? {} : { speedSteps: speedSteps.map(metres) }),
  };
};

/** What is told in the file's own unit, and round lengths of `round` where it tells none. */
const ownTables = (told: TablesOfFile, round: Unit): Layout['tables'] => ({
  lengths: ROUND_LENGTHS[round].map(toMetres(round)),
  past: inchesToMetres(12),
  speeds: [],
  speedSteps: [],
  ...inMetres(told, told.unit ?? 'ft'),
  pace: told.pace ?? 'level',
});

/** What the tables of a book hold that is shown in `units`, metres. */
export const tablesOf = (told: TablesOfFile, units: UnitSystem): Layout['tables'] => ({
  ...ownTables(told, units === 'metric' ? 'm' : (told.unit ?? 'ft')),
  ...inMetres(told[units] ?? {}, UNITS_SHOWN[units]),
});

/** Tables as they are told, each with its unit and its place under the key: the file's own, then those of other units. */
export const toldTables = (
  told: TablesOfFile,
): { path: readonly string[]; tables: Layout['tables']; unit: Unit }[] => {
  const unit = told.unit ?? 'ft';
  const others = (['imperial', 'metric'] as const).filter((units) => told[units] !== undefined);
  return [
    { path: [], tables: ownTables(told, unit), unit },
    ...others.map((units) => ({
      path: [units],
      tables: tablesOf(told, units),
      unit: UNITS_SHOWN[units],
    })),
  ];
};
