import { PDFiumLibrary } from '@hyzyla/pdfium';
import { preflight } from '../../src/check/preflight.js';
import { readBook } from '../../src/check/read-book.js';
import { measureWith, openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { ownLayout, samplePages } from '../print/sample-pages.js';

const PAGES = 80;

const timed = async (work: () => unknown): Promise<number> => {
  const start = process.hrtime.bigint();
  await work();
  return Number(process.hrtime.bigint() - start) / 1e6;
};

/** Writing, opening and checking a book of invented pages; the reference is the plain edition. */
export const run = async (): Promise<void> => {
  const pocket = ownLayout('pocket');
  const pages = samplePages(pocket, PAGES);
  const fontTime = await timed(() => measureWith(openFonts())('warm', 'text', 8));
  const fonts = openFonts();
  const words = { fonts, title: 'Bench', language: 'en' };
  await writePdf(pages, pocket, { ...words, edition: 'plain' });
  let plain: Uint8Array = new Uint8Array();
  const reference = await timed(async () => {
    plain = await writePdf(pages, pocket, { ...words, edition: 'plain' });
  });
  const rows: [string, number][] = [
    ['open the typefaces', fontTime],
    ['plain edition', reference],
    [
      'screen edition, tagged',
      await timed(() => writePdf(pages, pocket, { ...words, edition: 'screen' })),
    ],
    ['press edition', await timed(() => writePdf(pages, pocket, { ...words, edition: 'press' }))],
    ['booklet sheets', await timed(() => writeSheets(pages, pocket, pocket.sheets[2], words))],
    ['read back and check', await timed(async () => preflight(await readBook(plain, 'bench')))],
  ];
  const library = await PDFiumLibrary.init();
  rows.push([
    'open, draw the first page',
    await timed(async () => {
      const document = await library.loadDocument(plain);
      await document.getPage(0).render({ scale: 2, render: async ({ data }) => data });
      document.destroy();
    }),
  ]);
  library.destroy();
  process.stdout.write(`${PAGES} pages, ${(plain.length / 1e6).toFixed(2)} MB\n`);
  for (const [name, ms] of rows) {
    process.stdout.write(
      `${name.padEnd(28)} ${ms.toFixed(0).padStart(6)} ms  ${(ms / reference).toFixed(2).padStart(6)} of the plain edition\n`,
    );
  }
};
