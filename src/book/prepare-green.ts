import { overruledBy } from '../appraisal/worth.js';
import type { Course, GreenGround, GreenSite, Hole, PlacedHoleLocation } from '../course/course.js';
import { fileOfCourse } from '../course/course-files.js';
import { readOptionsOf } from '../course/green-ground.js';
import { groundReader } from '../course/shared-surveys.js';
import type { Notes } from '../event/notes-file.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent } from '../page/book-content.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type { UnitSystem } from '../units.js';
import type { Cache } from './cache.js';
import { type Digests, surveyDigest } from './cache-keys.js';
import { doubtfulShare } from './doubtful-share.js';
import type {
  GreenJob,
  GreenResult,
  HolesRequest,
  RefusedPages,
  StoredFit,
  WantedRegions,
} from './green-job.js';
import { costOf, doGreenJobs } from './green-pool.js';
import type { GroundInShort } from './ground-in-short.js';
import {
  digestOfKeys,
  type KeptGreen,
  type KeptKeys,
  keepGreen,
  keysOfGreen,
  recallFit,
  recallGreen,
} from './kept-green.js';
import { withLikelyReading } from './likely-reading.js';
import { surveyedReading } from './surveyed-only.js';

/** A green that a book or a day needs, with the hole locations and the green speed it is needed for. */
export interface WantedGreen {
  readonly hole: Hole;
  readonly locations: readonly PlacedHoleLocation[];
  /** Metres of stimp reading. */
  readonly stimp: number;
  /** What its content tells of putts from all over it; none where it is not said. */
  readonly regions?: WantedRegions;
  /** Whether the fit in short will do: where nothing has to be solved on it, it is not read from the cache. */
  readonly inShort?: boolean;
}

/** Told of each green as it becomes ready. */
export type OnProgress = (label: string, done: number, total: number) => void;

const SILENT: OnProgress = () => {};

export interface PrepareOptions {
  /** In which the judgement of a green is worded. */
  readonly units?: UnitSystem;
  readonly onProgress?: OnProgress;
  /** As many as pay where it is left out; none: the thread that asks does all itself. */
  readonly threads?: number;
  /** Asked once before anything is solved: what is wrong with the pages of greens. */
  readonly beforeSolving?: () => Promise<RefusedPages>;
}

export interface GreenOfBook {
  readonly hole: Hole;
  readonly content: GreenContent;
  /** An error of ours where the green was wanted in short. */
  readonly fit: StoredFit;
  readonly ground: GroundInShort;
  /** Under which the fit is kept. */
  readonly fitKey: string;
  /** Of the survey alone, for later editions. */
  readonly surveyDigest: string;
  /** Of all that fit, reading, judgement and putts depend on. */
  readonly digest: string;
}

/** The slowest green that a table is made for: no stimp reading is shorter, metres. */
const SLOWEST = 1;

/** The green speeds of a table, each once, the green's own first; stimp readings in metres. */
export const speedsOfTables = (
  { speeds, speedSteps }: Layout['tables'],
  own: number,
): readonly number[] => {
  const kept = [own];
  for (const one of [...speedSteps.map((step) => own + step), ...speeds]) {
    const isNew = kept.every((other) => Math.abs(other - one) > 1e-6);
    if (one >= SLOWEST && isNew) kept.push(one);
  }
  return kept;
};

/** All greens of the course that have a survey, at their own locations and speed. */
export const greensOfBook = (course: Course): WantedGreen[] => {
  const wanted = course.holes.flatMap((hole): WantedGreen[] =>
    hole.green === null
      ? []
      : [{ hole, locations: hole.green.locations, stimp: hole.green.stimp, regions: 'lanes' }],
  );
  if (wanted.length > 0) return wanted;
  throw new InputFault(
    { file: course.file, place: 'holes' },
    'no hole names a survey',
    'give at least one',
  );
};

/** The same in short, but for greens that the notes tell putts of: those are solved on the fit itself. */
export const wantedInShort = (wanted: readonly WantedGreen[], notes?: Notes): WantedGreen[] =>
  wanted.map((green) => {
    const noted = notes?.holes.filter(({ holeId }) => holeId === green.hole.id) ?? [];
    return { ...green, inShort: noted.every(({ putts }) => putts.length === 0) };
  });

const siteOf = (hole: Hole): GreenSite => {
  if (hole.green === null) throw new Error(`hole ${hole.id} has no green to prepare`);
  return hole.green;
};

/** What is known of a green before its survey is read, in the frame of the green. */
export const framed = (site: GreenSite): { readonly outline: Ring; readonly drains: Point[] } => ({
  outline: ringInFrame(site.frame, site.outline),
  drains: site.drains.map(([x, y]) => toGreenFrame(site.frame, x, y)),
});

/** The survey of a green in its frame; what its coverage tells of how it was read stands in its notes. */
const measuredOn = async (
  course: Course,
  hole: Hole,
  { survey, outline }: GreenGround,
): Promise<GreenJob['measured']> => {
  const site = siteOf(hole);
  const path = fileOfCourse(course.folder, site.survey.file);
  const told = await withLikelyReading(survey, path, readOptionsOf(site.survey), site);
  return { survey: told, outline };
};

/** What a layout's pages want of a green's hole locations; null where it has none. */
const requestOf = (
  { locations, stimp, regions = 'none' }: WantedGreen,
  { tables, pages }: Layout,
): HolesRequest | null =>
  locations.length === 0
    ? null
    : {
        locations,
        lengths: tables.lengths,
        past: tables.past,
        stimps: speedsOfTables(tables, stimp),
        regions,
        breakMaps: pages['break-map'] !== undefined,
        stations: pages.station !== undefined,
      };

