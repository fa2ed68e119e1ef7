import { InputFault } from '../fault.js';
import type { Point } from '../geometry.js';
import { type BreakMap, breakMap } from '../putt/break-map.js';
import { type PuttRegions, puttRegions } from '../putt/lanes.js';
import type { BreakTable, PuttSettings } from '../putt/putt.js';
import { type PracticeStation, practiceStation } from '../putt/station.js';
import { breakTable } from '../putt/table.js';
import { type FitReport, fitSurface, type Ground } from '../surface/fit.js';
import { type StoredSurface, surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import { type ReadOptions, readGreen } from '../terrain/read-green.js';
import type { Reading } from '../terrain/reading.js';

export interface StoredFit {
  readonly surface: StoredSurface;
  readonly report: FitReport;
}

export interface TableRequest {
  readonly holes: readonly Point[];
  /** Metres. */
  readonly lengths: readonly number[];
  readonly settings: PuttSettings;
  /** Whether lanes and leaves are wanted, too. */
  readonly regions: boolean;
  readonly breakMaps: boolean;
  readonly stations: boolean;
}

/** What is to be computed for one green; plain data, so that another thread can do it. */
export interface GreenJob {
  /** The survey's name and the hole's, for faults. */
  readonly source: string;
  readonly place: string;
  /** One of the two: what was measured, or the fit that is known already. */
  readonly ground: Ground | null;
  readonly fit: StoredFit | null;
  /** Null: to be read with `readOptions`. */
  readonly reading: Reading | null;
  readonly readOptions: Partial<ReadOptions>;
  readonly tables: readonly TableRequest[];
}

export interface GreenResult {
  readonly fit: StoredFit;
  readonly reading: Reading;
  /** One list a request, one table a hole, in the orders asked. */
  readonly tables: readonly (readonly BreakTable[])[];
  /** The same; empty lists where none were wanted. */
  readonly regions: readonly (readonly PuttRegions[])[];
  readonly breakMaps: readonly (readonly BreakMap[])[];
  readonly stations: readonly (readonly PracticeStation[])[];
}

const fitOf = (job: GreenJob): { readonly surface: Surface; readonly fit: StoredFit } => {
  if (job.fit !== null) return { surface: surfaceOfStored(job.fit.surface), fit: job.fit };
  if (job.ground === null) throw new Error(`${job.place} has neither a fit nor ground to fit`);
  try {
    const { surface, stored, report } = fitSurface(job.ground);
    return { surface, fit: { surface: stored, report } };
  } catch (error) {
    if (error instanceof InputFault && error.where.file === undefined) {
      throw new InputFault({ file: job.source, place: job.place }, error.problem, error.cure);
    }
    throw error;
  }
};

export const doGreenJob = (job: GreenJob): GreenResult => {
  if (job.fit !== null && job.reading !== null && job.tables.length === 0) {
    return {
      fit: job.fit,
      reading: job.reading,
      tables: [],
      regions: [],
      breakMaps: [],
      stations: [],
    };
  }
  const { surface, fit } = fitOf(job);
  return {
    fit,
    reading: job.reading ?? readGreen(surface, job.readOptions),
    tables: job.tables.map(({ holes, lengths, settings }) =>
      holes.map((hole) => breakTable(surface, hole, lengths, settings)),
    ),
    regions: job.tables.map(({ holes, settings, regions }) =>
      regions ? holes.map((hole) => puttRegions(surface, breakMap(surface, hole, settings))) : [],
    ),
    breakMaps: job.tables.map(({ holes, settings, breakMaps }) =>
      breakMaps ? holes.map((hole) => breakMap(surface, hole, settings)) : [],
    ),
    stations: job.tables.map(({ holes, settings, stations }) =>
      stations ? holes.map((hole) => practiceStation(surface, hole, settings)) : [],
    ),
  };
};
