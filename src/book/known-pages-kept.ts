import { type KnownPages, type PackedPage, startKnownPages } from '../check/known-pages.js';
import { type Cache, keep, recall } from './cache.js';
import { pagesKey } from './cache-keys.js';
import { openByteShelf } from './shelf.js';

/** What pages in short take in memory, beside those that further runs are given, before they go to a file of the run; bytes. */
const IN_SHORT = 2 * 1024 ** 2;

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
    openByteShelf(cache.folder, IN_SHORT),
  );

/** Keeps what was read in a run whose products passed their check. */
export const keepKnown = (cache: Cache, of: readonly string[], known: KnownPages): void => {
  const pages = cache.folder === null ? null : known.give();
  if (pages !== null) keep(cache, 'pages', pagesKey('pages', of), pages);
};
