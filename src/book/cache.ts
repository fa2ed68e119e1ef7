import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pack, unpack } from './packed-value.js';
import { sweep, writeBeside } from './write-beside.js';

/**
 * Results that are dear to compute, one a file. A file holds, each on a line of ASCII: what it is, the
 * key (a digest of all that the result depends on), and a digest of the bytes that follow. It counts
 * only when all three are right: what is stale, cut short or flipped is made again and written over.
 */
export interface Cache {
  /** Null: nothing is kept. */
  readonly folder: string | null;
}

/** A cache in a folder, which is made at the first write; clears what killed runs left there. */
export const openCache = (folder: string): Cache => {
  sweep(folder);
  return { folder };
};

/** What the cache holds by this name under this key; null when that is nothing to be trusted. */
export const recall = <T>(cache: Cache, name: string, key: string): T | null => {
  if (cache.folder === null) return null;
  let bytes: Buffer;
  try {
    bytes = readFileSync(join(cache.folder, name));
  } catch {
    return null;
  }
  return unpack(bytes, key) as T | null;
};

/** Keeps plain data (what the structured clone algorithm copies) under a key. */
export const keep = (cache: Cache, name: string, key: string, value: unknown): void => {
  if (cache.folder !== null) writeBeside(join(cache.folder, name), pack(value, key));
};
