import { PDFDict, PDFDocument, PDFHexString, PDFName, PDFString, rgb } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import { checkRules } from '../../src/check/rules-check.js';
import { text } from '../../src/page/kit/draw.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { ownLayout, samplePage, samplePages } from '../print/sample-pages.js';

const pocket = ownLayout('pocket');
const words = { fonts: openFonts(), title: 'Test', language: 'en' };
const pages = samplePages(pocket, 4);
const plain = await writePdf(pages, pocket, { ...words, edition: 'plain' });
const [staple] = pocket.sheets.filter(({ scheme }) => scheme === 'saddle');
const sheets = await writeSheets(pages, pocket, staple, words);

const told = async (bytes: Uint8Array): Promise<[notes: string[], met: (boolean | null)[]]> => {
  const book = await readBook(bytes, 'test.pdf');
  const { practice, play, committee } = checkRules(book).conditions;
  const notes = preflight(book).filter(
    ({ rule, verdict }) => rule === 'as made' && verdict !== 'pass',
  );
  return [
    notes.map(({ verdict, page }) => `${verdict} ${page}`),
    [practice, play, committee].map(({ met }) => met),
  ];
};

const changed = async (
  bytes: Uint8Array,
  change: (document: PDFDocument) => unknown,
): Promise<[notes: string[], met: (boolean | null)[]]> => {
  const document = await PDFDocument.load(bytes, { updateMetadata: false });
  await change(document);
  return told(await document.save());
};

const foreign = async (width: number, height: number): Promise<PDFDocument> => {
  const document = await PDFDocument.create();
  const page = document.addPage([width, height]);
  page.drawCircle({ x: 100, y: 100, size: 40, color: rgb(0, 0.6, 0) });
  page.setTrimBox(0, 0, width, height);
  return document;
};

const addForeign = async (document: PDFDocument, width = 306, height = 504): Promise<void> => {
  const [page] = await document.copyPages(await foreign(width, height), [0]);
  document.addPage(page);
};

const OWN = [true, true, false];

describe('a file that says that this program made it', () => {
  it('is trusted while its pages draw what they were made with, and may be put in another order', async () => {
    expect(await told(plain)).toEqual([[], OWN]);
    expect(await told(sheets)).toEqual([[], OWN]);
    expect(await changed(plain, () => {})).toEqual([[], OWN]);
    const turned = async (document: PDFDocument): Promise<void> => {
      const [copy] = await document.copyPages(await PDFDocument.load(plain), [2]);
      document.insertPage(0, copy);
    };
    expect(await changed(plain, turned)).toEqual([[], OWN]);
  });

  it('is trusted in whatever manner another program writes its digests', async () => {
    for (const string of [
      (bytes: Uint8Array) => PDFHexString.of(Buffer.from(bytes).toString('hex')),
      (bytes: Uint8Array) =>
        PDFString.of([...bytes].map((b) => `\\${b.toString(8).padStart(3, '0')}`).join('')),
    ]) {
      const rewritten = (document: PDFDocument): void => {
        for (const { node } of document.getPages()) {
          const own = node.lookup(PDFName.of('PieceInfo'), PDFDict);
          const data = own.lookup(PDFName.of('Runnel'), PDFDict);
          const digest = data.lookup(PDFName.of('Private'), PDFHexString);
          data.set(PDFName.of('Private'), string(digest.asBytes()));
        }
      };
      expect(await changed(plain, rewritten)).toEqual([[], OWN]);
    }
  });

  it('cannot tell what a page of another file may show', async () => {
    expect(await changed(plain, (document) => addForeign(document))).toEqual([
      ['note 5'],
      [null, null, false],
    ]);
    // Too large is too large whoever made it; whether it says that it is for practice is not known.
    const large = await changed(plain, (document) => addForeign(document, 400, 600));
    expect(large).toEqual([['note 5'], [null, false, false]]);
  });

  it('cannot tell of a page that was drawn over, in its content or above it', async () => {
    const over = await changed(plain, (document) =>
      document.getPage(1).drawCircle({ x: 100, y: 100, size: 40, color: rgb(0, 0.6, 0) }),
    );
    expect(over).toEqual([['note 2'], [null, null, false]]);
    const stamp = (entries: object) => (document: PDFDocument) => {
      const { context } = document;
      const look = context.register(context.formXObject([], {}));
      const note = context.obj({
        Type: 'Annot',
        ...entries,
        Rect: [0, 0, 90, 90],
        AP: { N: look },
      });
      document.getPage(2).node.set(PDFName.of('Annots'), context.obj([context.register(note)]));
    };
    expect((await changed(plain, stamp({ Subtype: 'Stamp' })))[0]).toEqual(['note 3']);
    expect((await changed(plain, stamp({ Subtype: 'Link' })))[0]).toEqual(['note 3']);
  });

  it('cannot tell of a sheet on which a page was put in the place of another', async () => {
    const other = samplePage(0, 107.95, 177.8, [text([30, 60], 'other', 'text', 9)]);
    const others = await writeSheets([other, ...pages.slice(1)], pocket, staple, words);
    const swapped = await changed(sheets, async (document) => {
      const from = await PDFDocument.load(others);
      const [copy] = await document.copyPages(from, [0]);
      const [own] = document.getPages();
      const objects = PDFName.of('XObject');
      own.node.Resources()!.set(objects, copy.node.Resources()!.lookup(objects)!);
    });
    expect(swapped).toEqual([['note 1'], [null, null, false]]);
  });
});
