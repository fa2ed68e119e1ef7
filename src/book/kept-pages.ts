import { type Elements, giveBars, takeBars } from '../page/front/bars.js';
import { startStreams, streamsAsked } from '../print/deflated.js';
import { type Cache, keep, recall } from './cache.js';
import { pagesKey } from './cache-keys.js';
import type { ProductCheck } from './product-check.js';
import { type PageMemories, type RememberedPage, startPageMemories } from './remembered-pages.js';

/**
 * What was composed of pages in an earlier run; what was packed of them is taken over, as are those that the check has read
 * (`recallKnown`). They lie under the names of the course and the layout, and each counts by its own digest only.
 */
export const recallPages = (cache: Cache, of: readonly string[]): PageMemories => {
  const kept = <T>(kind: 'streams' | 'drawn' | 'bars'): ReadonlyMap<string, T> | undefined =>
    cache.folder === null ? undefined : (recall(cache, kind, pagesKey(kind, of)) ?? undefined);
  takeBars(kept<Elements>('bars') ?? new Map());
  startStreams(kept<Uint8Array>('streams') ?? new Map());
  return startPageMemories(kept<RememberedPage>('drawn'));
};

const keepDrawn = (cache: Cache, of: readonly string[], memories: PageMemories): void => {
  if (cache.folder === null) return;
  for (const [kind, pages] of [
    ['streams', streamsAsked()],
    ['drawn', memories.give()],
    ['bars', giveBars()],
  ] as const) {
    if (pages !== null) keep(cache, kind, pagesKey(kind, of), pages);
  }
};

/** Keeps the pages of a run whose products passed their check. A fault waits for both that keep, so that no file is left half written. */
export const keepPages = async (
  check: Pick<ProductCheck, 'keep'>,
  cache: Cache,
  of: readonly string[],
  memories: PageMemories,
): Promise<void> => {
  const drawn = async (): Promise<void> => keepDrawn(cache, of, memories);
  for (const ended of await Promise.allSettled([check.keep(), drawn()])) {
    if (ended.status === 'rejected') throw ended.reason;
  }
};
