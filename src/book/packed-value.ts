import { deserialize, serialize } from 'node:v8';
import { fileDigest } from './file-digest.js';

const KIND = 'runnel-cache 1';

const NEWLINE = 10;

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
  return fileDigest(content) === digest.line ? deserialize(content) : null;
};

/** The bytes of a file, in pieces that come one after the other. */
export const pack = (value: unknown, key: string): readonly Uint8Array[] => {
  const content = serialize(value);
  const head = `${KIND}\n${key}\n${fileDigest(content)}\n`;
  return [Buffer.from(head, 'latin1'), content];
};
