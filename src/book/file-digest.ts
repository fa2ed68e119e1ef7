import { createHash } from 'node:crypto';

/** The digest of a file's bytes: SHA-256, in hexadecimal digits. */
export const fileDigest = (bytes: Uint8Array): string =>
  createHash('sha256').update(bytes).digest('hex');
