import { deflateSync } from 'node:zlib';
import { PDFDocument } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { loadPdf } from '../../src/check/load-pdf.js';
import { INPUT_LIMITS } from '../../src/input-limits.js';

/** A file of the objects 1 to 3 in a stream of objects (ISO 32000-1, 7.5.7), as other programs write them. */
const OBJECTS = [
  '<< /Type /Catalog /Pages 2 0 R >>',
  '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
  '<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 100] >>',
];
const stream = (number: number, dictionary: string, data: Uint8Array | string): Buffer => {
  const packed = deflateSync(data);
  const head = `${number} 0 obj\n<< ${dictionary} /Filter /FlateDecode /Length ${packed.length} >>\nstream\n`;
  return Buffer.concat([Buffer.from(head), packed, Buffer.from('\nendstream\nendobj\n')]);
};

interface Parts {
  readonly head?: string;
  readonly objects?: string;
  readonly count?: number;
  readonly entries?: string;
  readonly more?: readonly Buffer[];
}

const starts = OBJECTS.map((_, i) => OBJECTS.slice(0, i).join(' ').length + (i > 0 ? 1 : 0));
const HEAD = starts.map((start, i) => `${i + 1} ${start}`).join(' ');

const pdfOf = ({ head = HEAD, objects = OBJECTS.join(' '), ...rest }: Parts = {}): Buffer => {
  const { count = OBJECTS.length, entries = '/Size 6', more = [] } = rest;
  const first = `/Type /ObjStm /N ${count} /First ${head.length + 1}`;
  const refs = `/Type /XRef /Root 1 0 R /W [1 2 1] ${entries}`;
  return Buffer.concat([
    ...[Buffer.from('%PDF-1.5\n'), stream(4, first, `${head} ${objects}`), ...more],
    ...[stream(5, refs, Buffer.alloc(24)), Buffer.from('startxref\n0\n%%EOF\n')],
  ]);
};

const load = (bytes: Uint8Array): Promise<PDFDocument> =>
  loadPdf(bytes, { throwOnInvalidObject: true });

describe('PDFs of other programs', () => {
  it('reads objects in streams, in any order of their places', async () => {
    const backwards = HEAD.match(/\d+ \d+/g)!
      .reverse()
      .join(' ');
    for (const head of [HEAD, backwards]) {
      const [page] = (await load(pdfOf({ head }))).getPages();
      expect(page.getSize()).toEqual({ width: 200, height: 100 });
    }
  });

  it('reads what the library writes so', async () => {
    const made = await PDFDocument.create();
    for (let k = 0; k < 120; k++) made.addPage([100 + k, 50]).drawText('page');
    const read = await load(await made.save({ useObjectStreams: true }));
    expect(read.getPages().map((page) => page.getWidth())).toEqual(
      Array.from({ length: 120 }, (_, k) => 100 + k),
    );
  });

  it('unpacks no more than its limit, in one stream or in several', async () => {
    const blanks = ' '.repeat(INPUT_LIMITS.pdfObjects / 2 + 1);
    const half = { objects: OBJECTS.join(' ') + blanks };
    expect((await load(pdfOf(half))).getPageCount()).toBe(1);
    const more = [stream(6, '/Type /ObjStm /N 0 /First 0', blanks)];
    await expect(load(pdfOf({ ...half, more }))).rejects.toThrow();
    await expect(load(pdfOf({ objects: blanks + blanks }))).rejects.toThrow();
  });

  it('makes no more entries and objects than there are bytes for', async () => {
    for (const entries of [
      '/Size 900000000',
      '/Size 6 /Index [0 900000000]',
      '/Size 6 /Index [0 900000000 0 -900000000]',
    ]) {
      await expect(load(pdfOf({ entries }))).rejects.toThrow();
    }
    await expect(load(pdfOf({ count: 900_000_000 }))).rejects.toThrow();
  });

  it('reads a list once that many objects start with', async () => {
    // As many times as long as there are objects: hours, were each read to its end.
    const many = Array.from({ length: 20_000 }, (_, k) => `${k + 10} ${starts[2]}`).join(' ');
    const long = `[${'0 '.repeat(400_000)}]`;
    const objects = `${OBJECTS.slice(0, 2).join(' ')} ${long}`;
    await expect(load(pdfOf({ head: many, objects, count: 20_000 }))).rejects.toThrow();
  });
});
