import {
  BlendMode,
  degrees,
  fill,
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFOperator,
  PDFOperatorNames,
  type PDFRawStream,
  PDFString,
  rectangle,
  rgb,
  StandardFonts,
} from 'pdf-lib';
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { preflight } from '../../src/check/preflight.js';
import type { Finding } from '../../src/check/preflight-finding.js';
import { readBook } from '../../src/check/read-book.js';
import type { Layout } from '../../src/layout/layout.js';
import { circleSteps, fillPath, rule, stroke, text } from '../../src/page/kit/draw.js';
import { DARK, type Mark, type Page, TINT } from '../../src/page/marks/marks.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { writeSheets } from '../../src/print/sheet-pdf.js';
import { ownLayout, ownLayoutNames, samplePage, samplePages } from '../print/sample-pages.js';

const fonts = openFonts();
const words = { fonts, title: 'Test', language: 'en' };
const pocket = ownLayout('pocket');

const press = (pages: readonly Page[], layout: Layout = pocket): Promise<Uint8Array> =>
  writePdf(pages, layout, { ...words, edition: 'press' });

const check = async (pdf: Uint8Array): Promise<Finding[]> =>
  preflight(await readBook(pdf, 'test.pdf'));

const failures = async (pdf: Uint8Array): Promise<string[]> =>
  (await check(pdf)).filter((f) => f.verdict === 'fail').map((f) => `${f.rule}: ${f.words}`);

const withMarks = (...marks: Mark[]): Page[] =>
  Array.from({ length: 4 }, (_, i) => samplePage(i, 107.95, 177.8, i === 1 ? marks : []));

const plainPage = (i: number): Page => ({
  ...samplePage(i),
  marks: [text([50, 60], 'black', 'text', 9)],
});

/** A press file that something else has changed. */
const changed = async (change: (document: PDFDocument) => unknown): Promise<string[]> => {
  const document = await PDFDocument.load(await press(withMarks()), { updateMetadata: false });
  await change(document);
  const bytes = await document.save({ useObjectStreams: false });
  // pdf-lib writes every file as PDF 1.7.
  bytes.set(new TextEncoder().encode('%PDF-1.4'), 0);
  return failures(bytes);
};

