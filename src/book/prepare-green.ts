import { join } from 'node:path';
import type { Course, GreenSite, Hole, PlacedHoleLocation } from '../course/course.js';
import { readGreenGround } from '../course/green-ground.js';
import { InputFault } from '../fault.js';
import type { Point, Ring } from '../geometry.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent } from '../page/book-content.js';
import { type Ground, groundOfSurvey } from '../surface/fit.js';
import { ringInFrame, toGreenFrame } from '../survey/survey.js';
import type { ReadingOptions } from '../terrain/read-green.js';
import type { Reading } from '../terrain/reading.js';
import { type Cache, keep, openCache, recall } from './cache.js';
import { fitKey, programDigest, readingKey } from './cache-keys.js';
import type { GreenJob, StoredFit } from './green-job.js';
import { doGreenJobs } from './green-pool.js';

/** A green that a book or a day needs, with the hole locations and the green speed it is needed for. */
export interface WantedGreen {
  readonly hole: Hole;
  readonly locations: readonly PlacedHoleLocation[];
  /** Metres of stimp reading. */
  readonly stimp: number;
  /** Whether its content tells lanes and leaves. */
  readonly regions?: boolean;
}

/** Told of each green as it becomes ready. */
export type OnProgress = (label: string, done: number, total: number) => void;

const SILENT: OnProgress = () => {};

export interface GreenOfBook {
  readonly hole: Hole;
  readonly content: GreenContent;
  readonly fit: StoredFit;
}

/** The cache of a course's greens under the folder that its products go to. */
export const openCourseCache = (out: string, courseName: string): Cache =>
  openCache(join(out, '.cache', courseName));

/** All greens of the course that have a survey, at their own locations and speed. */
export const greensOfBook = (course: Course): WantedGreen[] => {
  const wanted = course.holes.flatMap((hole): WantedGreen[] =>
    hole.green === null
      ? []
      : [{ hole, locations: hole.green.locations, stimp: hole.green.stimp, regions: true }],
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
const framed = (site: GreenSite): { readonly outline: Ring; readonly drains: Point[] } => ({
  outline: ringInFrame(site.frame, site.outline),
  drains: site.drains.map(([x, y]) => toGreenFrame(site.frame, x, y)),
});

const groundOf = async (course: Course, hole: Hole): Promise<Ground> => {
  const { survey, outline } = await readGreenGround(course, hole);
  return { ...groundOfSurvey(survey), outline };
};

/** Where a green's fit and reading are kept, and under which keys. */
interface Kept {
  readonly fitName: string;
  readonly fitKey: string;
  readonly readingName: string;
  readonly readingKey: string;
}

const keptAs = (
  course: Course,
  hole: Hole,
  options: Partial<ReadingOptions>,
  program: string,
): Kept => {
  const fit = fitKey(course, siteOf(hole), program);
  const reading = readingKey(fit, options);
  const style = readingKey('', { ...options, drains: [] }).slice(0, 8);
  const stem = `green-${encodeURIComponent(hole.id)}`;
  return {
    fitName: `${stem}.fit`,
    fitKey: fit,
    // One file for each way of reading, so that layouts do not displace each other's.
    readingName: `${stem}-${style}.reading`,
    readingKey: reading,
  };
};

/**
 * Fits, reads and solves greens; what the cache holds of fits and readings is not made again. In the
 * order wanted.
 *
 * @throws InputFault for the first green whose survey is damaged or too thin.
 */
export const prepareGreens = async (
  course: Course,
  wanted: readonly WantedGreen[],
  layout: Layout,
  cache: Cache,
  onProgress: OnProgress = SILENT,
): Promise<GreenOfBook[]> => {
  const { bandThresholds, contourInterval } = layout.green;
  const { lengths, past, speeds } = layout.tables;
  const wantsMaps = layout.pages['break-map'] !== undefined;
  const wantsStations = layout.pages.station !== undefined;
  const program = cache.folder === null ? '' : programDigest();
  const kept: Kept[] = [];
  const jobs: GreenJob[] = [];
  for (const { hole, locations, stimp, regions = false } of wanted) {
    const site = siteOf(hole);
    const readOptions = { bandThresholds, contourInterval, drains: framed(site).drains };
    const at = keptAs(course, hole, readOptions, program);
    const fit = recall<StoredFit>(cache, at.fitName, at.fitKey);
    kept.push(at);
    jobs.push({
      source: site.survey.file,
      place: `hole ${hole.id}`,
      ground: fit === null ? await groundOf(course, hole) : null,
      fit,
      reading: recall<Reading>(cache, at.readingName, at.readingKey),
      readOptions,
      request:
        locations.length === 0
          ? null
          : {
              locations,
              lengths,
              past,
              stimps: [stimp, ...speeds],
              regions,
              breakMaps: wantsMaps,
              stations: wantsStations,
            },
    });
  }
  let ready = 0;
  const results = await doGreenJobs(jobs, (i, { fit, reading }) => {
    ready += 1;
    onProgress(`green ${wanted[i].hole.id}, ${wanted[i].hole.name}`, ready, jobs.length);
    if (jobs[i].fit === null) keep(cache, kept[i].fitName, kept[i].fitKey, fit);
    if (jobs[i].reading === null) keep(cache, kept[i].readingName, kept[i].readingKey, reading);
  });
  return wanted.map(({ hole, stimp }, i): GreenOfBook => {
    const { fit, reading, locations } = results[i];
    return {
      hole,
      fit,
      content: {
        holeId: hole.id,
        name: hole.name,
        par: hole.par,
        ...framed(siteOf(hole)),
        reading,
        locations,
        stimp,
        past,
      },
    };
  });
};
