import { type KnownPages, type PackedPage, startKnownPages } from '../check/known-pages.js';
import { startStreams, streamsAsked } from '../print/deflated.js';
import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';
import { type PageMemories, type RememberedPage, startPageMemories } from './remembered-pages.js';

/** What earlier runs leave of pages. */
export interface KeptPages {
  /** Those that the check has read. */
  readonly known: KnownPages;
  /** Those that were composed. */
  readonly memories: PageMemories;
}

const keyOf = (kind: 'pages' | 'streams' | 'drawn', of: readonly string[]): string =>
  digestOfParts([kind, wholeProgramDigest(), ...of]);

/**
 * The pages that the check has read in an earlier run: what has changed since is read, and all else passes as it
 * passed. What was composed and packed of them is taken over, too. They lie under the names of the course and the layout,
 * and each counts by its own digest only.
 */
export const recallPages = (cache: Cache, of: readonly string[]): KeptPages => {
  const kept = <T>(kind: 'pages' | 'streams' | 'drawn'): ReadonlyMap<string, T> | undefined =>
    cache.folder === null ? undefined : (recall(cache, kind, keyOf(kind, of)) ?? undefined);
  startStreams(kept<Uint8Array>('streams') ?? new Map());
  return {
    known: startKnownPages(kept<PackedPage>('pages')),
    memories: startPageMemories(kept<RememberedPage>('drawn')),
  };
};

/** Keeps the pages of a run whose products passed their check. */
export const keepPages = (
  cache: Cache,
  of: readonly string[],
  { known, memories }: KeptPages,
): void => {
  if (cache.folder === null) return;
  for (const [kind, pages] of [
    ['pages', known.give()],
    ['streams', streamsAsked()],
    ['drawn', memories.give()],
  ] as const) {
    if (pages !== null) keep(cache, kind, keyOf(kind, of), pages);
  }
};