describe('preflight', () => {
  it.each(ownLayoutNames())('%s: every product of ours passes', async (name) => {
    const layout = ownLayout(name);
    const pages = samplePages(layout, 7);
    for (const edition of ['screen', 'plain', 'press'] as const) {
      expect(await failures(await writePdf(pages, layout, { ...words, edition }))).toEqual([]);
    }
    for (const plan of layout.sheets) {
      expect(await failures(await writeSheets(pages, layout, plan, words))).toEqual([]);
    }
  });

  it('finds type that is too small, also when the page was made smaller', async () => {
    const small = withMarks(text([30, 60], 'tiny', 'text', 5.9));
    expect(await failures(await press(small))).toEqual([
      'type size: 1 text under 6 pt, the first "tiny" at 5.9 pt',
    ]);
    const shrunk = await changed((document) => document.getPage(0).scaleContent(0.3, 0.3));
    expect(shrunk.some((line) => line.startsWith('type size:'))).toBe(true);
  });

  it('finds words that run into each other, and leaves close lines alone', async () => {
    const close = withMarks(
      text([30, 60], 'one line', 'text', 8),
      text([30, 62.9], 'the next', 'text', 8),
      // Capitals that stand seven tenths of their size below each other do not touch yet.
      text([30, 66], 'UPPER', 'text', 8),
      text([30, 66 + 0.7 * 8 * (25.4 / 72)], 'LOWER', 'text', 8),
      text([45, 80], 'left', 'text', 8, { align: 'right' }),
      text([45.5, 80], 'right', 'text', 8),
    );
    const found = async (pages: Page[]) => failures(await press(pages));
    expect(await found(close)).toEqual([]);
    const clash = withMarks(
      text([30, 60], 'drain', 'text', 8),
      text([34, 60.4], 'stays wet', 'note', 8),
    );
    expect(await found(clash)).toEqual(['legibility: "drain" and "stays wet" run into each other']);
    // One that begins before both and reaches over both, drawn between them; pairs come in the order drawn.
    const across = withMarks(
      text([50, 60], 'late', 'text', 8),
      text([30, 60.2], 'reaches over all the others', 'text', 8),
      text([34, 60.4], 'mid', 'text', 8),
    );
    expect(await found(across)).toEqual([
      'legibility: "late" and "reaches over all the others" run into each other',
      'legibility: "reaches over all the others" and "mid" run into each other',
    ]);
  });

  it('finds lines that are too thin', async () => {
    const thin = withMarks(rule(20, 60, 60, 60, stroke(0.08)));
    expect(await failures(await press(thin))).toEqual([
      'line width: 1 line under 0.25 pt, the first 0.227 pt',
    ]);
  });

  it('finds fine lines and small type on more than one plate, and screens that no plate holds', async () => {
    const drawing = (content: string) => (document: PDFDocument) => {
      const stream = document.context.flateStream(content);
      document.getPage(1).node.addContentStream(document.context.register(stream));
    };
    const line = (width: number, colour: string) =>
      drawing(`q ${colour} K ${width} w 60 60 m 90 60 l S Q`);
    expect(await changed(line(0.5, '0.55 0.25 0 0'))).toEqual([
      'fine lines: 1 line under 1 pt on more than one plate, the first 0.5 pt on 2',
    ]);
    expect(await changed(line(0.5, '1 0 0 0'))).toEqual([]);
    expect(await changed(line(1.2, '0.55 0.25 0 0'))).toEqual([]);
    expect(await changed(drawing('q 0.3 0 0 0.04 k 60 60 9 9 re f Q'))).toEqual([
      'screens: 1 screen under 5 %, the lightest 4 %',
    ]);
    const inks = { ...pocket.inks, model: 'cmyk' } as const;
    // A dark ink that is a build itself: large type may be, small type and fine lines are not.
    const rich = { ...inks, dark: { name: 'Rich', cmyk: [0.4, 0, 0, 1] } } as const;
    const marks = [
      rule(20, 60, 60, 60, stroke(0.12, TINT)),
      rule(20, 70, 60, 70, stroke(0.6, TINT)),
      fillPath(circleSteps(40, 90, 5), { ink: 'tint', tone: 0.03 }),
      text([30, 110], 'small', 'text', 8),
      text([30, 130], 'large', 'title', 20),
    ];
    expect(await failures(await press(withMarks(...marks), { ...pocket, inks: rich }))).toEqual([]);
  });

  it('finds colours of a screen in a press file', async () => {
    const found = await changed((document) =>
      document
        .getPage(0)
        .drawRectangle({ x: 100, y: 100, width: 20, height: 20, color: rgb(1, 0, 0) }),
    );
    expect(found).toEqual(['colour: not a press colour: DeviceRGB']);
  });

  it('finds a colour that says no amount of ink', async () => {
    const found = await changed((document) =>
      document
        .getPage(0)
        .pushOperators(
          PDFOperator.of(PDFOperatorNames.NonStrokingColorGray),
          rectangle(100, 100, 20, 20),
          fill(),
        ),
    );
    expect(found).toContain('ink coverage: a colour does not say how much ink it takes');
  });

  it('counts no ink of the printer’s marks', async () => {
    // Black type that prints over bare paper, and marks on all plates.
    const found = await check(await press(Array.from({ length: 4 }, (_, i) => plainPage(i))));
    expect(found.find(({ rule }) => rule === 'ink coverage')?.words).toBe(
      '100 % at most, limit 300 %',
    );
  });

  it('finds print in the binding’s strip of a page on a sheet, by its number', async () => {
    const wire = ownLayout('practice-large');
    const pages = samplePages(wire, 2);
    const strip = [rule(8, 90, 14, 90, stroke(0.3))];
    const sheetOf = async (bound: number): Promise<string[]> =>
      failures(
        await writeSheets(
          pages.map((page, i) => ({ ...page, marks: i === bound ? strip : [] })),
          wire,
          wire.sheets[0],
          words,
        ),
      );
    // The left of a right-hand page is at the binding, that of a left-hand page is not.
    expect(await sheetOf(0)).toEqual(['margins: 1 mark lies in the clear strip at the binding']);
    expect(await sheetOf(1)).toEqual([]);
  });

  it('finds too much ink, counting what prints over what', async () => {
    const heavy: Layout = {
      ...pocket,
      inks: {
        model: 'cmyk',
        dark: { name: 'Dark', cmyk: [0.4, 0.3, 0.3, 1] },
        tint: { name: 'Tint', cmyk: [0.5, 0.4, 0.3, 0.2] },
      },
    };
    const marks = [fillPath(circleSteps(50, 80, 9), TINT), fillPath(circleSteps(50, 80, 3), DARK)];
    const found = await failures(await press(withMarks(...marks), heavy));
    expect(found).toEqual(['ink coverage: 340 % of ink on one spot']);
    const light: Layout = {
      ...heavy,
      inks: { ...heavy.inks, dark: { name: 'D', cmyk: [0, 0, 0, 1] } },
    };
    expect(await failures(await press(withMarks(...marks), light))).toEqual([]);
  });

  it('finds transparency', async () => {
    const found = await changed((document) =>
      document.getPage(0).drawRectangle({
        x: 100,
        y: 100,
        width: 20,
        height: 20,
        opacity: 0.5,
        blendMode: BlendMode.Multiply,
      }),
    );
    expect(found.filter((line) => line.startsWith('transparency:'))).toEqual([
      'transparency: opacity ca',
      'transparency: blend mode Multiply',
    ]);
  });

  it('finds the transparency of an image, of a page and of a form', async () => {
    const png = new PNG({ width: 400, height: 400 });
    png.data.fill(128);
    const masked = await changed(async (document) => {
      const image = await document.embedPng(PNG.sync.write(png));
      document.getPage(0).drawImage(image, { x: 100, y: 100, width: 72, height: 72 });
    });
    expect(masked).toContain('transparency: image with a soft mask');
    const group = { Type: 'Group', S: 'Transparency' };
    const grouped = await changed((document) =>
      document.getPage(0).node.set(PDFName.of('Group'), document.context.obj(group)),
    );
    expect(grouped).toContain('transparency: transparency group of the page');
    const form = await changed(async (document) => {
      const other = await PDFDocument.create();
      other.addPage([50, 50]).drawLine({ start: { x: 5, y: 5 }, end: { x: 40, y: 40 } });
      const [drawn] = await document.embedPdf(await other.save());
      document.getPage(0).drawPage(drawn, { x: 100, y: 100 });
      await document.flush();
      const stream = document.context.lookup(drawn.ref) as PDFRawStream;
      stream.dict.set(PDFName.of('Group'), document.context.obj(group));
    });
    expect(form).toContain('transparency: transparency group');
  });

  it('finds a typeface that is not embedded', async () => {
    const found = await changed(async (document) => {
      const font = await document.embedFont(StandardFonts.Helvetica);
      document.getPage(0).drawText('plain', { x: 100, y: 100, size: 9, font });
    });
    expect(found).toContain('fonts: Helvetica is not embedded');
  });

  it('finds an image of too few pixels', async () => {
    const png = new PNG({ width: 100, height: 100 });
    png.data.fill(255);
    const found = await changed(async (document) => {
      const image = await document.embedPng(PNG.sync.write(png));
      document.getPage(0).drawImage(image, { x: 100, y: 100, width: 72, height: 36 });
    });
    expect(found).toContain('images: an image has 100 pixels to an inch');
  });

  it('counts the pixels of an image along its own sides, turned or not, and wants 300 to an inch', async () => {
    const found = async (turn: number, columns: number, rows: number): Promise<string[]> =>
      (
        await changed(async (document) => {
          const png = new PNG({ width: columns, height: rows });
          png.data.fill(255);
          const image = await document.embedPng(PNG.sync.write(png));
          const box = { x: 110, y: 100, width: 72, height: 36, rotate: degrees(turn) };
          document.getPage(0).drawImage(image, box);
        })
      ).filter((line) => line.startsWith('images:'));
    for (const turn of [0, 90, 37]) {
      // One inch wide, half an inch high.
      expect(await found(turn, 250, 200)).toEqual(['images: an image has 250 pixels to an inch']);
      expect(await found(turn, 400, 140)).toEqual(['images: an image has 280 pixels to an inch']);
      expect(await found(turn, 300, 150)).toEqual([]);
    }
  });

  it('finds boxes that do not lie one in the other, and a bleed that is too small', async () => {
    expect(await changed((document) => document.getPage(0).setTrimBox(0, 0, 900, 900))).toContain(
      'boxes: the TrimBox is not inside the MediaBox',
    );
    expect(
      await changed((document) => {
        const page = document.getPage(0);
        const { x, y, width, height } = page.getTrimBox();
        page.setBleedBox(x, y, width, height);
      }),
    ).toContain('boxes: bleed of less than 3 mm');
  });

  it('names a box that is missing, or is none', async () => {
    const boxes = async (change: (node: PDFDict, document: PDFDocument) => void) =>
      (
        await changed((document) => {
          const { node } = document.getPage(1);
          change(node, document);
        })
      ).filter((line) => line.startsWith('boxes'));
    const without = (key: string) => boxes((node) => node.delete(PDFName.of(key)));
    expect(await without('MediaBox')).toContain('boxes: no MediaBox');
    expect(await without('TrimBox')).toEqual(['boxes: no TrimBox']);
    expect(await without('BleedBox')).toEqual(['boxes: no BleedBox']);
    const set = (key: string, value: unknown) =>
      boxes((node, { context }) => node.set(PDFName.of(key), context.obj(value as never)));
    for (const key of ['MediaBox', 'CropBox', 'BleedBox', 'TrimBox', 'ArtBox']) {
      for (const none of [[0, 0, 300], [0, 0, 300, 'x'], 7]) {
        expect(await set(key, none)).toContain(`boxes: the ${key} is not four numbers`);
      }
      expect(await set(key, [20, 20, 20, 500])).toContain(`boxes: the ${key} has no area`);
    }
    // A box that is none is told once, not as missing besides.
    expect(await set('TrimBox', [])).toEqual(['boxes: the TrimBox is not four numbers']);
    // Corners in another order are the same box (ISO 32000-1, 7.9.5).
    const turned = await boxes((node, { context }) => {
      const [x1, y1, x2, y2] = node.lookup(PDFName.of('TrimBox'), PDFArray).asArray();
      node.set(PDFName.of('TrimBox'), context.obj([x2, y1, x1, y2]));
    });
    expect(turned).toEqual([]);
    expect(await set('CropBox', [100, 100, 200, 200])).toEqual([
      'boxes: the CropBox hides a part of the page',
    ]);
    expect(await set('CropBox', [-9, 0, 900, 900])).toEqual([
      'boxes: the CropBox is not inside the MediaBox',
    ]);
    expect(await set('ArtBox', [100, 100, 200, 200])).toEqual(['boxes: a TrimBox and an ArtBox']);
  });

  it('takes the size of the paper, and where it is cropped, from the pages above', async () => {
    const found = await changed((document) => {
      const { node } = document.getPage(1);
      const above = node.lookup(PDFName.of('Parent'), PDFDict);
      above.set(PDFName.of('MediaBox'), node.get(PDFName.of('MediaBox'))!);
      above.set(PDFName.of('CropBox'), document.context.obj([100, 100, 200, 200]));
      node.delete(PDFName.of('MediaBox'));
    });
    expect(found).toEqual(Array(4).fill('boxes: the CropBox hides a part of the page'));
  });

  it('wants 3 millimetres of bleed, not points', async () => {
    const bleedOf = (mm: number) =>
      changed((document) => {
        const page = document.getPage(0);
        const { x, y, width, height } = page.getTrimBox();
        const by = (mm * 72) / 25.4;
        page.setBleedBox(x - by, y - by, width + 2 * by, height + 2 * by);
      });
    expect(await bleedOf(2.9)).toContain('boxes: bleed of less than 3 mm');
    expect(await bleedOf(3)).toEqual([]);
  });

  it('finds a single annotation in a press file', async () => {
    const found = await changed((document) => {
      const { context } = document;
      const note = context.register(context.obj({ Type: 'Annot', Subtype: 'Text' }));
      document.getPage(2).node.set(PDFName.of('Annots'), context.obj([note]));
    });
    expect(found).toContain('PDF/X: page 3 has annotations');
  });

  it('finds pages that differ in size', async () => {
    const found = await changed((document) => {
      const page = document.getPage(0);
      const { x, y, width, height } = page.getTrimBox();
      page.setTrimBox(x + 3, y, width - 3, height);
    });
    expect(found.some((line) => line.startsWith('trim: pages differ in size'))).toBe(true);
  });

  it('finds type near the trim, and print in the binding’s strip', async () => {
    expect(await failures(await press(withMarks(text([104, 60], 'over', 'text', 8))))).toContain(
      'margins: "over" is less than 3 mm inside the trim',
    );
    const wire = ownLayout('practice-large');
    const pages = samplePages(wire, 2);
    // The binding is at the left of a right-hand page.
    const bound = [{ ...pages[0], marks: [rule(8, 90, 14, 90, stroke(0.3))] }, pages[1]];
    expect(await failures(await press(bound, wire))).toEqual([
      'margins: 1 mark lies in the clear strip at the binding',
    ]);
  });

  it('finds a page count that the binding does not take, and a page missing from the sheets', async () => {
    expect(await changed((document) => document.removePage(3))).toEqual(
      expect.arrayContaining([
        'page count: 3 pages in the file of a book of 4',
        'page count: 3 pages: saddle stitch takes a multiple of 4',
      ]),
    );
    const sheets = await writeSheets(withMarks(), pocket, pocket.sheets[0], words);
    const document = await PDFDocument.load(sheets, { updateMetadata: false });
    document.removePage(1);
    expect(await failures(await document.save())).toContain(
      'page count: 2 pages on the sheets of 4 in the book',
    );
    // The last pages, so that those that are there count from 1 without a gap.
    const leaves = {
      ...pocket.sheets[0],
      scheme: 'leaves' as const,
      duplex: 'one side' as const,
      up: 1,
    };
    const loose = await PDFDocument.load(await writeSheets(withMarks(), pocket, leaves, words), {
      updateMetadata: false,
    });
    loose.removePage(loose.getPageCount() - 1);
    expect(await failures(await loose.save())).toContain(
      'page count: 3 pages on the sheets of 4 in the book',
    );
  });

  it('finds what PDF/X-1a forbids or wants', async () => {
    expect(await changed(({ catalog }) => catalog.delete(PDFName.of('OutputIntents')))).toContain(
      'PDF/X: no output intent',
    );
    expect(
      await changed(({ catalog, context }) =>
        catalog.set(
          PDFName.of('OpenAction'),
          context.obj({ S: 'JavaScript', JS: PDFString.of('') }),
        ),
      ),
    ).toContain('PDF/X: an action: OpenAction');
    expect(await changed(({ catalog }) => catalog.delete(PDFName.of('Lang')))).toContain(
      'document: without language',
    );
  });

  it('refuses what is no PDF, in one line', async () => {
    await expect(readBook(new TextEncoder().encode('name,x,y'), 'a.csv')).rejects.toThrow(
      'a.csv: this is not a PDF',
    );
    const cut = (await press(withMarks())).subarray(0, 900);
    await expect(readBook(cut, 'cut.pdf')).rejects.toThrow('cut.pdf: the PDF is broken');
  });
});
