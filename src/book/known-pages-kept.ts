import { type KnownPages, type PackedPage, startKnownPages } from '../check/known-pages.js';
import { type Cache, keep, recall } from './cache.js';
import { pagesKey } from './cache-keys.js';

/**
 * The pages that the check has read in an earlier run: what has changed since is read, and all else passes as it passed.
 * They lie under the names of the course and the layout, and each counts by its own digest only.
 */
export const recallKnown = (cache: Cache, of: readonly string[]): KnownPages =>
  startKnownPages(
    cache.folder === null
      ? undefined
      : (recall<ReadonlyMap<string, PackedPage>>(cache, 'pages', pagesKey('pages', of)) ??
          undefined),
  );

/** Keeps what was read in a run whose products passed their check. */
export const keepKnown = (cache: Cache, of: readonly string[], known: KnownPages): void => {
  const pages = cache.folder === null ? null : known.give();
  if (pages !== null) keep(cache, 'pages', pagesKey('pages', of), pages);
};
