import { PDFContext, PDFNumber, PDFRef } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/file-bytes.js';
import { startParts } from '../../src/print/document-parts.js';
import { startParentTree } from '../../src/print/parent-tree.js';
import { packedFile } from '../../src/print/write-document.js';

/** Owners of keys, given in an order that is not theirs: lists, lists of none, and elements alone. */
const noted: readonly (readonly [key: number, owners: readonly number[] | number])[] = [
  [2, 17],
  [3, 4_000_000],
  [0, [5, 6, 7]],
  [1, []],
  ...Array.from({ length: 300 }, (_, i) => {
    const list = Array.from({ length: i % 40 }, (_, k) => i + k);
    return [305 - i, i % 3 === 0 ? 9 * i : list] as const;
  }),
];

describe('the parent tree of a tagged document', () => {
  const tree = startParentTree();
  for (const [key, owners] of noted) tree.note(key, owners);

  it('is written in the order of its keys, as the library writes the same, and keys without an element are left out', () => {
    const context = PDFContext.create();
    const numbers = [...new Map(noted)]
      .sort(([a], [b]) => a - b)
      .flatMap(([key, owners]) => [
        PDFNumber.of(key),
        typeof owners === 'number'
          ? PDFRef.of(owners)
          : context.obj(owners.map((one) => PDFRef.of(one))),
      ]);
    expect([...tree.pieces()].join('')).toBe(`${context.obj({ Nums: numbers })}`);
    expect(new Map(noted).has(5)).toBe(false);
  });

  it('is an object of a file like one that the library gives, though it comes in pieces', () => {
    const file = (give: (context: PDFContext, parts: ReturnType<typeof startParts>) => void) => {
      const context = PDFContext.create();
      const parts = startParts(context);
      give(context, parts);
      context.trailerInfo.Root = context.register(context.obj({ Type: 'Catalog' }));
      return Buffer.from(wholeOf(packedFile(parts)));
    };
    const inPieces = file((context, parts) => {
      parts.noteText(context.nextRef().objectNumber, ['<<\n/Nums [ ', '', '0 [ 7 0 R ] ', ']\n>>']);
    });
    const given = file((context) => {
      context.register(context.obj({ Nums: [0, [PDFRef.of(7)]] }));
    });
    expect(inPieces.equals(given)).toBe(true);
  });
});
