import { readSync } from 'node:fs';

/** The bytes of a file, which need not be in memory. */
export interface FileBytes {
  readonly length: number;
  /** A stretch of them, which is not to be written to; as much of it as there is. */
  readonly read: (from: number, to: number) => Uint8Array;
  /** Of a file: reads what begins at a place into bytes that are there; gives those that it has filled. */
  readonly readInto?: (from: number, bytes: Uint8Array) => Uint8Array;
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
  fillFrom(descriptor, at, bytes);
  return bytes;
};

const fillFrom = (descriptor: number, at: number, bytes: Uint8Array): void => {
  for (let done = 0; done < bytes.length; ) {
    const got = readSync(descriptor, bytes, done, bytes.length - done, at + done);
    if (got === 0) throw new Error('a file of the run has been cut short');
    done += got;
  }
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
    readInto: (from, room) => {
      const { descriptor, at, length } = bytes;
      const filled = room.subarray(0, Math.max(0, Math.min(room.length, length - from)));
      fillFrom(descriptor, at + from, filled);
      return filled;
    },
  };
};

/** All of the bytes, piece by piece; those of a file come in the same memory, read anew. */
export const inPieces = ({ length, read, readInto }: FileBytes): PiecedBytes => ({
  length,
  *pieces() {
    const room = new Uint8Array(readInto === undefined ? 0 : Math.min(PIECE, length));
    for (let at = 0; at < length; at += PIECE) yield readInto?.(at, room) ?? read(at, at + PIECE);
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
