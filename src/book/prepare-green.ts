import { type GreenWorth, overruledBy } from '../appraisal/worth.js';
import type { Course, GreenGround, GreenSite, Hole, PlacedHoleLocation } from '../course/course.js';
import { fileOfCourse } from '../course/course-files.js';
import { readOptionsOf } from '../course/green-ground.js';
import { groundReader } from '../course/shared-surveys.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent, LocationContent } from '../page/book-content.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type { ReadingOptions } from '../terrain/read-green.js';
import type { Reading } from '../terrain/reading.js';
import type { UnitSystem } from '../units.js';
import { type Cache, keep, recall } from './cache.js';
import {
  type Digests,
  digestOfParts,
  fitKey,
  programDigest,
  puttsKey,
  readingKey,
  surveyDigest,
  worthKey,
} from './cache-keys.js';
import { doubtfulShare } from './doubtful-share.js';
import type {
  GreenJob,
  GreenResult,
  HolesRequest,
  RefusedPages,
  StoredFit,
  WantedRegions,
} from './green-job.js';
import { doGreenJobs } from './green-pool.js';
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
  readonly fit: StoredFit;
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

/** The keys under which what is made of a green is kept. */
interface Kept {
  readonly fit: string;
  readonly reading: string;
  readonly worth: string;
  /** Null where no putts are asked for. */
  readonly putts: string | null;
}

const digestOfKept = ({ fit, reading, worth, putts }: Kept): string =>
  digestOfParts([fit, reading, worth, putts ?? '']);

interface Asked {
  readonly hole: Hole;
  readonly options: Partial<ReadingOptions>;
  readonly units: UnitSystem;
  readonly request: HolesRequest | null;
}

const keptAs = (
  course: Course,
  { hole, options, units, request }: Asked,
  program: string,
  digests: Digests,
): Kept => {
  const site = siteOf(hole);
  const fit = fitKey(course, site, program, digests);
  return {
    fit,
    reading: readingKey(fit, options),
    worth: worthKey(fit, units),
    putts: request === null ? null : puttsKey(fit, site.trust, request),
  };
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
  const program = cache.folder === null ? '' : programDigest();
  const digests: Digests = new Map();
  const readGround = groundReader(
    course,
    wanted.map(({ hole }) => hole),
  );
  const kept: Kept[] = [];
  const jobs: GreenJob[] = [];
  const solved: (readonly LocationContent[] | null)[] = [];
  let refused: RefusedPages | undefined;
  for (const wantedGreen of wanted) {
    const { hole } = wantedGreen;
    const site = siteOf(hole);
    const readOptions = { bandThresholds, contourInterval, drains: framed(site).drains };
    const asked = requestOf(wantedGreen, layout);
    const at = keptAs(
      course,
      { hole, options: readOptions, units, request: asked },
      program,
      digests,
    );
    const fit = recall<StoredFit>(cache, 'fit', at.fit);
    const worth = recall<GreenWorth>(cache, 'worth', at.worth);
    const putts = at.putts === null ? null : recall<LocationContent[]>(cache, 'putts', at.putts);
    if (putts === null && asked !== null) refused ??= await beforeSolving?.();
    kept.push(at);
    solved.push(putts);
    jobs.push({
      source: site.survey.file,
      place: `hole ${hole.id}`,
      measured:
        fit === null || worth === null
          ? await measuredOn(course, hole, await readGround(hole))
          : null,
      fit,
      worth,
      units,
      surveyed: site.survey.surveyed,
      trust: site.trust,
      reading: recall<Reading>(cache, 'reading', at.reading),
      readOptions,
      request: putts === null ? asked : null,
      ...(refused === undefined ? {} : { refused }),
    });
  }
  let ready = 0;
  const onDone = (i: number, { fit, reading, worth, locations }: GreenResult): void => {
    ready += 1;
    onProgress(`green ${wanted[i].hole.id}, ${wanted[i].hole.name}`, ready, jobs.length);
    if (jobs[i].fit === null) keep(cache, 'fit', kept[i].fit, fit);
    if (jobs[i].reading === null) keep(cache, 'reading', kept[i].reading, reading);
    if (jobs[i].worth === null) keep(cache, 'worth', kept[i].worth, worth);
    const { putts } = kept[i];
    if (jobs[i].request !== null && putts !== null) keep(cache, 'putts', putts, locations);
  };
  const results = await doGreenJobs(jobs, {
    onDone,
    ...(threads === undefined ? {} : { threads }),
  });
  return wanted.map(({ hole, stimp }, i): GreenOfBook => {
    const { fit, reading } = results[i];
    const locations = solved[i] ?? results[i].locations;
    const site = siteOf(hole);
    const worth = overruledBy(results[i].worth, site.trust);
    return {
      hole,
      fit,
      fitKey: kept[i].fit,
      surveyDigest: surveyDigest(course, site, digests),
      digest: digestOfKept(kept[i]),
      content: {
        holeId: hole.id,
        name: hole.name,
        par: hole.par,
        ...framed(site),
        reading: surveyedReading(reading, worth.bare),
        worth: { ...worth, doubtfulCells: doubtfulShare(locations) },
        locations,
        stimp,
        past: layout.tables.past,
      },
    };
  });
};
