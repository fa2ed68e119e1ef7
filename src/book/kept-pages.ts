import { type KnownPages, type PageInShort, startKnownPages } from '../check/known-pages.js';
import { startStreams, streamsAsked } from '../print/deflated.js';
import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';

const keyOf = (kind: 'pages' | 'streams', of: readonly string[]): string =>
  digestOfParts([kind, wholeProgramDigest(), ...of]);

/**
 * The pages that the check has read in an earlier run: what has changed since is read, and all else passes as it
 * passed. What was packed of them is taken over, too. They lie under the names of the course and the layout, and each
 * counts by its own digest only.
 */
export const recallPages = (cache: Cache, of: readonly string[]): KnownPages => {
  const kept =
    cache.folder === null
      ? null
      : recall<ReadonlyMap<string, PageInShort>>(cache, 'pages', keyOf('pages', of));
  startStreams(
    recall<ReadonlyMap<string, Uint8Array>>(cache, 'streams', keyOf('streams', of)) ?? new Map(),
  );
  return startKnownPages(kept ?? undefined);
};

/** Keeps the pages of a run whose products passed their check. */
export const keepPages = (cache: Cache, of: readonly string[], known: KnownPages): void => {
  const pages = cache.folder === null ? null : known.give();
  if (pages !== null) keep(cache, 'pages', keyOf('pages', of), pages);
  const streams = cache.folder === null ? null : streamsAsked();
  if (streams !== null) keep(cache, 'streams', keyOf('streams', of), streams);
};
