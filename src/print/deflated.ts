import { createHash } from 'node:crypto';
import { deflateSync } from 'node:zlib';
import type { PDFContext, PDFRawStream } from 'pdf-lib';

/** Streams kept and their bytes, the oldest given up first: the pages of one book several times over. */
const MOST = { streams: 2048, bytes: 24 * 1024 ** 2 };

/** By the digest of what they hold. */
const known = new Map<string, Uint8Array>();

let held = 0;

/** What was asked for since the last start and is known still, and what was taken over at it. */
const asked = new Set<string>();
let taken: ReadonlyMap<string, Uint8Array> = new Map();
let isNew = false;

const noteAsked = (key: string): void => {
  isNew ||= !taken.has(key);
  asked.add(key);
};

const remember = (key: string, bytes: Uint8Array): void => {
  if (known.has(key)) return;
  known.set(key, bytes);
  held += bytes.length;
  for (const [first, { length }] of known) {
    if (known.size <= MOST.streams && held <= MOST.bytes) break;
    known.delete(first);
    asked.delete(first);
    held -= length;
  }
};

/** Starts a book, with what an earlier run has packed. */
export const startStreams = (before: ReadonlyMap<string, Uint8Array>): void => {
  asked.clear();
  taken = before;
  isNew = false;
  for (const [key, bytes] of before) remember(key, bytes);
};

/** The streams of the book since its start; null where all of them were taken over. */
export const streamsAsked = (): ReadonlyMap<string, Uint8Array> | null => {
  if (!isNew) return null;
  return new Map(
    [...asked].flatMap((key) => {
      const bytes = known.get(key);
      return bytes === undefined ? [] : [[key, bytes] as const];
    }),
  );
};

const keyOf = (raw: Uint8Array): string => createHash('sha256').update(raw).digest('base64');

const bytesOf = (content: string | Uint8Array): Uint8Array =>
  typeof content === 'string' ? Buffer.from(content, 'latin1') : content;

/** The key of a stream of that content. */
export const streamKey = (content: string | Uint8Array): string => keyOf(bytesOf(content));

/** A stream as it is written, with the key of what it holds. */
export interface PackedStream {
  readonly key: string;
  readonly packed: Uint8Array;
}

/** A stream that is known, so that what it holds is neither unpacked nor digested again; null where it is not. */
export const recallStream = (key: string): PackedStream | null => {
  const packed = known.get(key);
  return packed === undefined ? null : { key, packed };
};

const packedOnce = (key: string, pack: () => Uint8Array): Uint8Array => {
  const before = known.get(key);
  if (before !== undefined) return before;
  const packed = pack();
  remember(key, packed);
  return packed;
};

/** Packs a content; what was packed before is taken as it was. */
export const packedStream = (content: string | Uint8Array): PackedStream => {
  const raw = bytesOf(content);
  const key = keyOf(raw);
  // What zlib gives is a view of 16 kB at least, which it would hold: a copy is as long as it is.
  return { key, packed: packedOnce(key, () => new Uint8Array(deflateSync(raw))) };
};

/** What the PDF library packs in its own way, and slowly: what was packed so before is taken as it was. */
export const packedByLibrary = (context: PDFContext, raw: Uint8Array): Uint8Array => {
  const key = `library ${keyOf(raw)}`;
  noteAsked(key);
  return packedOnce(key, () => (context.flateStream(raw) as PDFRawStream).contents);
};

/**
 * A compressed stream. The sheets of a book hold the same pages again and again, and compressing them is
 * most of the work of making a file: what was compressed before is taken as it was. Node's own deflate
 * takes a seventh of the time of the PDF library's.
 */
export const deflatedStream = (
  context: PDFContext,
  content: string | Uint8Array | PackedStream,
  dictionary: Record<string, unknown>,
): PDFRawStream => {
  const isRaw = typeof content === 'string' || content instanceof Uint8Array;
  const { key, packed } = isRaw ? packedStream(content) : content;
  noteAsked(key);
  return context.stream(packed, { ...dictionary, Filter: 'FlateDecode' } as never);
};
