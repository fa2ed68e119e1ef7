import { judgeSurvey } from '../appraisal/judge-survey.js';
import {
  closedToPutts,
  type GreenWorth,
  overruledBy,
  type TrustEntry,
} from '../appraisal/worth.js';
import type { PlacedHoleLocation } from '../course/course.js';
import { faultsAt, InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import { bareLocation, type LocationContent } from '../page/book-content.js';
import { type BreakMap, breakMap, nodeMap, nodesOf } from '../putt/break-map.js';
import { lanesAndLeave, type PuttRegions, puttRegions } from '../putt/lanes.js';
import type { PuttSettings } from '../putt/putt.js';
import { practiceStation } from '../putt/station.js';
import { tablesAtSpeeds } from '../putt/table.js';
import { type FitReport, fitSurface, groundOfSurvey } from '../surface/fit.js';
import { type StoredSurface, surfaceOfStored } from '../surface/stored-surface.js';
import type { Surface } from '../surface/surface.js';
import type { Survey } from '../survey/survey.js';
import { fallAt } from '../terrain/fall.js';
import { type ReadingOptions, readGreen } from '../terrain/read-green.js';
import type { Reading } from '../terrain/reading.js';
import type { UnitSystem } from '../units.js';
import {
  crossingBare,
  isBare,
  surveyedRegions,
  surveyedStation,
  surveyedTable,
} from './surveyed-only.js';

export interface StoredFit {
  readonly surface: StoredSurface;
  readonly report: FitReport;
}

/** Lanes and the best leave, as pages show them; with `bends` all that a map of the green tells, too. */
export type WantedRegions = 'none' | 'lanes' | 'bends';

/** What is wanted of every hole location of a green. */
export interface HolesRequest {
  readonly locations: readonly PlacedHoleLocation[];
  /** Lengths of the tables and the pace past the hole, metres. */
  readonly lengths: readonly number[];
  readonly past: number;
  /** Green speeds of the tables, stimp readings in metres; all else is made at the first. */
  readonly stimps: readonly number[];
  /** What is told of putts from all over the green. */
  readonly regions: WantedRegions;
  /** Whether break maps, practice stations are wanted, too. */
  readonly breakMaps: boolean;
  readonly stations: boolean;
}

/** What is to be computed for one green; plain data, so that another thread can do it. */
export interface GreenJob {
  /** The survey's name and the hole's, for faults. */
  readonly source: string;
  readonly place: string;
  /** What was measured, in the frame of the green; null where fit and worth are known already. */
  readonly measured: { readonly survey: Survey; readonly outline: Ring } | null;
  readonly fit: StoredFit | null;
  /** The judgement of the survey, in the words of `units`. */
  readonly worth: GreenWorth | null;
  readonly units: UnitSystem;
  /** When and how it was surveyed, and what is printed against the judgement, as the course file says. */
  readonly surveyed: string | null;
  readonly trust: TrustEntry | null;
  /** Null: to be read with `readOptions`. */
  readonly reading: Reading | null;
  readonly readOptions: Partial<ReadingOptions>;
  /** Null: the fit and the reading are all that is wanted. */
  readonly request: HolesRequest | null;
  /** What is wrong with pages that the green may have. */
  readonly refused?: RefusedPages;
}

/** A fault of a kind of page that shows before any putt is solved, as threads tell it; null where nothing does. */
type PageFault = Pick<InputFault, 'where' | 'problem' | 'cure'> | null;

/** Faults of the page of a green whose survey is worth more than the outline, and of its tables. */
export interface RefusedPages {
  readonly green: PageFault;
  readonly tables: PageFault;
}

/**
 * What is printed of a survey of such a worth.
 *
 * @throws InputFault where a page that the green has by it would fail its check.
 */
export const printedWorth = (
  { trust, refused }: Pick<GreenJob, 'trust' | 'refused'>,
  judged: GreenWorth,
): GreenWorth => {
  const printed = overruledBy(judged, trust);
  const { green = null, tables = null } = refused ?? {};
  const { worth } = printed;
  const fault = worth === 'outline' ? null : (green ?? (worth === 'tables' ? tables : null));
  if (fault !== null) throw new InputFault(fault.where, fault.problem, fault.cure);
  return printed;
};

export interface GreenResult {
  readonly fit: StoredFit;
  readonly reading: Reading;
  /** The survey's own judgement, which the course file may overrule. */
  readonly worth: GreenWorth;
  /** In the order asked. */
  readonly locations: readonly LocationContent[];
}

const fitOf = (job: GreenJob): { readonly surface: Surface; readonly fit: StoredFit } => {
  if (job.fit !== null) return { surface: surfaceOfStored(job.fit.surface), fit: job.fit };
  const { measured, source, place } = job;
  if (measured === null) throw new Error(`${place} has neither a fit nor ground to fit`);
  const { survey, outline } = measured;
  const { surface, stored, report } = faultsAt({ file: source, place }, () =>
    fitSurface({ ...groundOfSurvey(survey), outline }),
  );
  return { surface, fit: { surface: stored, report } };
};

const judgedWorth = (
  job: GreenJob,
  surface: Surface,
  report: FitReport,
  reading: Reading,
): GreenWorth => {
  if (job.worth !== null) return job.worth;
  if (job.measured === null) throw new Error(`${job.place} has no survey to judge`);
  const { measured, surveyed, units, readOptions } = job;
  const green = { ...measured, drains: readOptions.drains ?? [], surveyed };
  return judgeSurvey({ ...green, surface, report, reading }, units);
};

/** What is told of putts from all over the green; of what is asked for no more is solved than it takes. */
const regionsOf = (
  surface: Surface,
  hole: Point,
  settings: PuttSettings,
  {
    regions,
    breakMaps,
    bare,
  }: Pick<HolesRequest, 'regions' | 'breakMaps'> & Pick<GreenWorth, 'bare'>,
): { readonly map: BreakMap | null; readonly regions: PuttRegions | null } => {
  const crossesUnknown = crossingBare(bare);
  const isWanted = breakMaps || regions === 'bends';
  const map = isWanted ? breakMap(surface, hole, settings, crossesUnknown) : null;
  if (regions === 'none') return { map, regions: null };
  return {
    map,
    regions:
      map !== null && regions === 'bends'
        ? puttRegions(surface, map)
        : lanesAndLeave(
            surface,
            map === null ? nodeMap(surface, hole, settings, crossesUnknown) : nodesOf(map),
          ),
  };
};

/** One hole location, as far as the worth of its green allows. */
const doLocation = (
  surface: Surface,
  place: PlacedHoleLocation,
  request: HolesRequest,
  { worth, bare, unsure }: GreenWorth,
): LocationContent => {
  const told = bareLocation(place);
  if (worth === 'outline') return told;
  const hole = place.at;
  const ground = isBare(bare, hole) ? null : fallAt(surface, hole);
  if (worth === 'arrows' || ground === null) return { ...told, ground };
  const { lengths, stimps, past, breakMaps, stations } = request;
  const settings = { stimp: stimps[0], past };
  const closed = closedToPutts({ bare, unsure });
  const { map, regions } = regionsOf(surface, hole, settings, { ...request, bare: closed });
  const tables = tablesAtSpeeds(surface, hole, lengths, stimps, past);
  const [table, ...atSpeeds] = tables.map((one) => surveyedTable(one, closed));
  return {
    ...told,
    ground,
    table,
    atSpeeds,
    regions: regions === null ? null : surveyedRegions(regions, closed),
    breakMap: breakMaps ? map : null,
    station: stations ? surveyedStation(practiceStation(surface, hole, settings), closed) : null,
  };
};

export const doGreenJob = (job: GreenJob): GreenResult => {
  const { request } = job;
  if (job.fit !== null && job.reading !== null && job.worth !== null && request === null) {
    return { fit: job.fit, reading: job.reading, worth: job.worth, locations: [] };
  }
  if (job.worth !== null) printedWorth(job, job.worth);
  const { surface, fit } = fitOf(job);
  const reading = job.reading ?? readGreen(surface, job.readOptions);
  const worth = judgedWorth(job, surface, fit.report, reading);
  const printed = printedWorth(job, worth);
  return {
    fit,
    reading,
    worth,
    locations:
      request === null
        ? []
        : request.locations.map((place) => doLocation(surface, place, request, printed)),
  };
};
