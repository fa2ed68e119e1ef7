import { type Cache, keep, recall } from './cache.js';
import { digestOfParts, wholeProgramDigest } from './cache-keys.js';
import type { RefusedPages } from './green-job.js';

const NONE_REFUSED: RefusedPages = { green: null, tables: null };

/**
 * Draws pages early where none like them has passed yet. Those that differ in what the key leaves out, as the green
 * speed, are left to the check at the end, which refuses whatever fails: to draw them takes as long as to solve them again.
 *
 * @param like all that early pages are made of, but for what hardly changes what they need of room.
 */
export const checkedEarly = async (
  cache: Cache,
  like: string,
  check: () => Promise<RefusedPages>,
): Promise<RefusedPages> => {
  const key = digestOfParts(['early', wholeProgramDigest(), like]);
  if (recall(cache, 'told', key) !== null) return NONE_REFUSED;
  const refused = await check();
  if (refused.green === null && refused.tables === null) keep(cache, 'told', key, true);
  return refused;
};
