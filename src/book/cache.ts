import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
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

const KIND = 'runnel-cache 1';
const NEWLINE = 10;

const digestOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** A cache in a folder, which is made at the first write; clears what killed runs left there. */
export const openCache = (folder: string): Cache => {
  sweep(folder);
  return { folder };
};

const lineAt = (bytes: Buffer, from: number): { readonly line: string; readonly next: number } => {
  const end = bytes.indexOf(NEWLINE, from);
  return end < 0
    ? { line: '', next: bytes.length }
    : { line: bytes.toString('latin1', from, end), next: end + 1 };
};

/** The content of a file's bytes; null unless they are whole and made under the same key. */
export const unpack = (bytes: Buffer, key: string): unknown => {
  const kind = lineAt(bytes, 0);
  const madeFor = lineAt(bytes, kind.next);
  const digest = lineAt(bytes, madeFor.next);
  if (kind.line !== KIND || madeFor.line !== key) return null;
  const content = bytes.subarray(digest.next);
  return digestOf(content) === digest.line ? deserialize(content) : null;
};

export const pack = (value: unknown, key: string): Buffer => {
  const content = serialize(value);
  const head = `${KIND}\n${key}\n${digestOf(content)}\n`;
  return Buffer.concat([Buffer.from(head, 'latin1'), content]);
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