/** Milliseconds of work: what is left to do in less is done before the pages of a book have been drawn to check them. */
const WORTH_EARLY_CHECK = 1500;

/** A green as far as it is known before anything is made: `job` is null where nothing is left to do. */
interface PlannedGreen {
  readonly keys: KeptKeys;
  readonly kept: KeptGreen;
  readonly job: GreenJob | null;
}

/** What its pages show of a green, with its fit where that was read or made. */
interface ReadyGreen extends Omit<GreenResult, 'fit'> {
  readonly fit: StoredFit | null;
  readonly ground: GroundInShort;
}

/** All that is kept, where nothing has to be made and the fit itself is not asked for. */
const readyOfKept = ({ ground, reading, worth, putts }: KeptGreen): ReadyGreen | null =>
  ground === null || reading === null || worth === null
    ? null
    : { fit: null, ground, reading, worth, locations: putts ?? [] };

/** A green with all that was made or kept of it. */
const greenOfBook = (
  { hole, stimp }: WantedGreen,
  { fit, ground, reading, locations, ...made }: ReadyGreen,
  { tables }: Layout,
): Pick<GreenOfBook, 'hole' | 'fit' | 'ground' | 'content'> => {
  const site = siteOf(hole);
  const worth = overruledBy(made.worth, site.trust);
  return {
    hole,
    get fit() {
      if (fit === null) throw new Error(`the fit of hole ${hole.id} was wanted in short`);
      return fit;
    },
    ground,
    content: {
      holeId: hole.id,
      name: hole.name,
      par: hole.par,
      ...framed(site),
      reading: surveyedReading(reading, worth.bare),
      worth: { ...worth, doubtfulCells: doubtfulShare(locations) },
      locations,
      stimp,
      past: tables.past,
    },
  };
};

/**
 * Fits, reads and solves greens; what the cache holds of them is not made again. In the order wanted.
 *
 * @throws InputFault for the first green whose survey is damaged or too thin.
 */
export const prepareGreens = async (
  course: Course,
  wanted: readonly WantedGreen[],
  layout: Layout,
  cache: Cache,
  { units = 'imperial', onProgress = SILENT, threads, beforeSolving }: PrepareOptions = {},
): Promise<GreenOfBook[]> => {
  const { bandThresholds, contourInterval } = layout.green;
  const digests: Digests = new Map();
  const readGround = groundReader(
    course,
    wanted.map(({ hole }) => hole),
  );
  const planned: PlannedGreen[] = [];
  let refused: RefusedPages | undefined;
  let work = 0;
  for (const wantedGreen of wanted) {
    const { hole, inShort = false } = wantedGreen;
    const site = siteOf(hole);
    const readOptions = { bandThresholds, contourInterval, drains: framed(site).drains };
    const asked = requestOf(wantedGreen, layout);
    const of = { site, options: readOptions, units, request: asked };
    const keys = keysOfGreen(course, of, cache, digests);
    const kept = recallGreen(cache, keys);
    const request = kept.putts === null ? asked : null;
    if (inShort && request === null && readyOfKept(kept) !== null) {
      planned.push({ keys, kept, job: null });
      continue;
    }
    const fit = recallFit(cache, keys);
    const job: GreenJob = {
      source: site.survey.file,
      place: `hole ${hole.id}`,
      measured: null,
      fit,
      ...{ worth: kept.worth, reading: kept.reading },
      units,
      surveyed: site.survey.surveyed,
      trust: site.trust,
      readOptions,
      request,
    };
    if (request !== null) work += costOf(job);
    // Drawing all pages takes longer than a few putts do.
    if (request !== null && (fit === null || work > WORTH_EARLY_CHECK)) {
      refused ??= await beforeSolving?.();
    }
    const isMeasured = fit === null || kept.worth === null;
    const measured = isMeasured ? await measuredOn(course, hole, await readGround(hole)) : null;
    planned.push({ keys, kept, job: { ...job, measured } });
  }
  let done = 0;
  const tell = ({ hole }: WantedGreen): void => {
    done += 1;
    onProgress(`green ${hole.id}, ${hole.name}`, done, wanted.length);
  };
  const left = planned.flatMap(({ keys, kept, job }, i) => {
    if (job !== null) return [{ i, keys, kept, job: { ...job, ...(refused && { refused }) } }];
    tell(wanted[i]);
    return [];
  });
  const ready = planned.map(({ kept }) => readyOfKept(kept));
  const onDone = (at: number, result: GreenResult): void => {
    const { i, keys, kept, job } = left[at];
    tell(wanted[i]);
    const ground = keepGreen(cache, keys, { job, kept }, result);
    const { reading, worth } = result;
    const fit = wanted[i].inShort === true ? null : result.fit;
    ready[i] = { fit, ground, reading, worth, locations: kept.putts ?? result.locations };
  };
  await doGreenJobs(
    left.map(({ job }) => job),
    { onDone, ...(threads === undefined ? {} : { threads }) },
  );
  return wanted.map((green, i): GreenOfBook => {
    const { keys } = planned[i];
    const made = ready[i];
    if (made === null) throw new Error(`hole ${green.hole.id} was not made`);
    return Object.assign(greenOfBook(green, made, layout), {
      fitKey: keys.fit,
      surveyDigest: surveyDigest(course, siteOf(green.hole), digests),
      digest: digestOfKeys(keys),
    });
  });
};
