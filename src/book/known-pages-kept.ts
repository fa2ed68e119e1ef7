import { type KnownPages, type PackedPage, startKnownPages } from '../check/known-pages.js';
import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';

const keyOf = (of: readonly string[]): string =>
  digestOfParts(['pages', wholeProgramDigest(), ...of]);

/**
 * The pages that the check has read in an earlier run: what has changed since is read, and all else passes as it passed.
 * They lie under the names of the course and the layout, and each counts by its own digest only.
 */
export const recallKnown = (cache: Cache, of: readonly string[]): KnownPages =>
  startKnownPages(
    cache.folder === null
      ? undefined
      : (recall<ReadonlyMap<string, PackedPage>>(cache, 'pages', keyOf(of)) ?? undefined),
  );

/** Keeps what was read in a run whose products passed their check. */
export const keepKnown = (cache: Cache, of: readonly string[], known: KnownPages): void => {
  const pages = cache.folder === null ? null : known.give();
  if (pages !== null) keep(cache, 'pages', keyOf(of), pages);
};
