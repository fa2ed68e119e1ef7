import { PDFArray, PDFDict, PDFDocument, PDFName, type PDFNumber, PDFString } from 'pdf-lib';
import { describe, expect, it } from 'vitest';
import type { LinkMark, Page } from '../../src/page/marks/marks.js';
import { openFonts } from '../../src/print/fonts.js';
import { writePdf } from '../../src/print/pdf.js';
import { ownLayout, samplePage } from './sample-pages.js';

/** What a reader on a screen can click on (ISO 32000-1, 12.3.3 and 12.5.6.5). */

const HEIGHT = 177.8;
const page = (i: number, title: string, marks: readonly LinkMark[] = []): Page => ({
  ...samplePage(i),
  id: `p${i}`,
  title,
  height: HEIGHT,
  marks: [...samplePage(i).marks, ...marks],
});

const link: LinkMark = {
  kind: 'link',
  box: { x: 10, y: 20, width: 30, height: 5 },
  toPage: 'p2',
};

const written = async (): Promise<PDFDocument> =>
  PDFDocument.load(
    await writePdf(
      [page(0, 'Cover'), page(1, 'Card', [link]), page(2, 'Putts'), page(3, 'Putts')],
      ownLayout('pocket'),
      { fonts: openFonts(), title: 'Links', language: 'en', edition: 'screen' },
    ),
  );

describe('a screen edition', () => {
  it('has a link where the page has it, counted from the foot in points', async () => {
    const document = await written();
    const annotations = document.getPage(1).node.lookup(PDFName.of('Annots'), PDFArray);
    expect(annotations.size()).toBe(1);
    const rect = annotations.lookup(0, PDFDict).lookup(PDFName.of('Rect'), PDFArray);
    const mm = rect.asArray().map((value) => ((value as PDFNumber).asNumber() * 25.4) / 72);
    [10, HEIGHT - 25, 40, HEIGHT - 20].forEach((expected, i) => {
      expect(mm[i]).toBeCloseTo(expected, 3);
    });
    expect(document.getPage(0).node.lookup(PDFName.of('Annots'))).toBeUndefined();
  });

  it('has a bookmark for each title, once where pages share it', async () => {
    const document = await written();
    const titles: string[] = [];
    let item = document.catalog
      .lookup(PDFName.of('Outlines'), PDFDict)
      .lookup(PDFName.of('First')) as PDFDict | undefined;
    while (item !== undefined) {
      titles.push(item.lookup(PDFName.of('Title'), PDFString).decodeText());
      item = item.lookup(PDFName.of('Next')) as PDFDict | undefined;
    }
    expect(titles).toEqual(['Cover', 'Card', 'Putts']);
  });
});
