import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import type { PiecedBytes } from '../file-bytes.js';

/** The digest of a file's bytes: SHA-256, in hexadecimal digits. */
export const fileDigest = (bytes: Uint8Array): string =>
  createHash('sha256').update(bytes).digest('hex');

/** The same of bytes that come piece by piece. */
export const digestOfPieces = ({ pieces }: Pick<PiecedBytes, 'pieces'>): string => {
  const hash = createHash('sha256');
  for (const piece of pieces()) hash.update(piece);
  return hash.digest('hex');
};

/** Bytes that are read of a file at a time. */
const AT_A_TIME = 2 ** 18;

/**
 * The same of a file, of which no more than a piece is held.
 *
 * @throws the system's error.
 */
export const digestOfFile = (path: string): string => {
  const hash = createHash('sha256');
  const piece = Buffer.allocUnsafe(AT_A_TIME);
  const file = openSync(path, 'r');
  try {
    for (;;) {
      const got = readSync(file, piece, 0, AT_A_TIME, null);
      if (got === 0) return hash.digest('hex');
      hash.update(piece.subarray(0, got));
    }
  } finally {
    closeSync(file);
  }
};
