import { startStreams, streamsAsked } from '../print/deflated.js';
import { type Cache, keep, recall } from './cache.js';
import { pagesKey } from './cache-keys.js';
import { type PageMemories, type RememberedPage, startPageMemories } from './remembered-pages.js';

/**
 * What was composed of pages in an earlier run; what was packed of them is taken over, as are those that the check has read
 * (`recallKnown`). They lie under the names of the course and the layout, and each counts by its own digest only.
 */
export const recallPages = (cache: Cache, of: readonly string[]): PageMemories => {
  const kept = <T>(kind: 'streams' | 'drawn'): ReadonlyMap<string, T> | undefined =>
    cache.folder === null ? undefined : (recall(cache, kind, pagesKey(kind, of)) ?? undefined);
  startStreams(kept<Uint8Array>('streams') ?? new Map());
  return startPageMemories(kept<RememberedPage>('drawn'));
};

/** Keeps the pages of a run whose products passed their check. */
export const keepPages = (cache: Cache, of: readonly string[], memories: PageMemories): void => {
  if (cache.folder === null) return;
  for (const [kind, pages] of [
    ['streams', streamsAsked()],
    ['drawn', memories.give()],
  ] as const) {
    if (pages !== null) keep(cache, kind, pagesKey(kind, of), pages);
  }
};
