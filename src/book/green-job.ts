import type { PlacedHoleLocation } from '../course/course.js';
import { faultsAt } from '../fault.js';
import type { LocationContent } from '../page/book-content.js';
import { breakMap } from '../putt/break-map.js';
import { puttRegions } from '../putt/lanes.js';
import { practiceStation } from '../putt/station.js';
import { tablesAtSpeeds } from '../putt/table.js';
import { type FitReport, fitSurface, type Ground } from '../surface/fit.js';
import { type StoredSurface, surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import { fallAt } from '../terrain/fall.js';
import { type ReadingOptions, readGreen } from '../terrain/read-green.js';
import type { Reading } from '../terrain/reading.js';

export interface StoredFit {
  readonly surface: StoredSurface;
  readonly report: FitReport;
}

/** What is wanted of every hole location of a green. */
export interface HolesRequest {
  readonly locations: readonly PlacedHoleLocation[];
  /** Lengths of the tables and the pace past the hole, metres. */
  readonly lengths: readonly number[];
  readonly past: number;
  /** Green speeds of the tables, stimp readings in metres; all else is made at the first. */
  readonly stimps: readonly number[];
  /** Whether lanes and leaves, break maps, practice stations are wanted, too. */
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
  readonly readOptions: Partial<ReadingOptions>;
  /** Null: the fit and the reading are all that is wanted. */
  readonly request: HolesRequest | null;
}

export interface GreenResult {
  readonly fit: StoredFit;
  readonly reading: Reading;
  /** In the order asked. */
  readonly locations: readonly LocationContent[];
}

const fitOf = (job: GreenJob): { readonly surface: Surface; readonly fit: StoredFit } => {
  if (job.fit !== null) return { surface: surfaceOfStored(job.fit.surface), fit: job.fit };
  const { ground, source, place } = job;
  if (ground === null) throw new Error(`${place} has neither a fit nor ground to fit`);
  const { surface, stored, report } = faultsAt({ file: source, place }, () => fitSurface(ground));
  return { surface, fit: { surface: stored, report } };
};

const doLocation = (
  surface: Surface,
  place: PlacedHoleLocation,
  request: HolesRequest,
): LocationContent => {
  const hole = place.at;
  const { lengths, stimps, past, regions, breakMaps, stations } = request;
  const settings = { stimp: stimps[0], past };
  const map = regions || breakMaps ? breakMap(surface, hole, settings) : null;
  const [table, ...atSpeeds] = tablesAtSpeeds(surface, hole, lengths, stimps, past);
  return {
    ...place,
    ground: fallAt(surface, hole),
    table,
    atSpeeds,
    regions: map !== null && regions ? puttRegions(surface, map) : null,
    breakMap: breakMaps ? map : null,
    station: stations ? practiceStation(surface, hole, settings) : null,
    approach: null,
  };
};

export const doGreenJob = (job: GreenJob): GreenResult => {
  const { request } = job;
  if (job.fit !== null && job.reading !== null && request === null) {
    return { fit: job.fit, reading: job.reading, locations: [] };
  }
  const { surface, fit } = fitOf(job);
  return {
    fit,
    reading: job.reading ?? readGreen(surface, job.readOptions),
    locations:
      request === null ? [] : request.locations.map((place) => doLocation(surface, place, request)),
  };
};
