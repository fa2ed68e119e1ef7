import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fileBytesOf, inPieces, wholeOf } from '../src/file-bytes.js';

const root = mkdtempSync(join(tmpdir(), 'pieces-'));
const bytes = Uint8Array.from({ length: 700_001 }, (_, i) => (i * 31 + (i >> 8)) & 255);
let descriptor = -1;
beforeAll(() => {
  writeFileSync(join(root, 'made'), bytes);
  descriptor = openSync(join(root, 'made'), 'r');
});
afterAll(() => {
  closeSync(descriptor);
  rmSync(root, { recursive: true, force: true });
});

describe('the pieces of a stretch of a file', () => {
  it.each([
    [0, 700_001],
    [3, 2 ** 18],
    [17, 2 ** 18 + 1],
    [699_000, 1_001],
    [5, 0],
  ])('from %i, %i bytes, are all of it', (at, length) => {
    const stretch = bytes.subarray(at, at + length);
    const part = inPieces(fileBytesOf({ descriptor, at, length }));
    expect(Buffer.from(wholeOf(part)).equals(stretch)).toBe(true);
    // They come again, and from memory alike.
    expect(Buffer.from(wholeOf(part)).equals(stretch)).toBe(true);
    expect(Buffer.from(wholeOf(inPieces(fileBytesOf(stretch)))).equals(stretch)).toBe(true);
  });

  it('come in memory of one piece, however many there are', () => {
    const memories = new Set<ArrayBufferLike>();
    const pieces = inPieces(fileBytesOf({ descriptor, at: 0, length: bytes.length })).pieces();
    for (const piece of pieces) memories.add(piece.buffer);
    expect(memories.size).toBe(1);
  });

  it('that ends before they do are a fault', () => {
    const part = inPieces(fileBytesOf({ descriptor, at: 699_000, length: 5_000 }));
    expect(() => wholeOf(part)).toThrow('a file of the run has been cut short');
  });
});
