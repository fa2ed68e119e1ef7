import { createHash } from 'node:crypto';
import { type FilePart, fileBytesOf, inPieces, onePiece, type PiecedBytes } from '../file-bytes.js';
import { fileDigest } from './file-digest.js';

/** Bytes that a run has put away, in memory or in a file of its own. */
export interface StoredBytes {
  readonly where: Uint8Array | FilePart;
  /** SHA-256, in hexadecimal digits. */
  readonly sha256: string;
  /** All of them in memory. */
  readonly bring: () => Uint8Array;
}

interface MadeFile {
  readonly bytes: Uint8Array;
}

/** Beside the file that is made, not in it: what goes to another thread or run is its bytes. */
const stored = new WeakMap<MadeFile, StoredBytes>();

/** Notes where a file's bytes are put away. */
export const notePlace = <T extends MadeFile>(file: T, place: StoredBytes): T => {
  stored.set(file, place);
  return file;
};

/** The length of a made file, which is not brought into memory for it. */
export const byteLengthOf = (file: MadeFile): number =>
  (stored.get(file)?.where ?? file.bytes).length;

/** Its digest: SHA-256, in hexadecimal digits. */
export const digestOf = (file: MadeFile): string =>
  stored.get(file)?.sha256 ?? fileDigest(file.bytes);

/** Its bytes, of which no more than a piece is brought at a time. */
export const piecesOf = (file: MadeFile): PiecedBytes => {
  const where = stored.get(file)?.where;
  return where === undefined ? onePiece(file.bytes) : inPieces(fileBytesOf(where));
};

/** Hands pieces on, and counts them into a digest. */
export const hashedPieces = ({
  length,
  pieces,
}: PiecedBytes): PiecedBytes & { readonly digest: () => string } => {
  const hash = createHash('sha256');
  return {
    length,
    *pieces() {
      for (const piece of pieces()) {
        hash.update(piece);
        yield piece;
      }
    },
    digest: () => hash.digest('hex'),
  };
};
