import { decodePDFRawStream, PDFDocument, PDFName, PDFRawStream } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import { composeFirstSheet } from '../../src/page/front/first-sheet.js';
import { text } from '../../src/page/kit/draw.js';
import type { Page } from '../../src/page/marks/marks.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { ownLayout, samplePage } from './sample-pages.js';

const fonts = openFonts();
const pocket = ownLayout('pocket');
const words = { fonts, title: 'Test', language: 'en' };

/** The contents of the forms of a file, in their order. */
const formsOf = async (bytes: Uint8Array): Promise<string[]> => {
  const { context } = await PDFDocument.load(bytes, { updateMetadata: false });
  return context
    .enumerateIndirectObjects()
    .flatMap(([, object]) =>
      object instanceof PDFRawStream && object.dict.has(PDFName.of('BBox')) ? [object] : [],
    )
    .map((form) => Buffer.from(decodePDFRawStream(form).decode()).toString('latin1'));
};

const pagesSaying = (...said: readonly string[]): Page[] =>
  Array.from({ length: 4 }, (_, i) =>
    samplePage(
      i,
      107.95,
      177.8,
      said.flatMap((one, k) => [
        text([20, 30 + 10 * k], i === 0 ? one : 'Zebra 7½', 'text-bold', 9),
        text([20, 90 + 10 * k], i === 0 ? one : 'Ring 14″', 'note', 9),
      ]),
    ),
  );

describe('the content of a page', () => {
  it('is the same in every file of a book, and whatever the other pages say', async () => {
    const [first, ...more] = pocket.sheets.filter(({ inks }) => inks !== 'press');
    const forms = async (pages: readonly Page[], plan = first): Promise<string[]> =>
      formsOf(
        await writeSheets(pages, pocket, plan, {
          ...words,
          first: (sheet) => composeFirstSheet(pocket, plan, sheet, { measure: measureWith(fonts) }),
        }),
      );
    const pages = pagesSaying('sphinx of black quartz', 'judge my vow');
    const own = await forms(pages);
    for (const plan of more) expect(await forms(pages, plan)).toEqual(own);
    // The same letters in another order.
    const other = await forms(pagesSaying('judge my vow', 'sphinx of black quartz'));
    expect(other[0]).not.toEqual(own[0]);
    expect(other.slice(1)).toEqual(own.slice(1));
  });
});
