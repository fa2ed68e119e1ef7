import { readSync } from 'node:fs';

/** The bytes of a file, which need not be in memory. */
export interface FileBytes {
  readonly length: number;
  /** A stretch of them, which is not to be written to; as much of it as there is. */
  readonly read: (from: number, to: number) => Uint8Array;
}

/** A stretch of an open file: plain data, by which any thread of the process reads it. */
export interface FilePart {
  readonly descriptor: number;
  readonly at: number;
  readonly length: number;
}

/** Bytes that come one piece after the other, each to be used before the next is asked for. */
export interface PiecedBytes {
  readonly length: number;
  readonly pieces: () => Iterable<Uint8Array>;
}

/** Bytes of a piece. */
const PIECE = 2 ** 18;

/**
 * Reads a stretch of an open file.
 *
 * @throws an error for a file that ends before the stretch does.
 */
export const readPart = ({ descriptor, at, length }: FilePart): Buffer => {
  const bytes = Buffer.alloc(length);
  for (let done = 0; done < length; ) {
    const got = readSync(descriptor, bytes, done, length - done, at + done);
    if (got === 0) throw new Error('a file of the run has been cut short');
    done += got;
  }
  return bytes;
};

/** The bytes of a part, read as they are asked for, or those that are in memory. */
export const fileBytesOf = (bytes: Uint8Array | FilePart): FileBytes => {
  if (bytes instanceof Uint8Array) {
    return { length: bytes.length, read: (from, to) => bytes.subarray(from, to) };
  }
  // It holds the part itself, by which whoever opened the file knows that it is read.
  return {
    length: bytes.length,
    read: (from, to) => {
      const { descriptor, at, length } = bytes;
      const end = Math.min(to, length);
      return readPart({ descriptor, at: at + from, length: Math.max(0, end - from) });
    },
  };
};

/** All of the bytes, piece by piece. */
export const inPieces = ({ length, read }: FileBytes): PiecedBytes => ({
  length,
  *pieces() {
    for (let at = 0; at < length; at += PIECE) yield read(at, at + PIECE);
  },
});

/** Bytes in memory as one piece. */
export const onePiece = (bytes: Uint8Array): PiecedBytes => ({
  length: bytes.length,
  pieces: () => [bytes],
});

/** All of the bytes in memory. */
export const wholeOf = ({ length, pieces }: PiecedBytes): Uint8Array => {
  // Not of Buffer's pool, since it may be sent to another thread.
  const whole = new Uint8Array(Buffer.allocUnsafeSlow(length).buffer);
  let at = 0;
  for (const piece of pieces()) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
};

/** Makes pieces of one size of those that come; each piece is the same memory, written anew. */
export function* gathered(parts: Iterable<Uint8Array>): Generator<Uint8Array> {
  const piece = new Uint8Array(PIECE);
  let end = 0;
  for (const part of parts) {
    for (let done = 0; done < part.length; ) {
      const count = Math.min(PIECE - end, part.length - done);
      piece.set(part.subarray(done, done + count), end);
      [end, done] = [end + count, done + count];
      if (end < PIECE) continue;
      yield piece;
      end = 0;
    }
  }
  if (end > 0) yield piece.subarray(0, end);
}
