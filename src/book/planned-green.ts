import type { Course, GreenGround, Hole } from '../course/course.js';
import { fileOfCourse } from '../course/course-files.js';
import { readOptionsOf } from '../course/green-ground.js';
import { groundReader } from '../course/shared-surveys.js';
import type { Layout } from '../layout/layout.js';
import { othersTurn } from '../others-turn.js';
import type { UnitSystem } from '../units.js';
import type { Cache } from './cache.js';
import type { Digests } from './cache-keys.js';
import type { GreenJob, GreenResult, StoredFit } from './green-job.js';
import { costOf } from './green-pool.js';
import type { GroundInShort } from './ground-in-short.js';
import {
  type KeptGreen,
  type KeptKeys,
  keysOfGreen,
  recallFit,
  recallGreen,
} from './kept-green.js';
import { withLikelyReading } from './likely-reading.js';
import type { Shelf } from './shelf.js';
import { framed, requestOf, siteOf, type WantedGreen } from './wanted-green.js';

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

/** Milliseconds of work: what is left to do in less is done before the pages of a book have been drawn to check them. */
const WORTH_EARLY_CHECK = 1500;

/** A green as far as it is known before anything is made, and what is left to do. */
interface KnownGreen {
  readonly kept: KeptGreen;
  readonly job: GreenJob;
}

/** The same, of which all that is large waits on the shelf for its turn. */
export interface PlannedGreen {
  /** Its place among those that are wanted. */
  readonly i: number;
  readonly keys: KeptKeys;
  /** Of the job. */
  readonly cost: number;
  readonly bring: () => KnownGreen;
}

/** Takes a green of which nothing is left to do. */
type TakeReady = (i: number, keys: KeptKeys, green: ReadyGreen) => void;

/** What its pages show of a green, with its fit where that was read or made. */
export interface ReadyGreen extends Omit<GreenResult, 'fit'> {
  readonly fit: StoredFit | null;
  readonly ground: GroundInShort;
}

/** All that is kept, where nothing has to be made and the fit itself is not asked for. */
const readyOfKept = ({ ground, reading, worth, putts }: KeptGreen): ReadyGreen | null =>
  ground === null || reading === null || worth === null
    ? null
    : { fit: null, ground, reading, worth, locations: putts.filter((one) => one !== null) };

/** The greens that are made together. */
export interface WantedGreens {
  readonly course: Course;
  readonly wanted: readonly WantedGreen[];
  readonly layout: Layout;
  readonly units: UnitSystem;
}

/**
 * Reads all surveys, and what the cache holds, before the first green is fitted. A green that is kept whole is taken at once, so
 * that no more is held of it than its pages need; the others are planned. `isLong`: whether it pays to draw pages early.
 *
 * @throws InputFault for the first green whose survey cannot be read.
 */
export const planGreens = async (
  { course, wanted, layout, units }: WantedGreens,
  cache: Cache,
  digests: Digests,
  shelf: Shelf,
  take: TakeReady,
): Promise<{ readonly planned: PlannedGreen[]; readonly isLong: boolean }> => {
  const { bandThresholds, contourInterval } = layout.green;
  const readGround = groundReader(
    course,
    wanted.map(({ hole }) => hole),
  );
  const planned: PlannedGreen[] = [];
  let isLong = false;
  let work = 0;
  for (const [i, wantedGreen] of wanted.entries()) {
    await othersTurn();
    const { hole, inShort = false } = wantedGreen;
    const site = siteOf(hole);
    const readOptions = { bandThresholds, contourInterval, drains: framed(site).drains };
    const asked = requestOf(wantedGreen, layout);
    const of = { site, options: readOptions, units, request: asked };
    const keys = keysOfGreen(course, of, cache, digests);
    const kept = recallGreen(cache, keys);
    const locations = asked?.locations.filter((_, k) => kept.putts[k] === null) ?? [];
    const request = asked === null || locations.length === 0 ? null : { ...asked, locations };
    const ready = inShort && request === null ? readyOfKept(kept) : null;
    if (ready !== null) {
      take(i, keys, ready);
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
    const cost = costOf(job);
    if (request !== null) work += cost;
    // Drawing all pages takes longer than a few putts do.
    isLong ||= request !== null && (fit === null || work > WORTH_EARLY_CHECK);
    const isMeasured = fit === null || kept.worth === null;
    const measured = isMeasured ? await measuredOn(course, hole, await readGround(hole)) : null;
    const { bring } = shelf.put<KnownGreen>({ kept, job: { ...job, measured } });
    planned.push({ i, keys, cost, bring });
  }
  return { planned, isLong };
};
