import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';

/** The digest of a file's bytes: SHA-256, in hexadecimal digits. */
export const fileDigest = (bytes: Uint8Array): string =>
  createHash('sha256').update(bytes).digest('hex');

const CHUNK = 1 << 20;

/** Made once: the system gives new memory slowly. */
let chunk: Buffer | undefined;

/** Digest of a file's bytes, of any size. */
export const digestOfFile = (path: string): string => {
  const hash = createHash('sha256');
  chunk ??= Buffer.allocUnsafeSlow(CHUNK);
  const file = openSync(path, 'r');
  try {
    for (;;) {
      const got = readSync(file, chunk, 0, CHUNK, null);
      if (got === 0) return hash.digest('hex');
      hash.update(chunk.subarray(0, got));
    }
  } finally {
    closeSync(file);
  }
};
