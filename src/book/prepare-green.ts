import { type GreenWorth, overruledBy } from '../appraisal/worth.js';
import type { Course, Hole } from '../course/course.js';
import type { Notes } from '../event/notes-file.js';
import { InputFault } from '../fault.js';
import { fetchedRecord, withHeld } from '../fetched-record.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent } from '../page/book-content.js';
import type { UnitSystem } from '../units.js';
import type { Cache } from './cache.js';
import { type Digests, surveyDigest } from './cache-keys.js';
import { doubtfulShare } from './doubtful-share.js';
import {
  type GreenJob,
  type GreenResult,
  printedWorth,
  type RefusedPages,
  type StoredFit,
} from './green-job.js';
import { doGreenJobs } from './green-pool.js';
import type { GroundInShort } from './ground-in-short.js';
import { digestOfKeys, type KeptKeys, keepGreen, withSolved } from './kept-green.js';
import { planGreens, type ReadyGreen } from './planned-green.js';
import { GREENS_IN_MEMORY, openShelf, type Shelf } from './shelf.js';
import { surveyedReading } from './surveyed-only.js';
import { framed, siteOf, type WantedGreen } from './wanted-green.js';

/** Told of each green as it becomes ready. */
export type OnProgress = (label: string, done: number, total: number) => void;

const SILENT: OnProgress = () => {};

export interface PrepareOptions {
  /** In which the judgement of a green is worded. */
  readonly units?: UnitSystem;
  readonly onProgress?: OnProgress;
  /** As many as pay where it is left out; none: the thread that asks does all itself. */
  readonly threads?: number | undefined;
  /** Greens of which all is kept in memory; further ones lie in a file beside the cache until they are asked for. */
  readonly inMemory?: number | undefined;
  /** Asked once before anything is kept: what is wrong with the pages of greens. */
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

/** Where a run keeps what its greens tell: what is large of each, and its judgement, which lists of greens ask for alone. */
interface GreenShelves {
  readonly large: Shelf;
  readonly worths: Shelf;
}

/** A green with all that was made or kept of it; what takes memory is on the shelves. */
const greenOfBook = (
  { hole, stimp }: WantedGreen,
  { fit, ground, reading, locations, ...made }: ReadyGreen,
  { tables }: Layout,
  { large, worths }: GreenShelves,
): Pick<GreenOfBook, 'hole' | 'fit' | 'ground' | 'content'> => {
  const site = siteOf(hole);
  const worth = overruledBy(made.worth, site.trust);
  const { bring, isHeld } = large.put({
    fit,
    shown: { reading: surveyedReading(reading, worth.bare), locations },
  });
  const judged = worths.put<GreenWorth>({ ...worth, doubtfulCells: doubtfulShare(locations) });
  const { drains } = framed(site);
  const told = {
    holeId: hole.id,
    name: hole.name,
    par: hole.par,
    drains,
    stimp,
    past: tables.past,
  };
  const content: GreenContent = isHeld
    ? { ...told, outline: framed(site).outline, worth: judged.bring(), ...bring().shown }
    : fetchedRecord(told, {
        outline: () => framed(site).outline,
        worth: judged.bring,
        reading: () => bring().shown.reading,
        locations: () => bring().shown.locations,
      });
  const fitOf = (): StoredFit => {
    const { fit: stored } = bring();
    if (stored === null) throw new Error(`the fit of hole ${hole.id} was wanted in short`);
    return stored;
  };
  return fetchedRecord({ hole, ground, content }, { fit: fitOf });
};

const DONE = (): never => {
  throw new Error('the green is made already');
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
  options: PrepareOptions = {},
): Promise<GreenOfBook[]> => {
  const { units = 'imperial', onProgress = SILENT, threads, beforeSolving } = options;
  const most = options.inMemory ?? GREENS_IN_MEMORY;
  const [waiting, large, worths] = Array.from({ length: 3 }, () => openShelf(cache.folder, most));
  const digests: Digests = new Map();
  const together = { course, wanted, layout, units };
  const ready: GreenOfBook[] = [];
  let done = 0;
  const finish = (i: number, keys: KeptKeys, green: ReadyGreen): void => {
    const { hole } = wanted[i];
    ready[i] = withHeld(greenOfBook(wanted[i], green, layout, { large, worths }), {
      fitKey: keys.fit,
      surveyDigest: surveyDigest(course, siteOf(hole), digests),
      digest: digestOfKeys(keys),
    });
    done += 1;
    onProgress(`green ${hole.id}, ${hole.name}`, done, wanted.length);
  };
  const { planned, isLong } = await planGreens(together, cache, digests, waiting, finish);
  let refused: RefusedPages | undefined;
  const checkPages = async (): Promise<void> => {
    if (isLong) refused = await beforeSolving?.();
  };
  const jobs = planned.map(({ cost }, at) => ({
    cost,
    bring: (): GreenJob => ({ ...planned[at].bring().job, ...(refused && { refused }) }),
  }));
  const keep = (at: number, result: GreenResult): void => {
    const { i, keys, bring } = planned[at];
    const { kept, job } = bring();
    // What has waited is let go.
    planned[at] = { ...planned[at], bring: DONE };
    // The first of a thread was begun before pages were drawn.
    if (refused !== undefined) printedWorth({ trust: job.trust, refused }, result.worth);
    const ground = keepGreen(cache, keys, { job, kept }, result);
    const { reading, worth } = result;
    const fit = wanted[i].inShort === true ? null : result.fit;
    finish(i, keys, { fit, ground, reading, worth, locations: withSolved(kept, result.locations) });
  };
  await doGreenJobs(jobs, { keep, threads, beside: checkPages });
  return ready;
};
