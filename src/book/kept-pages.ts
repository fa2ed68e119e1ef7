import { startStreams, streamsAsked } from '../print/deflated.js';
import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';
import { type PageMemories, type RememberedPage, startPageMemories } from './remembered-pages.js';

/** What earlier runs leave of pages. */
export interface KeptPages {
  /** Those that were composed. */
  readonly memories: PageMemories;
}

const keyOf = (kind: 'streams' | 'drawn', of: readonly string[]): string =>
  digestOfParts([kind, wholeProgramDigest(), ...of]);

/**
 * What was composed and packed of pages in an earlier run is taken over, as are those that the check has read
 * (`recallKnown`). They lie under the names of the course and the layout, and each counts by its own digest only.
 */
export const recallPages = (cache: Cache, of: readonly string[]): KeptPages => {
  const kept = <T>(kind: 'streams' | 'drawn'): ReadonlyMap<string, T> | undefined =>
    cache.folder === null ? undefined : (recall(cache, kind, keyOf(kind, of)) ?? undefined);
  startStreams(kept<Uint8Array>('streams') ?? new Map());
  return {
    memories: startPageMemories(kept<RememberedPage>('drawn')),
  };
};

/** Keeps the pages of a run whose products passed their check. */
export const keepPages = (cache: Cache, of: readonly string[], { memories }: KeptPages): void => {
  if (cache.folder === null) return;
  for (const [kind, pages] of [
    ['streams', streamsAsked()],
    ['drawn', memories.give()],
  ] as const) {
    if (pages !== null) keep(cache, kind, keyOf(kind, of), pages);
  }
};
