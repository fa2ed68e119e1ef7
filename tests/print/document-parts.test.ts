import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFContext, PDFStreamWriter, PDFWriter } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { openLazily } from '../../src/check/lazy-objects.js';
import { wholeOf } from '../../src/file-bytes.js';
import { startBytes } from '../../src/print/byte-store.js';
import { startParts } from '../../src/print/document-parts.js';
import { packedFile, plainFile } from '../../src/print/write-document.js';

/** Numbers from 0 to 1 by a linear congruential generator; seed 160000. */
const numbersFrom = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
};

/** Some hundred objects, streams among them, given in any order and with numbers that none has. */
const fill = (context: PDFContext): void => {
  const next = numbersFrom(160_000);
  const refs = Array.from({ length: 700 }, () => context.nextRef());
  const pages = context.nextRef();
  for (const ref of refs.toSorted(() => next() - 0.5)) {
    if (next() < 0.1) continue;
    const told = { A: next(), Of: [ref, null, true], Parent: pages };
    const text = 'q Q '.repeat(Math.floor(40_000 * next() ** 8));
    context.assign(ref, next() < 0.2 ? context.stream(text, told) : context.obj(told));
  }
  const kids = Array.from({ length: 5 }, (_, i) =>
    context.register(context.obj({ Type: 'Page', Parent: pages, N: i })),
  );
  context.assign(pages, context.obj({ Type: 'Pages', Kids: kids, Count: 5 }));
  context.trailerInfo.Root = context.register(context.obj({ Type: 'Catalog', Pages: pages }));
  context.trailerInfo.Info = context.register(context.obj({ Trapped: 'False' }));
  context.trailerInfo.ID = context.obj(['a', 'b']);
};

describe('a document that is written part by part', () => {
  const whole = PDFContext.create();
  fill(whole);
  const context = PDFContext.create();
  let stored = 0;
  const parts = startParts(context, (block) => {
    stored += block.length;
    const copy = Buffer.from(block);
    return () => copy;
  });
  fill(context);

  it('is the file, to the byte, that the library writes of all of it, and nothing of it is held', async () => {
    const library = await PDFStreamWriter.forContext(whole, 1e9, true, 100).serializeToBuffer();
    expect(Buffer.compare(wholeOf(packedFile(parts)), library)).toBe(0);
    const table = await PDFWriter.forContext(whole, 1e9).serializeToBuffer();
    // The library always writes the header of PDF 1.7.
    Buffer.from(table.buffer, table.byteOffset).write('%PDF-1.4', 'latin1');
    expect(Buffer.compare(wholeOf(plainFile(parts)), table)).toBe(0);
    expect(context.enumerateIndirectObjects()).toEqual([]);
    expect(stored).toBeGreaterThan(0);
  });

  it('is read back object by object, in both forms', () => {
    const folder = mkdtempSync(join(tmpdir(), 'runnel-parts-'));
    const file = openSync(join(folder, 'both'), 'w+');
    const files = [packedFile(parts), plainFile(parts)].map(wholeOf);
    // Each from memory, and from a file in which they lie one behind the other.
    const at = [3, 3 + files[0].length];
    for (const [i, bytes] of files.entries()) writeSync(file, bytes, 0, bytes.length, at[i]);
    const inFile = files.map(({ length }, i) => ({ descriptor: file, at: at[i], length }));
    for (const bytes of [...files, ...inFile]) {
      const { context: read, pages } = openLazily(bytes);
      expect(Array.from(pages(), (page) => `${page.lookup(page.keys()[2])}`)).toEqual(
        Array.from('01234'),
      );
      for (const [ref, object] of whole.enumerateIndirectObjects()) {
        expect(`${read.lookup(ref)}`, ref.tag).toBe(`${object}`);
      }
    }
    expect(() => openLazily({ ...inFile[0], length: files[0].length + 5 })).toThrow();
    closeSync(file);
    rmSync(folder, { recursive: true });
  });

  it('refuses to be read where its end is gone or it has been added to', () => {
    const bytes = wholeOf(plainFile(parts));
    expect(() => openLazily(bytes.subarray(0, bytes.length - 40))).toThrow('no cross-reference');
    const cut = Buffer.concat([bytes.subarray(0, 300), bytes.subarray(400)]);
    expect(() => openLazily(cut)).toThrow();
  });
});

describe('a store of bytes', () => {
  it('gives back every stretch, also over the ends of blocks', () => {
    const next = numbersFrom(160_001);
    const store = startBytes();
    const all: Buffer[] = [];
    const places: [number, number][] = [];
    for (let i = 0; i < 60; i++) {
      const bytes = Buffer.from(
        Uint8Array.from({ length: Math.floor(70_000 * next()) }, (_, k) => k * i),
      );
      places.push([store.append(bytes), bytes.length]);
      all.push(bytes);
    }
    for (const [i, [at, length]] of places.entries()) {
      expect(Buffer.compare(store.read(at, length), all[i])).toBe(0);
    }
    const joined = Buffer.concat(all);
    expect(Buffer.compare(store.read(1000, 900_000), joined.subarray(1000, 901_000))).toBe(0);
  });
});
