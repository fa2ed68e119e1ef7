import type { GreenWorth } from '../appraisal/worth.js';
import type { Course, GreenSite } from '../course/course.js';
import type { LocationContent } from '../page/book-content.js';
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
  worthKey,
} from './cache-keys.js';
import type { GreenJob, GreenResult, HolesRequest, StoredFit } from './green-job.js';
import { type GroundInShort, groundInShort } from './ground-in-short.js';

/** The keys under which what is made of a green is kept. */
export interface KeptKeys {
  readonly fit: string;
  readonly reading: string;
  readonly worth: string;
  /** Null where no putts are asked for. */
  readonly putts: string | null;
  /** The hole locations that putts are asked for, each in a word of its own. */
  readonly places: readonly string[];
}

export interface AskedOfGreen {
  readonly site: GreenSite;
  readonly options: Partial<ReadingOptions>;
  readonly units: UnitSystem;
  readonly request: HolesRequest | null;
}

export const keysOfGreen = (
  course: Course,
  { site, options, units, request }: AskedOfGreen,
  cache: Cache,
  digests: Digests,
): KeptKeys => {
  const fit = fitKey(course, site, cache.folder === null ? '' : programDigest(), digests);
  return {
    fit,
    reading: readingKey(fit, options),
    worth: worthKey(fit, units),
    putts: request === null ? null : puttsKey(fit, site.trust, request),
    places: request?.locations.map((place) => JSON.stringify(place)) ?? [],
  };
};

export const digestOfKeys = ({ fit, reading, worth, putts, places }: KeptKeys): string =>
  digestOfParts([fit, reading, worth, putts ?? '', ...places]);

/** What is kept of a green beside its fit; null for what has to be made. */
export interface KeptGreen {
  readonly ground: GroundInShort | null;
  readonly reading: Reading | null;
  readonly worth: GreenWorth | null;
  /** Of each hole location that is asked for. */
  readonly putts: readonly (LocationContent | null)[];
}

/** Hole locations of a green that are kept together: those of a book and of some weeks. */
const MOST_PLACES = 24;

type PuttsByPlace = ReadonlyMap<string, LocationContent>;

const recallPutts = (cache: Cache, { putts }: KeptKeys): PuttsByPlace =>
  (putts === null ? null : recall<PuttsByPlace>(cache, 'putts', putts)) ?? new Map();

/** Keeps the putts of the locations asked for before those that were asked for earlier. */
const keepPutts = (cache: Cache, keys: KeptKeys, solved: readonly LocationContent[]): void => {
  if (keys.putts === null) return;
  const asked = keys.places.map((place, i) => [place, solved[i]] as const);
  const rest = [...recallPutts(cache, keys)].filter(([place]) => !keys.places.includes(place));
  keep(
    cache,
    'putts',
    keys.putts,
    new Map([...asked, ...rest].slice(0, Math.max(MOST_PLACES, asked.length))),
  );
};

/** The putts of all locations asked for: those that were kept, and in their order those that were not. */
export const withSolved = (
  { putts }: KeptGreen,
  solved: readonly LocationContent[],
): LocationContent[] => {
  let next = 0;
  return putts.map((one) => one ?? solved[next++]);
};

export const recallGreen = (cache: Cache, keys: KeptKeys): KeptGreen => {
  const known = recallPutts(cache, keys);
  return {
    ground: recall<GroundInShort>(cache, 'ground', keys.fit),
    reading: recall<Reading>(cache, 'reading', keys.reading),
    worth: recall<GreenWorth>(cache, 'worth', keys.worth),
    putts: keys.places.map((place) => known.get(place) ?? null),
  };
};

export const recallFit = (cache: Cache, keys: KeptKeys): StoredFit | null =>
  recall<StoredFit>(cache, 'fit', keys.fit);

/** Keeps what a job has made beside what is kept of its green already; gives the ground in short. */
export const keepGreen = (
  cache: Cache,
  keys: KeptKeys,
  { job, kept }: { readonly job: GreenJob; readonly kept: KeptGreen },
  { fit, reading, worth, locations }: GreenResult,
): GroundInShort => {
  const ground = kept.ground ?? groundInShort(fit);
  if (job.fit === null) keep(cache, 'fit', keys.fit, fit);
  if (kept.ground === null) keep(cache, 'ground', keys.fit, ground);
  if (kept.reading === null) keep(cache, 'reading', keys.reading, reading);
  if (kept.worth === null) keep(cache, 'worth', keys.worth, worth);
  if (job.request !== null) keepPutts(cache, keys, withSolved(kept, locations));
  return ground;
};
