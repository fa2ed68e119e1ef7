import { readdirSync, rmdirSync, rmSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { InputFault, quoted } from '../fault.js';
import { readOwnFile } from '../named-file.js';
import { pack, unpack } from './packed-value.js';
import { sweep, writeUnflushed } from './write-beside.js';

/**
 * Results that are dear to compute, one a file, named by its key (a digest of all that the result depends
 * on) and kind: courses, copies of a course and runs share whatever is the same. A file holds, each on a line
 * of ASCII: what it is, the key, and a digest of the bytes that follow. It counts only when all three are
 * right: what is cut short or flipped is made again and written over.
 */
export interface Cache {
  /** Null: nothing is kept. */
  readonly folder: string | null;
}

export const KINDS = [
  'fit',
  'ground',
  'reading',
  'worth',
  'putts',
  'shapes',
  'pages',
  'streams',
  'drawn',
  'made',
  'course',
  'told',
  'settled',
  'figures',
  'bars',
] as const;
export type Kind = (typeof KINDS)[number];

const MEGABYTE = 1024 ** 2;
/** What a cache holds at most where the environment does not say: about fifty courses of eighteen holes. */
const LIMIT = 2048;

/**
 * What a cache may hold, bytes: RUNNEL_CACHE_MB megabytes.
 *
 * @throws InputFault where that is no number of megabytes.
 */
export const cacheLimit = (told = process.env.RUNNEL_CACHE_MB): number => {
  const megabytes = told === undefined || told.trim() === '' ? LIMIT : Number(told);
  if (megabytes >= 0 && Number.isFinite(megabytes)) return megabytes * MEGABYTE;
  throw new InputFault(
    { file: 'environment', place: 'RUNNEL_CACHE_MB' },
    `${quoted(told)} is no number of megabytes`,
    `leave it out for ${LIMIT}, or write digits`,
  );
};

/** A cache in a folder, which is made at the first write; clears what killed runs left there, and what is over its bound. */
export const openCache = (folder: string, limit = cacheLimit()): Cache => {
  sweep(folder);
  trimCache(folder, limit);
  return { folder };
};

const pathOf = (folder: string, kind: Kind, key: string): string =>
  join(folder, `${key.slice(0, 40)}.${kind}`);

/** What the cache holds of this kind under this key; null when that is nothing to be trusted. */
export const recall = <T>(cache: Cache, kind: Kind, key: string): T | null => {
  if (cache.folder === null) return null;
  const path = pathOf(cache.folder, kind, key);
  let bytes: Buffer;
  try {
    bytes = readOwnFile(path);
    // What was used last is kept longest, whether or not the file system notes it.
    utimesSync(path, new Date(), statSync(path).mtime);
  } catch {
    return null;
  }
  return unpack(bytes, key) as T | null;
};

/** Keeps plain data (what the structured clone algorithm copies) under a key. */
export const keep = ({ folder }: Cache, kind: Kind, key: string, value: unknown): void => {
  if (folder !== null) writeUnflushed(pathOf(folder, kind, key), pack(value, key));
};

/** A file of the cache. */
export interface KeptFile {
  readonly path: string;
  readonly kind: Kind;
  readonly bytes: number;
  /** When it was written or used last, milliseconds. */
  readonly used: number;
}

const isKind = (ending: string): ending is Kind => (KINDS as readonly string[]).includes(ending);

/** The files of a cache, those that are used least lately first; what is not the cache's own is left out. */
export const keptFiles = (folder: string): KeptFile[] => {
  let names: string[];
  try {
    names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  } catch {
    return [];
  }
  return names
    .flatMap((name): KeptFile[] => {
      const kind = name.slice(name.lastIndexOf('.') + 1);
      const path = join(folder, name);
      const found = isKind(kind) ? statSync(path, { throwIfNoEntry: false }) : undefined;
      if (!isKind(kind) || found?.isFile() !== true) return [];
      return [{ path, kind, bytes: found.size, used: Math.max(found.atimeMs, found.mtimeMs) }];
    })
    .sort((a, b) => a.used - b.used || (a.path < b.path ? -1 : 1));
};

/** Of the bound, what is left once the cache is over it: not every run is to clear a little. */
const AFTER_TRIM = 0.8;

/** Removes what is used least lately from a cache that holds more than `limit` bytes. */
const trimCache = (folder: string, limit: number): void => {
  const files = keptFiles(folder);
  let held = files.reduce((sum, { bytes }) => sum + bytes, 0);
  if (held <= limit) return;
  for (const { path, bytes } of files) {
    if (held <= AFTER_TRIM * limit) return;
    rmSync(path, { force: true });
    held -= bytes;
  }
};

/** Removes all files of a cache, and its folders that are empty then; gives what was removed. */
export const clearCache = (folder: string): KeptFile[] => {
  sweep(folder);
  const files = keptFiles(folder);
  for (const { path } of files) rmSync(path, { force: true });
  try {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      if (entry.isDirectory()) removeEmpty(join(folder, entry.name));
    }
  } catch {
    return files;
  }
  removeEmpty(folder);
  return files;
};

const removeEmpty = (folder: string): void => {
  try {
    rmdirSync(folder);
  } catch {
    // Something of someone else's is in it.
  }
};
