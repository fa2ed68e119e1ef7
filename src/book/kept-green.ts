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
  };
};

export const digestOfKeys = ({ fit, reading, worth, putts }: KeptKeys): string =>
  digestOfParts([fit, reading, worth, putts ?? '']);

/** What is kept of a green beside its fit; null for what has to be made. */
export interface KeptGreen {
  readonly ground: GroundInShort | null;
  readonly reading: Reading | null;
  readonly worth: GreenWorth | null;
  readonly putts: readonly LocationContent[] | null;
}

export const recallGreen = (cache: Cache, keys: KeptKeys): KeptGreen => ({
  ground: recall<GroundInShort>(cache, 'ground', keys.fit),
  reading: recall<Reading>(cache, 'reading', keys.reading),
  worth: recall<GreenWorth>(cache, 'worth', keys.worth),
  putts: keys.putts === null ? null : recall<LocationContent[]>(cache, 'putts', keys.putts),
});

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
  if (job.request !== null && keys.putts !== null) keep(cache, 'putts', keys.putts, locations);
  return ground;
};
